package drive

import (
	"encoding/json"
	"fmt"
	"math"

	"sextant/inverter"
)

// A Law observes a run and checks at both ends of every segment, and in its middle, what must hold of any
// drive whatever it does: Kirchhoff's laws, no pole beyond the rails and its drops, power accounted for and stored
// as currents and voltages grow, time that runs forward, numbers that are numbers.
type Law struct {
	drops    Switches
	faults   bool // an open wire or diode lets a terminal go where it likes
	voltage  float64
	before   float64 // s
	size     float64 // A, the largest current so far, and no less than 0.1
	rounding float64 // A, what the integration takes to be none
	sink     float64 // °C, or what junctions are held at
	instants int
	broken   []string
}

// mostBroken is how many breaches a law tells of before it looks away.
const mostBroken = 6

// NewLaw returns the law that runs of s are under.
func NewLaw(s *Scenario) *Law {
	l := &Law{drops: most(s.Switches), voltage: s.Supply.Voltage, before: math.Inf(-1), size: 0.1}
	if l.sink = s.Switches.Sink; s.Switches.Fixed {
		l.sink = s.Switches.Junction
	}
	for _, f := range s.Faults {
		l.faults = l.faults || f.Kind == PhaseOpen || f.Kind == DiodeOpen
	}
	return l
}

// Broken says where the run broke the law, a line each; nil where it never did. Some breaches are enough: it does
// not go on for ever.
func (l *Law) Broken() []string { return l.broken }

// Instants returns at how many instants the law looked.
func (l *Law) Instants() int { return l.instants }

// Sums checks what must hold of the whole: the account closes to a part of what passed, heat is not negative, no
// more comes out at the shaft than went in, no junction is colder than its sink, and all figures are numbers.
func (l *Law) Sums(s *Summary) {
	e := &s.Energy
	passed := math.Abs(e.Supplied) + math.Abs(e.ToShaft) + e.Copper + e.Bridge + math.Abs(e.StoredChange)
	if !(math.Abs(e.Residual) <= 1e-9*passed) {
		l.breach("energy: %g J missing of %g J: %+v", e.Residual, passed, *e)
	}
	slack := 1e-9 * passed
	if e.Copper < -slack || e.Bridge < -slack || e.Broken < -slack {
		l.breach("heat below zero: %+v", *e)
	}
	if given := e.Supplied - e.StoredChange; e.ToShaft > 0 && given > 0 && e.ToShaft > given+slack {
		l.breach("%g J at the shaft from %g J", e.ToShaft, given)
	}
	if s.Device != nil {
		for _, x := range s.Switches {
			if h := x.HeatSummary; h != nil && min(h.Junction, h.DiodeJunction) < l.sink-1e-9 {
				l.breach("%v is at %g C and its diode at %g C, on a sink of %g C", x.Switch, h.Junction, h.DiodeJunction, l.sink)
			}
		}
	}
	if _, err := json.Marshal(s); err != nil {
		l.breach("%v", err)
	}
}

// most returns the greatest drops that switches have at any temperature.
func most(s Switches) Switches {
	if s.Device == nil {
		return s
	}
	cold, hot := s.at(junction{coldest, coldest}), s.at(junction{hottest, hottest})
	s.ChannelThreshold = max(cold.ChannelThreshold, hot.ChannelThreshold)
	s.ChannelResistance = max(cold.ChannelResistance, hot.ChannelResistance)
	s.DiodeThreshold = max(cold.DiodeThreshold, hot.DiodeThreshold)
	s.DiodeResistance = max(cold.DiodeResistance, hot.DiodeResistance)
	return s
}

// Observe looks at a segment.
func (l *Law) Observe(seg *Segment) {
	if len(l.broken) >= mostBroken {
		return
	}
	if !(seg.T1 >= seg.T0) || seg.T0 < l.before {
		l.breachAt(seg.T0, "time runs from %.17g s to %.17g s after %.17g s", seg.T0, seg.T1, l.before)
	}
	l.before = seg.T1
	l.rounding = tolerance * seg.stride.cancelled(seg.plant)
	for _, part := range [3]float64{0, 0.5, 1} {
		y := seg.at(part)
		x := seg.instant(seg.T0+part*(seg.T1-seg.T0), &y)
		l.instant(x)
		l.store(&x, seg.storing(&y))
	}
}

// storing returns the power that field and capacitor take up in state y, in W, by how fast currents and voltage change.
func (s *Segment) storing(y *state) float64 {
	p, n := s.plant, &s.net
	di, dx := n.drift(y, p)
	extra := p.ring.field(dx)
	rise := y.frame(inverter.Vector{Alpha: di.Alpha + extra.Alpha, Beta: di.Beta + extra.Beta})
	i, omega := p.dq(y), p.pairs*y.speed
	w := 1.5*(p.ld*i.D*(rise.D+omega*i.Q)+p.lq*i.Q*(rise.Q-omega*i.D)) + p.ring.leakage*y.ring*dx
	if p.capacitance != 0 {
		in := p.inflow()
		w += y.link * in.at(y.link, dot(n.g, y.i))
	}
	return w
}

