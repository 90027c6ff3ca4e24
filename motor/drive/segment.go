package drive

import (
	"math"

	"sextant/inverter"
)

// A Segment is a stretch of a run between two events, or a part of one where the integration took several
// strides: nothing switches inside it. It is valid only while its observer looks at it.
type Segment struct {
	T0, T1 float64 // s
	gates  inverter.Gates
	legs   [3]leg
	net    network
	stride stride
	plant  *plant
	track  track
	traced bool
}

// An Observer is shown every segment of a run, in order, once it lies behind the drive's present time.
type Observer interface {
	Observe(*Segment)
}

// Gates returns the gates throughout the segment.
func (s *Segment) Gates() inverter.Gates { return s.gates }

// At returns the drive at time t, which is held inside the segment. At T0 that is just after the event
// that opens the segment, at T1 just before the one that closes it.
func (s *Segment) At(t float64) Instant {
	x := 0.0
	switch {
	case t >= s.T1:
		x, t = 1, s.T1
	case t > s.T0:
		x = (t - s.T0) / (s.T1 - s.T0)
	default:
		t = s.T0
	}
	y := s.at(x)
	return s.instant(t, &y)
}

// at returns the state at part x of the segment.
func (s *Segment) at(x float64) state {
	s.trace()
	return s.track.at(x)
}

// trace makes the segment's continuous extension, once.
func (s *Segment) trace() {
	if !s.traced {
		s.track, s.traced = newTrack(&s.stride, s.plant), true
	}
}

func (s *Segment) instant(t float64, y *state) Instant {
	p, n := s.plant, &s.net
	i := p.currents(y.i)
	for k, sign := range n.sign {
		if sign == 0 {
			i[k] = 0 // but for rounding
		}
	}
	drawn := dot(n.g, y.i)
	link := p.linkVoltage(y, drawn)
	dq := y.frame(y.i)
	in := Instant{
		Time: t, Gates: s.gates, Ways: n.way, Current: i, EMF: p.emf(y),
		Link: link, Supply: drawn, LinkCurrent: drawn,
		Rotor: wrap(y.theta), Speed: y.speed, ID: dq.D, IQ: dq.Q, Torque: p.torqueAt(y),
	}
	if p.capacitance != 0 {
		out := p.outflow()
		in.Supply = out.at(y.link, drawn)
		in.Power.Capacitor = p.series * (in.Supply - drawn) * (in.Supply - drawn)
	}
	if p.pairs > 0 {
		in.Shaft = wrap(y.theta / p.pairs)
	}
	if p.axes != axes {
		for k := range in.Astray {
			in.Astray[k] = uint8((p.winding(k) - k + len(axes)) % len(axes))
		}
	}
	in.Pole, in.Phase = s.voltages(y, i, link)
	for k := range n.on {
		in.Power.Bridge += (n.on[k].up*link - in.Pole[k]) * i[k]
		in.Power.Copper += p.resistance[k] * i[k] * i[k]
	}
	if r := &p.ring; r.on() {
		lead := dot(r.axis, y.i)
		in.Turns, in.Beside = r.current(y), r.field(y.ring)
		in.Power.Copper += r.resistance * (in.Turns*in.Turns - lead*lead)
	}
	in.Power.Supply = link * in.Supply
	in.Power.Shaft = in.Torque * y.speed
	in.Power.Store = in.Power.Supply - in.Power.Bridge - in.Power.Copper - in.Power.Capacitor - in.Power.Shaft
	return in
}

// voltages returns the pole and phase voltages. The neutral lies where the changes of the three fluxes sum
// to what the phases have in common, which is nothing where EMFs are sines and no turns are shorted.
func (s *Segment) voltages(y *state, i inverter.ABC, link float64) (pole, phase inverter.ABC) {
	p, n := s.plant, &s.net
	for k := range n.on {
		pole[k] = n.on[k].level(link) - n.on[k].resistance*i[k]
	}
	var neutral float64
	if n.tied > 1 {
		if n.tied == 2 {
			pole[n.idle] = n.float(y, p)
		}
		neutral = -p.emf(y).Neutral() - n.common(y, p)
		for k := range pole {
			neutral += (pole[k] - p.resistance[k]*i[k]) / 3
		}
	} else {
		e := p.rest(y)
		neutral = s.rest(e, link)
		for k := range pole {
			if n.sign[k] != 0 {
				neutral = pole[k] - e[k]
			}
		}
		for k := range pole {
			pole[k] = neutral + e[k]
		}
	}
	for k := range pole {
		phase[k] = pole[k] - neutral
	}
	return pole, phase
}

// rest returns where the neutral of a machine that no leg holds may be taken to lie: midway between the
// bounds that the spans of its legs set, or at half the link where they set none.
func (s *Segment) rest(e inverter.ABC, link float64) float64 {
	low, high := math.Inf(-1), math.Inf(1)
	for k := range s.legs {
		low = math.Max(low, s.legs[k].source.level(link)-e[k])
		high = math.Min(high, s.legs[k].sink.level(link)-e[k])
	}
	if math.IsInf(low, 0) || math.IsInf(high, 0) {
		return link / 2
	}
	return (low + high) / 2
}

// wrap returns an angle in 0 to 2π.
func wrap(a float64) float64 {
	a = math.Mod(a, 2*math.Pi)
	if a < 0 {
		a += 2 * math.Pi
	}
	if a >= 2*math.Pi { // a tiny negative angle rounds up to a full turn
		a = 0
	}
	return a
}
