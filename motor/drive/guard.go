package drive

import (
	"math"

	"sextant/inverter"
)

// A trigger is what ends a segment other than a time that was known beforehand.
type trigger uint8

const (
	nothing        trigger = iota
	currentEnds            // a leg's current reaches zero
	terminalLeaves         // an idle leg's terminal leaves its span
	spansPart              // with no current anywhere, two legs' spans no longer hold the EMF between them
	rotorSteps             // the rotor leaves the sixth of a turn that the sensors tell
	fluxBends              // the rotor comes to a bend of a trapezoidal EMF
	motionTurns            // a shaft with dry friction stops, or breaks loose
	sourceTurns            // the source starts or stops to take back all that it may
)

// brink is how far past the border of its part of a turn, in rad, the rotor must be to have left it: one
// that stands on the border stays.
const brink = 1e-12

// An ending is where on its way a stride leaves what its equations hold for.
type ending struct {
	at    float64 // part of the stride
	cause trigger
	leg   inverter.Phase
	begun start
}

// watch returns the earliest ending of the present stride; its cause is nothing where there is none.
func (d *Drive) watch() ending {
	st, n, p, legs := &d.seg.stride, &d.seg.net, &d.plant, &d.seg.legs
	first := ending{at: 2}
	keep := func(e ending) {
		if e.at < first.at {
			first = e
		}
	}
	if n.anyGuard {
		for k := range n.on {
			if n.guarded[k] {
				if x, ok := st.currentEnds(n.sign[k], p.axes[k], grazing*d.size); ok {
					keep(ending{at: x, cause: currentEnds, leg: inverter.Phase(k)})
				}
			}
		}
	}
	if n.tied == 3 && !d.watchful() {
		return first
	}
	tr := newTrack(st, p)
	look := func(e ending, margin func(*state) float64) {
		if x, ok := crossing(func(x float64) float64 {
			s := tr.at(x)
			return margin(&s)
		}); ok {
			e.at = x
			keep(e)
		}
	}
	switch {
	case n.tied == 2 && legs[n.idle] != cutLeg:
		look(ending{cause: terminalLeaves, leg: n.idle, begun: start{leg: n.idle, sign: 1}}, func(s *state) float64 {
			low, _ := n.room(s, legs, p)
			return low + p.slack
		})
		look(ending{cause: terminalLeaves, leg: n.idle, begun: start{leg: n.idle, sign: -1}}, func(s *state) float64 {
			_, high := n.room(s, legs, p)
			return high + p.slack
		})
	case n.tied < 2:
		look(ending{cause: spansPart, begun: start{apart: true}}, func(s *state) float64 {
			gap, _, _ := p.gap(s, legs)
			return p.slack - gap
		})
	}
	if d.gate.rule == byRotor {
		look(ending{cause: rotorSteps}, func(s *state) float64 { return d.gate.commute.inside(s.theta) + brink })
	}
	if p.trapezoid {
		look(ending{cause: fluxBends}, func(s *state) float64 { return p.flat.inside(s.theta) + brink })
	}
	if p.free && p.coulomb > 0 {
		look(ending{cause: motionTurns}, func(s *state) float64 {
			if p.motion == 0 {
				return p.coulomb - math.Abs(p.torqueAt(s)-p.load)
			}
			return float64(p.motion) * s.speed
		})
	}
	if p.bounded() {
		look(ending{cause: sourceTurns}, func(s *state) float64 {
			excess := (s.link-p.voltage)/p.source - p.limit
			if p.refusing {
				return excess
			}
			return -excess
		})
	}
	return first
}

// watchful reports whether something besides the legs may end a stride.
func (d *Drive) watchful() bool {
	p := &d.plant
	return d.gate.rule == byRotor || p.trapezoid || p.free && p.coulomb > 0 || p.bounded()
}

// bounded reports whether the source's willingness to take current back has a bound that may matter.
func (p *plant) bounded() bool { return p.capacitance != 0 && p.limit <= math.MaxFloat64 }

// currentEnds returns where in the stride the current along axis a stops having the given sign.
func (st *stride) currentEnds(sign int8, a inverter.Vector, graze float64) (float64, bool) {
	s := float64(sign)
	end := s * dot(a, st.to.i)
	k0, k1 := s*dot(a, st.rates[0].i), s*dot(a, st.rates[stages-1].i)
	if end >= 0 && (k0 >= 0 || k1 <= 0) {
		return 0, false
	}
	c := st.curveOf(func(r *rate) float64 { return s * dot(a, r.i) }, s*dot(a, st.from.i), end)
	to := 1.0
	if end >= 0 { // falls and rises again: see how low it gets
		to = root(func(x float64) float64 { return -c.slope(x) }, 0, 1)
		if c.at(to) >= -graze {
			return 0, false
		}
	}
	from := 0.0
	if c[0] <= 0 { // has just begun: find where it has grown
		for from = to / 2; c.at(from) <= 0; from /= 2 {
			if from < 1e-12 {
				return 0, true
			}
		}
	}
	return root(c.at, from, to), true
}
