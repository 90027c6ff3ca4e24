package loss

import (
	"math"

	"sextant/inverter"
	"sextant/inverter/device"
	"sextant/inverter/pattern"
)

// A Junction is the mean and the peak temperature of a junction, in °C.
type Junction struct{ Mean, Peak float64 }

// A Position is one of the bridge's six, with what it turns to heat and how warm it gets.
type Position struct {
	Losses
	SwitchJunction Junction
	DiodeJunction  Junction
	Case           float64 // mean, °C
}

// A Result is what [Of] finds.
type Result struct {
	Mean   Position // of one position: of all six, which at standstill differ, or of an upper and a lower one
	Upper  Position
	Lower  Position
	Differ bool // whether an upper and a lower one differ, over a turn

	// Standstill is each position's own, at frequency 0; nil else.
	Standstill map[inverter.Switch]Position

	Bridge float64 // heat of all six, W
	// Output is the power that the reference gives the machine, in W; below 0 where it generates. What drops
	// and dead time take from it is not taken off.
	Output float64

	Settling Settling
	Notices  []string // what makes the figures doubtful
}

// Efficiency returns the share of the power that went in which comes out at the other side, machine or
// supply; false where there is none.
func (r *Result) Efficiency() (float64, bool) {
	switch {
	case r.Output > 0:
		return r.Output / (r.Output + r.Bridge), true
	case -r.Output > r.Bridge:
		return (-r.Output - r.Bridge) / -r.Output, true
	}
	return 0, false
}

// Peak returns the temperature of the hottest junction, at its peak, in °C.
func (r *Result) Peak() float64 {
	peak := max(r.Upper.hottest(), r.Lower.hottest())
	for _, p := range r.Standstill {
		peak = max(peak, p.hottest())
	}
	return peak
}

func (p *Position) hottest() float64 { return max(p.SwitchJunction.Peak, p.DiodeJunction.Peak) }

// Of returns what a bridge of six such devices turns to heat at an operating point. It fails as
// [Point.Validate] does.
func Of(d *device.Device, p Point) (Result, error) {
	if err := p.Validate(); err != nil {
		return Result{}, err
	}
	var r Result
	if p.Frequency == 0 {
		r = still(d, &p)
	} else {
		r = turning(d, &p)
	}
	r.Notices = notices(d, &p, &r)
	return r, nil
}

// turning returns the result over a turn, which all legs share.
func turning(d *device.Device, p *Point) Result {
	s := newSolver(d, p)
	both, how := s.positions()
	r := Result{Upper: both[0], Lower: both[1], Settling: how, Differ: p.lopsided()}
	r.Mean = mean(both[:])
	r.Bridge = 3 * (r.Upper.Sum() + r.Lower.Sum())
	r.Output = p.output()
	return r
}

// still returns the result at standstill, where each leg has its own current.
func still(d *device.Device, p *Point) Result {
	r := Result{Standstill: map[inverter.Switch]Position{}}
	var all, upper, lower []Position
	for _, leg := range inverter.Phases {
		theta := p.Angle + p.Lag - leg.Axis()
		s := newStill(d, p, theta)
		both, how := s.positions()
		r.Standstill[inverter.High(leg)], r.Standstill[inverter.Low(leg)] = both[0], both[1]
		r.Settling.Rounds = max(r.Settling.Rounds, how.Rounds)
		r.Settling.Change = max(r.Settling.Change, how.Change)
		r.Settling.Runaway = r.Settling.Runaway || how.Runaway
		r.Bridge += both[0].Sum() + both[1].Sum()
		r.Output += p.share(theta) * p.Supply * p.current(theta)
		all, upper, lower = append(all, both[:]...), append(upper, both[0]), append(lower, both[1])
	}
	r.Mean, r.Upper, r.Lower = mean(all), mean(upper), mean(lower)
	return r
}

// positions returns both positions of a leg.
func (s *solver) positions() ([2]Position, Settling) {
	t, how := s.settle()
	l := s.legAt(t)
	var both [2]Position
	for i, losses := range s.mean(&l) {
		_, atCase := warm(s.d, s.Sink, losses)
		both[i] = Position{
			Losses: losses, Case: atCase,
			SwitchJunction: Junction{t[i].channel, t[i].channel},
			DiodeJunction:  Junction{t[i].diode, t[i].diode},
		}
		switch {
		case s.Fixed:
			both[i].Case = s.Junction
		case !s.still && i == 1 && !s.lopsided(): // half a turn later, the same
			both[1] = both[0]
		case !s.still:
			channel, diode := s.swing(&l, i)
			both[i].SwitchJunction.Peak, both[i].DiodeJunction.Peak = max(channel.Peak, t[i].channel), max(diode.Peak, t[i].diode)
		}
	}
	return both, how
}

// lopsided reports whether an upper position has another task than a lower one.
func (p *Point) lopsided() bool {
	if _, ok := p.stepped(); ok {
		return false
	}
	switch p.Pattern {
	case pattern.ClampedHigh, pattern.ClampedLow, pattern.AllLow, pattern.AllHigh, pattern.PulsedLow:
		return true
	}
	return false
}

// output returns the power that the gating without dead time gives the machine, in W.
//
// Where no reference is clipped it is 3/4 M I V cos φ.
func (p *Point) output() float64 {
	if p.Pattern.Compares() && p.Modulation <= p.Pattern.Linear() {
		return 0.75 * p.Modulation * p.Current * p.Supply * math.Cos(p.Lag)
	}
	ideal := *p
	ideal.DeadTime = 0
	sum := 0.0
	for _, n := range ideal.nodes(ideal.pieces([2]float64{math.Inf(1), math.Inf(1)}), fine) {
		sum += n.weight * pole(n.gating, n.current) * n.current
	}
	return 3 * p.Supply * sum
}

// share returns the mean pole voltage from mid-rail about an angle, over the supply, without dead time.
func (p *Point) share(theta float64) float64 {
	ideal := *p
	ideal.DeadTime = 0
	return pole(ideal.gating(theta), p.current(theta))
}

// pole returns the mean pole voltage from mid-rail over the supply: with no gate on, the current's diode
// decides.
func pole(g gating, current float64) float64 {
	high := g.high
	if current < 0 {
		high += 1 - g.high - g.low
	}
	return high - 0.5
}

// mean returns the mean of positions.
func mean(of []Position) Position {
	var m Position
	n := 1 / float64(len(of))
	for _, p := range of {
		m.Losses.add(n, p.Losses)
		m.SwitchJunction.Mean += n * p.SwitchJunction.Mean
		m.SwitchJunction.Peak += n * p.SwitchJunction.Peak
		m.DiodeJunction.Mean += n * p.DiodeJunction.Mean
		m.DiodeJunction.Peak += n * p.DiodeJunction.Peak
		m.Case += n * p.Case
	}
	return m
}
