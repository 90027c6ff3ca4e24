package drive

import (
	"math"

	"sextant/inverter"
)

// An ending is where on its way a stride leaves what the legs' branches allow.
type ending struct {
	at    float64 // part of the stride
	leg   inverter.Phase
	zero  bool // the leg's current ends; else its terminal leaves its span, or (none tied) some two legs' do
	begun start
}

// watch returns the earliest ending of stride st, if it has one. A current that dips below zero by less
// than graze, in A, has not ended.
func (st *stride) watch(n *network, legs *[3]leg, p *plant, graze float64) (ending, bool) {
	first, found := ending{at: 2}, false
	keep := func(e ending) {
		if e.at < first.at {
			first, found = e, true
		}
	}
	if n.anyGuard {
		for k := range n.on {
			if n.guarded[k] {
				if x, ok := st.currentEnds(n.sign[k], axes[k], graze); ok {
					keep(ending{at: x, leg: inverter.Phase(k), zero: true})
				}
			}
		}
	}
	if n.tied == 3 {
		return first, found
	}
	tr := newTrack(st, p)
	if n.tied == 2 {
		if legs[n.idle] == cutLeg {
			return first, found
		}
		for _, sign := range [2]int8{1, -1} {
			margin := func(x float64) float64 {
				s := tr.at(x)
				low, high := n.room(&s, legs, p)
				if sign > 0 {
					return low + p.slack()
				}
				return high + p.slack()
			}
			if x, ok := crossing(margin); ok {
				keep(ending{at: x, leg: n.idle, begun: start{n.idle, sign}})
			}
		}
		return first, found
	}
	margin := func(x float64) float64 {
		s := tr.at(x)
		gap, _, _ := p.gap(&s, legs)
		return p.slack() - gap
	}
	if x, ok := crossing(margin); ok {
		keep(ending{at: x, begun: start{sign: 1}})
	}
	return first, found
}

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
}

func newTrack(st *stride, p *plant) track {
	tr := track{from: st.from, to: st.to, turn: st.to.theta - st.from.theta, slow: p.slow()}
	tr.alpha = st.curveOf(func(r *rate) float64 { return r.i.Alpha }, st.from.i.Alpha, st.to.i.Alpha)
	tr.beta = st.curveOf(func(r *rate) float64 { return r.i.Beta }, st.from.i.Beta, st.to.i.Beta)
	if tr.slow {
		tr.theta = st.curveOf(func(r *rate) float64 { return r.theta }, st.from.theta, st.to.theta)
		tr.speed = st.curveOf(func(r *rate) float64 { return r.speed }, st.from.speed, st.to.speed)
		tr.link = st.curveOf(func(r *rate) float64 { return r.link }, st.from.link, st.to.link)
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
	}
	if tr.slow {
		s.theta, s.speed, s.link = tr.theta.at(x), tr.speed.at(x), tr.link.at(x)
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
