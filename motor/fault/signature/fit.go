package signature

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"

	"sextant/motor/fault/capture"
)

const (
	// fitPoints is how many points a stretch is averaged to for finding its fundamental.
	fitPoints = 480
	// fitOrder is the highest order of the current vector that the fit accounts for, on either side; a stretch
	// shorter than shortTurns is refined with as many as shortOrder, or the fifth and seventh harmonic of a
	// six-step voltage would pull at so few turns.
	fitOrder   = 2
	shortTurns = 3
	shortOrder = 7
	// unlikely weighs what orders of two carry against a candidate for the fundamental: half the true
	// frequency explains everything as its second harmonic. A half wave's second harmonic has 0.18 of the
	// power of its fundamental, so that a third of that does not decide.
	unlikely = 0.3
)

// An advance is how the fundamental's angle runs over a stretch, with a steady change of speed:
// 2π (f τ + κ τ²/2), τ being the time from the middle of the stretch.
type advance struct {
	middle float64 // s
	f      float64 // Hz, in the middle
	kappa  float64 // Hz/s
}

func (a advance) angle(t float64) float64 {
	tau := t - a.middle
	return 2 * math.Pi * tau * (a.f + a.kappa*tau/2)
}

// series is the current vector at evenly spaced times, each the mean over its own interval.
type series struct {
	t0, step float64
	x        []complex128
}

// even averages a capture to n points; between samples the currents run straight.
func even(c *capture.Capture, n int) series {
	first, last := c.Time[0], c.Time[c.Len()-1]
	s := series{step: (last - first) / float64(n), x: make([]complex128, n)}
	s.t0 = first + s.step/2
	sum, k := complex128(0), 0
	for i := 1; i < c.Len(); i++ {
		ta, tb := c.Time[i-1], c.Time[i]
		xa, xb := vector(c.Current[i-1]), vector(c.Current[i])
		at := func(t float64) complex128 { return xa + (xb-xa)*complex((t-ta)/(tb-ta), 0) }
		from := ta
		for k < n && tb > ta {
			end := first + float64(k+1)*s.step
			until := min(end, tb)
			sum += (at(from) + at(until)) * complex((until-from)/2, 0)
			from = until
			if tb < end {
				break
			}
			s.x[k] = sum / complex(s.step, 0)
			sum, k = 0, k+1
		}
	}
	if k < n { // rounding left the last interval open
		s.x[n-1] = sum / complex(s.step, 0)
	}
	return s
}

// hidden is the part of the strongest line's size that a line at a fifth or a seventh of its frequency must
// have to be the fundamental. A six-step voltage that little more than cancels the EMF drives a fifth and a
// seventh harmonic that exceed the fundamental; nothing else in a drive makes such a pair.
const hidden = 0.3

// peak returns the frequency in Hz at which the vector's two senses of turning carry most together, at
// least a turn in the whole, from a Hann-windowed spectrum padded to a quarter of a bin.
func (s series) peak() float64 {
	n := len(s.x)
	hann := func(i int) float64 { return 0.5 - 0.5*math.Cos(2*math.Pi*(float64(i)+0.5)/float64(n)) }
	mean := complex128(0)
	for i, x := range s.x {
		mean += x * complex(2*hann(i)/float64(n), 0)
	}
	const pad = 4
	padded := make([]complex128, pad*n)
	for i, x := range s.x {
		padded[i] = (x - mean) * complex(hann(i), 0)
	}
	spectrum := fourier.NewCmplxFFT(len(padded)).Coefficients(nil, padded)
	size := func(k int) float64 {
		return math.Hypot(cmplx.Abs(spectrum[k]), cmplx.Abs(spectrum[len(padded)-k]))
	}
	best := pad
	for k := pad; k < len(padded)/2; k++ {
		if size(k) > size(best) {
			best = k
		}
	}
	most := size(best)
	for _, order := range []int{5, 7} {
		if k := (best + order/2) / order; k >= 3*pad/2 && size(k) > hidden*most && size(k) > size(k-pad) && size(k) > size(k+pad) {
			best = k
			break
		}
	}
	return float64(best) / (float64(len(padded)) * s.step)
}

