package spectrum

import (
	"math"
	"slices"
)

// A Harmonic is one term of a wave's series, Peak cos(Order 2π f t + Angle), with f the wave's Frequency,
// sign and all.
type Harmonic struct {
	Order int
	Peak  float64 // in the wave's unit
	Angle float64 // rad, -π to π
}

// fresh is the number of orders after which the recurrence for the edges' phasors starts anew.
const fresh = 64

// rounding is the share of the wave's span below which a peak cannot be told from none.
const rounding = 1e-12

// Harmonics fills dst with orders 1, 2, 3 and on. A wave that takes Turns turns to repeat also has terms
// between the orders; those are not among them, but [Wave.RMS] and the distortions count them.
//
//	peak e^(j angle) = 1/(jπm) Σ ΔVi e^(-j 2πm ti/T),  m = Turns order
//
// with ΔVi the jump of the wave at edge ti and T its period. A peak that is zero but for rounding is given
// as zero.
func (w Wave) Harmonics(dst []Harmonic) {
	n := len(w.Times)
	if n == 0 {
		for i := range dst {
			dst[i] = Harmonic{Order: i + 1}
		}
		return
	}
	edges := make([]edge, n)
	before := w.Levels[n-1]
	for i, t := range w.Times {
		edges[i].turn, edges[i].jump = t/w.Period()*float64(w.Turns), w.Levels[i]-before
		edges[i].stepIm, edges[i].stepRe = math.Sincos(-2 * math.Pi * fraction(edges[i].turn))
		before = w.Levels[i]
	}
	floor := rounding * (slices.Max(w.Levels) - slices.Min(w.Levels))
	for i := range dst {
		order := i + 1
		if i%fresh == 0 {
			for j := range edges {
				edges[j].set(order)
			}
		}
		re, im := 0.0, 0.0
		for j := range edges {
			e := &edges[j]
			re += e.re
			im += e.im
			e.re, e.im = e.re*e.stepRe-e.im*e.stepIm, e.re*e.stepIm+e.im*e.stepRe
		}
		// Dividing by jπm turns re + j im into im - j re.
		m := math.Pi * float64(order*w.Turns)
		dst[i] = Harmonic{Order: order}
		if peak := math.Hypot(re, im) / m; peak > floor {
			dst[i].Peak = peak
			dst[i].Angle = math.Copysign(1, w.Frequency) * math.Atan2(-re, im)
		}
	}
}

// An edge is a jump of the wave and its phasor, which turns by a step from order to order.
type edge struct {
	turn, jump     float64
	re, im         float64
	stepRe, stepIm float64
}

func (e *edge) set(order int) {
	s, c := math.Sincos(-2 * math.Pi * fraction(float64(order)*e.turn))
	e.re, e.im = e.jump*c, e.jump*s
}

func fraction(x float64) float64 { return x - math.Floor(x) }