// store checks that what the ledger leaves for field and capacitor is what they take up.
func (l *Law) store(x *Instant, w float64) {
	if !(math.Abs(x.Power.Store-w) <= 1e-9*(l.flows(x)+math.Abs(w))) {
		l.breachAt(x.Time, "field and capacitor take up %g W, the ledger leaves them %g W", w, x.Power.Store)
	}
}

// flows returns the size of all that flows at an instant, in W, to weigh what is missing by.
func (l *Law) flows(x *Instant) float64 {
	into := 0.0
	for k := range x.Current {
		into += x.Phase[k] * x.Current[k]
	}
	return math.Abs(into) + math.Abs(x.Power.Copper) + math.Abs(x.Power.Bridge) + math.Abs(x.Power.Supply) + math.Abs(x.Power.Shaft) + l.size*l.voltage
}

func (l *Law) breach(format string, args ...any) {
	l.broken = append(l.broken, fmt.Sprintf(format, args...))
}

func (l *Law) breachAt(t float64, format string, args ...any) {
	l.breach("at %.12g s: %s", t, fmt.Sprintf(format, args...))
}

func (l *Law) instant(x Instant) {
	l.instants++
	for _, v := range numbers(&x) {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			l.breachAt(x.Time, "not a number: %+v", x)
			return
		}
	}
	for _, i := range x.Current {
		l.size = max(l.size, math.Abs(i))
	}
	small := 1e-9*l.size + l.rounding
	if sum := x.Current[0] + x.Current[1] + x.Current[2]; math.Abs(sum) > small {
		l.breachAt(x.Time, "currents sum to %g A: %v", sum, x.Current)
	}
	if f := x.CurrentVector().Turn(x.Rotor); math.Hypot(f.Alpha-x.ID, f.Beta-x.IQ) > 10*small {
		l.breachAt(x.Time, "windings carry id %g A, iq %g A, said are %g A and %g A", f.Alpha, f.Beta, x.ID, x.IQ)
	}
	drawn := 0.0
	for _, k := range inverter.Phases {
		i := x.Current[k]
		drop := max(l.drops.ChannelThreshold+l.drops.ChannelResistance*math.Abs(i), l.drops.DiodeThreshold+l.drops.DiodeResistance*math.Abs(i))
		slack := 1e-6 * (l.voltage + x.Link + drop)
		if !l.faults && (x.Pole[k] < -drop-slack || x.Pole[k] > x.Link+drop+slack) {
			l.breachAt(x.Time, "pole %v at %g V beyond the rails at 0 and %g V and a drop of %g V", k, x.Pole[k], x.Link, drop)
		}
		w := x.Ways[k]
		l.way(&x, k, w, i, small)
		if w.Upper() {
			drawn += i
		}
	}
	if math.Abs(drawn-x.LinkCurrent) > small {
		l.breachAt(x.Time, "the upper ways carry %g A, the link %g A", drawn, x.LinkCurrent)
	}
	l.power(&x)
}

// way checks that leg k can carry its current i as it is said to.
func (l *Law) way(x *Instant, k inverter.Phase, w inverter.Way, i, small float64) {
	switch {
	case w == inverter.Idle && math.Abs(i) > small,
		w == inverter.UpperDiode && i > small,
		w == inverter.LowerDiode && i < -small:
		l.breachAt(x.Time, "%v carries %g A by its %v", k, i, w)
	}
}

// power checks that what the poles give is what enters the phases, that what the link gives besides is the bridge's
// heat, and that the ledger adds up.
func (l *Law) power(x *Instant) {
	into, through := 0.0, 0.0
	for k := range x.Current {
		into += x.Phase[k] * x.Current[k]
		through += x.Pole[k] * x.Current[k]
	}
	size := l.flows(x)
	if math.Abs(into-through) > 1e-9*size {
		l.breachAt(x.Time, "phases take %g W, poles give %g W", into, through)
	}
	if lost := x.Link*x.LinkCurrent - through; math.Abs(lost-x.Power.Bridge) > 1e-9*size {
		l.breachAt(x.Time, "the bridge loses %g W, says %g W", lost, x.Power.Bridge)
	}
	if sum := x.Power.Bridge + x.Power.Copper + x.Power.Capacitor + x.Power.Shaft + x.Power.Store; math.Abs(sum-x.Power.Supply) > 1e-9*size {
		l.breachAt(x.Time, "power %+v does not add up", x.Power)
	}
}

func numbers(x *Instant) []float64 {
	return []float64{
		x.Time, x.Current[0], x.Current[1], x.Current[2], x.Pole[0], x.Pole[1], x.Pole[2], x.Phase[0], x.Phase[1], x.Phase[2],
		x.EMF[0], x.EMF[1], x.EMF[2], x.Link, x.Supply, x.LinkCurrent, x.Rotor, x.Shaft, x.Speed, x.ID, x.IQ, x.Torque,
		x.Power.Supply, x.Power.Bridge, x.Power.Copper, x.Power.Capacitor, x.Power.Shaft, x.Power.Store,
		x.Turns, x.Beside.Alpha, x.Beside.Beta,
	}
}