// lines fits Σ c_n e^{jnθ}, n from -order to order, to the series by least squares. It returns the mean square
// that is left and the mean square in the outermost orders.
func (s series) lines(a advance, order int) (left, outermost float64) {
	m := 2*order + 1
	sums := make([]complex128, m) // Σ e^{jdθ}
	b := make([]complex128, m)
	total := 0.0
	for i, x := range s.x {
		turn := cmplx.Rect(1, a.angle(s.t0+float64(i)*s.step))
		total += real(x)*real(x) + imag(x)*imag(x)
		p := complex(1, 0)
		for d := range m {
			sums[d] += p
			p *= turn
		}
		back := cmplx.Conj(turn)
		p = x * cmplx.Rect(1, float64(order)*a.angle(s.t0+float64(i)*s.step))
		for k := range b {
			b[k] += p
			p *= back
		}
	}
	// The complex normal equations as real ones of twice the size.
	g, rhs := mat.NewSymDense(2*m, nil), mat.NewVecDense(2*m, nil)
	for i := range m {
		rhs.SetVec(i, real(b[i]))
		rhs.SetVec(m+i, imag(b[i]))
		for j := range m {
			e := sums[max(j-i, i-j)]
			if j < i {
				e = cmplx.Conj(e)
			}
			if j >= i {
				g.SetSym(i, j, real(e))
				g.SetSym(m+i, m+j, real(e))
			}
			g.SetSym(i, m+j, -imag(e))
		}
	}
	for i := range 2 * m { // keeps less than a turn solvable
		g.SetSym(i, i, g.At(i, i)*(1+1e-6))
	}
	n := float64(len(s.x))
	var chol mat.Cholesky
	var c mat.VecDense
	if !chol.Factorize(g) || chol.SolveVecTo(&c, rhs) != nil {
		return total / n, 0
	}
	for _, k := range []int{0, m - 1} {
		outermost += c.AtVec(k)*c.AtVec(k) + c.AtVec(m+k)*c.AtVec(m+k)
	}
	return max(total-mat.Dot(&c, rhs), 0) / n, outermost
}

// hardest returns how far, in turns, a change of speed may bend a stretch of so many: speed changes by some
// six per cent a turn at most where there is a shaft with any inertia.
func hardest(turns float64) float64 { return min(0.06*turns*turns, 0.4*turns) }

// fundamental finds how the fundamental's angle runs in a stretch of few turns, near a frequency.
func (s series) fundamental(near float64) advance {
	span := float64(len(s.x)) * s.step
	a := advance{middle: s.t0 - s.step/2 + span/2}
	low, high := max(near-1.6/span, 0.95/span), near+1.6/span
	if near*span < 4 {
		low = 0.95 / span // the mean of a few turns leaks into the first
	}
	best, least := a, math.Inf(1)
	for f := low; f <= high; f += 0.2 / span {
		bend := hardest(f*span) / (span * span)
		for _, kappa := range []float64{0, -bend, bend, -bend * 2 / 3, bend * 2 / 3, -bend / 3, bend / 3} {
			a.f, a.kappa = f, kappa
			left, second := s.lines(a, fitOrder)
			if cost := left + unlikely*second; cost < least {
				best, least = a, cost
			}
		}
	}
	return s.refine(best, span)
}

// refine moves frequency and its change to where least is left.
func (s series) refine(a advance, span float64) advance {
	at := func(x []float64) advance {
		return advance{a.middle, a.f + 0.1*x[0]/span, a.kappa + 0.4*x[1]/(span*span)}
	}
	order := fitOrder
	if a.f*span < shortTurns && len(s.x) > 8*shortOrder {
		order = shortOrder
	}
	start, _ := s.lines(a, order)
	problem := optimize.Problem{Func: func(x []float64) float64 {
		b := at(x)
		left, _ := s.lines(b, order)
		// A bend that no shaft makes is an overfit.
		beyond := max(0, math.Abs(b.kappa)*span*span-1.5*hardest(max(b.f*span, 1)))
		return left + start*beyond
	}}
	settings := &optimize.Settings{
		FuncEvaluations: 60,
		Converger:       &optimize.FunctionConverge{Absolute: 1e-6 * start, Iterations: 8},
	}
	r, err := optimize.Minimize(problem, []float64{0, 0}, settings, &optimize.NelderMead{SimplexSize: 1})
	if r == nil || (err != nil && r.F > start) {
		return a
	}
	if b := at(r.X); b.f > 0.9/span {
		return b
	}
	return a
}
