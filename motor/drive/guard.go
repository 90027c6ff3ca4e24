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
func (p *plant) bounded() bool { return p.capacitance != 0 && !math.IsInf(p.limit, 1) }

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

// curveOf returns the continuous extension of one variable over the stride, its slopes picked by of.
func (st *stride) curveOf(of func(*rate) float64, y0, y1 float64) curve {
	bend := 0.0
	for j := range st.rates {
		bend += bends[j] * of(&st.rates[j])
	}
	return newCurve(y0, y1, st.h*of(&st.rates[0]), st.h*of(&st.rates[stages-1]), st.h*bend)
}

// A track is the continuous extension of the whole state over a stride.
type track struct {
	from, to                        state
	turn                            float64 // of a rotor at constant speed
	slow                            bool
	alpha, beta, theta, speed, link curve
	ring                            curve
}

func newTrack(st *stride, p *plant) track {
	tr := track{from: st.from, to: st.to, turn: st.to.theta - st.from.theta, slow: p.slow()}
	tr.alpha = st.curveOf(func(r *rate) float64 { return r.i.Alpha }, st.from.i.Alpha, st.to.i.Alpha)
	tr.beta = st.curveOf(func(r *rate) float64 { return r.i.Beta }, st.from.i.Beta, st.to.i.Beta)
	if tr.slow {
		tr.theta = st.curveOf(func(r *rate) float64 { return r.theta }, st.from.theta, st.to.theta)
		tr.speed = st.curveOf(func(r *rate) float64 { return r.speed }, st.from.speed, st.to.speed)
		tr.link = st.curveOf(func(r *rate) float64 { return r.link }, st.from.link, st.to.link)
		tr.ring = st.curveOf(func(r *rate) float64 { return r.ring }, st.from.ring, st.to.ring)
	}
	return tr
}

// at returns the state at part x of the stride; the ends are exact.
func (tr *track) at(x float64) state {
	switch x {
	case 0:
		return tr.from
	case 1:
		return tr.to
	}
	s := state{
		i:     inverter.Vector{Alpha: tr.alpha.at(x), Beta: tr.beta.at(x)},
		theta: tr.from.theta + x*tr.turn,
		speed: tr.from.speed,
		link:  tr.from.link,
		ring:  tr.from.ring,
	}
	if tr.slow {
		s.theta, s.speed, s.link, s.ring = tr.theta.at(x), tr.speed.at(x), tr.link.at(x), tr.ring.at(x)
	}
	return s
}

// crossing returns where margin, at least zero at 0, first falls below zero on the way to 1. Strides are
// kept so short that margin is close to a parabola between the samples taken here.
func crossing(margin func(float64) float64) (float64, bool) {
	const samples = 4
	x0, f0 := 0.0, math.Max(margin(0), 0)
	xs, fs := 0.0, f0 // the sample before
	for j := 1; j <= samples; j++ {
		x := float64(j) / samples
		f := margin(x)
		if f < 0 {
			return root(margin, x0, x), true
		}
		if j > 1 && f0 <= fs && f0 <= f && fs+f > 2*f0 && !math.IsInf(f, 0) {
			low := x0 + (x-x0)/2*(fs-f)/(fs+f-2*f0)
			if margin(low) < 0 {
				return root(margin, xs, low), true
			}
		}
		xs, fs, x0, f0 = x0, f0, x, f
	}
	return 0, false
}

// root returns the upper end of the last bracket of a root of f between a and b, where f falls from above
// zero (or zero) to below it: regula falsi with the Illinois rule, then bisection where that is slow.
//
// M. Dowell, P. Jarratt, "A modified regula falsi method", BIT 11 (1971) 168.
func root(f func(float64) float64, a, b float64) float64 {
	fa, fb := f(a), f(b)
	side := 0
	for range 200 {
		if b-a <= 1e-16*(1+math.Abs(b)) || fb == 0 {
			break
		}
		x := b
		if fa > fb {
			x = b - fb*(b-a)/(fb-fa)
		}
		if !(x > a && x < b) || side > 3 || side < -3 {
			x = a + (b-a)/2
			side = 0
		}
		if x == a || x == b {
			break
		}
		switch fx := f(x); {
		case fx > 0:
			a, fa = x, fx
			if side > 0 {
				fb /= 2
			}
			side = max(side, 0) + 1
		default:
			b, fb = x, fx
			if side < 0 {
				fa /= 2
			}
			side = min(side, 0) - 1
		}
	}
	return b
}
