package diagnosis

import (
	"math"
	"math/cmplx"

	"sextant/inverter"
)

// A sensorError is what one sensor would have to be wrong by to explain the recorded sum.
type sensorError struct {
	phase inverter.Phase
	size  float64 // of the sum, over the fundamental's peak
	value float64 // A, or part of the true current
	fit   float64 // 0 to 1: how well one sensor explains it, or its share of the suspicion
	own   bool    // the drive's own sensor, by which it controls
}

// offsetOf finds the sensor whose offset explains the mean of the sum and most of the mean vector: an offset
// o of one sensor moves the sum by o and the vector by 2/3 o along its phase's axis. The mean is then rid
// of it.
func (g *signs) offsetOf() sensorError {
	o := g.SumMean / g.amplitude
	best := sensorError{size: math.Abs(o), value: g.SumMean}
	least := math.Inf(1)
	for _, p := range inverter.Phases {
		rest := cmplx.Abs(g.meanRaw - complex(2*o/3, 0)*axis(p))
		if rest < least {
			least, best.phase = rest, p
		}
	}
	best.fit = 1 - min(1, least/max(2*best.size/3, 1e-12))
	if present(best.size, sumBegins, g.doubt) > 0.5 && best.fit > 0.4 {
		g.mean = g.meanRaw - complex(2*o/3, 0)*axis(best.phase)
	}
	return best
}

// gainOf finds the sensor whose gain explains the fundamental of the sum: that is along its own phase's. The
// negative sequence is then taken without it.
func (g *signs) gainOf() sensorError {
	z := g.SumLine
	best := sensorError{size: cmplx.Abs(z) / g.amplitude, fit: -1}
	for _, p := range inverter.Phases {
		f := g.Fundamental[p]
		// A gain of 1 + e makes the sum e times the true current.
		carried := f - z
		if cmplx.Abs(carried) < 1e-12*g.amplitude {
			continue
		}
		e := z / carried
		if fit := math.Abs(real(e)) / cmplx.Abs(e); fit > best.fit && real(e) > -1.2 {
			best.phase, best.value, best.fit = p, real(e), fit
		}
	}
	// Phases' lines lie 60 degrees apart, so that a half of it is where one explains no better than the next.
	best.fit = max(0, (best.fit-math.Cos(pi/6))/(1-math.Cos(pi/6)))
	if present(best.size, sumBegins, 2*g.doubt) > 0.5 && best.fit > 0.3 {
		fs := g.Fundamental
		fs[best.phase] -= z
		plus, minus := sequences(fs)
		big, small := max(cmplx.Abs(plus), cmplx.Abs(minus)), min(cmplx.Abs(plus), cmplx.Abs(minus))
		g.skew = small / big
	}
	return best
}

// whoMoved returns the sensors whose offset may have moved the mean vector though the sum is none. The drive's
// own, where it controls by it: a control drives -2/3 o along the axis of a sensor that is o off. And where
// one current is derived, either of the two recorded: an offset o moves the derived current by -o.
func (g *signs) whoMoved() []sensorError {
	var who []sensorError
	var vote []float64
	add := func(p inverter.Phase, unit complex128, own bool) {
		o := real(g.mean*cmplx.Conj(unit)) / real(unit*cmplx.Conj(unit))
		who = append(who, sensorError{phase: p, value: o * g.amplitude, own: own})
		vote = append(vote, -ratio(cmplx.Abs(g.mean-complex(o, 0)*unit), cmplx.Abs(g.mean)))
	}
	for _, p := range inverter.Phases {
		add(p, complex(-2.0/3, 0)*axis(p), true)
		if g.Derived && p != g.Third {
			add(p, complex(2.0/3, 0)*(axis(p)-axis(g.Third)), false)
		}
	}
	for i, w := range share(vote, 0.08) {
		who[i].fit = w
	}
	return who
}

// whichClamp returns, where one current is derived, how surely a clamp's gain rather than a bad joint skews the
// phases, and how the clamps share that suspicion. A gain of 1 + e of phase p's clamp adds e times its current
// there and takes as much from the derived current; so from the negative sequence follows e/(1 + e), and the
// more surely the more nearly it is real. A bad joint in an inductive machine makes it so by chance only.
func (g *signs) whichClamp() (surely float64, clamps [3]sensorError) {
	if !g.Derived {
		return 0, clamps // the sum tells
	}
	plus, minus := sequences(g.Fundamental)
	turn := 4 * pi / 3
	if g.Reversed {
		minus, turn = plus, -turn
	}
	most, sum := 0.0, 0.0
	for _, p := range inverter.Phases {
		if p == g.Third || g.Fundamental[p] == 0 {
			continue
		}
		unit := cmplx.Rect(1, turn*float64(p)) - cmplx.Rect(1, turn*float64(g.Third))
		q := 3 * minus / (g.Fundamental[p] * unit)
		e := real(q / (1 - q))
		fit := 0.0
		if q != 0 && e > -1 {
			fit = present(math.Abs(real(q))/cmplx.Abs(q), 0.93, 0.05)
		}
		clamps[p] = sensorError{phase: p, value: e, fit: fit}
		most, sum = max(most, fit), sum+fit
	}
	if sum == 0 {
		return 0, clamps
	}
	for p := range clamps {
		clamps[p].fit /= sum
	}
	joint := 0.0
	for _, p := range inverter.Phases {
		joint = max(joint, math.Cos(g.lag(p)-pi/4))
	}
	joint = present(joint, 0.6, 0.1)
	return most / (most + joint), clamps
}

// own makes a suspected sensor the drive's own, with the error that the mean of the currents speaks for.
func (g *signs) own(r *Ranked) {
	r.own = true
	for _, e := range g.moved {
		if e.own && e.phase == phaseOf(r.At) && r.Fault == SensorOffset {
			r.value = e.value
		}
	}
}
