// Package spectrum gives the exact Fourier series and distortion of switched voltages. A switched wave is
// level between its edges, so its coefficients are finite sums over the edges; nothing is sampled.
package spectrum

import "math"

// A Wave is a periodic quantity that is level between edges: Levels[i] holds from Times[i] to the next
// time, the last to Times[0] a period later.
type Wave struct {
	Frequency float64   // of the fundamental, Hz; negative where the bridge turns backwards
	Turns     int       // of the fundamental in the period
	Times     []float64 // s, rising, within one period
	Levels    []float64
}

// Period returns the time after which the wave repeats, in s.
func (w Wave) Period() float64 { return float64(w.Turns) / math.Abs(w.Frequency) }

// share returns for how much of the period level i holds.
func (w Wave) share(i int) float64 {
	if i+1 < len(w.Times) {
		return (w.Times[i+1] - w.Times[i]) / w.Period()
	}
	return 1 - (w.Times[i]-w.Times[0])/w.Period()
}

// Mean returns the mean over a period.
func (w Wave) Mean() float64 {
	sum := 0.0
	for i, x := range w.Levels {
		sum += x * w.share(i)
	}
	return sum
}

// RMS returns the root of the mean square, exact, the mean's part included.
func (w Wave) RMS() float64 {
	sum := 0.0
	for i, x := range w.Levels {
		sum += x * x * w.share(i)
	}
	return math.Sqrt(sum)
}

// THD returns the rms of all that is neither mean nor fundamental over that of the fundamental, from the
// exact rms; false if there is no fundamental.
//
//	THD = sqrt(V²rms - V²mean - V²1)/V1
//
// IEC 61000-4-7 and IEEE 519 sum orders instead, up to 40 or 50; that comes out lower.
func (w Wave) THD() (float64, bool) {
	first := w.first()
	if first == 0 {
		return 0, false
	}
	rms, mean := w.RMS(), w.Mean()
	return ratio(2 * (rms*rms - mean*mean) / (first * first)), true
}

// WeightedTHD returns the distortion with each order's peak divided by the order, which is that of the
// current in an inductance; false if there is no fundamental. It is exact, from the integral of the wave:
//
//	WTHD = sqrt(Σ (Vn/n)²)/V1 over n > 1,  Σ (Vn/n)² over all n = 2ω² mean((∫ v - Vmean)²)
//
// Holmes & Lipo, Pulse Width Modulation for Power Converters (IEEE/Wiley, 2003), ch. 2.
func (w Wave) WeightedTHD() (float64, bool) {
	first := w.first()
	if first == 0 {
		return 0, false
	}
	mean := w.Mean()
	var flux, sum, squares float64 // flux in units of the period
	for i, x := range w.Levels {
		dx := w.share(i)
		next := flux + (x-mean)*dx
		sum += dx * (flux + next) / 2
		squares += dx * (flux*flux + flux*next + next*next) / 3
		flux = next
	}
	omega := 2 * math.Pi * float64(w.Turns)
	return ratio(2 * omega * omega * (squares - sum*sum) / (first * first)), true
}

// ratio turns a total over a fundamental, both squared, into a distortion; rounding may leave the total
// the smaller.
func ratio(squares float64) float64 { return math.Sqrt(max(squares-1, 0)) }

// first returns the peak of the fundamental.
func (w Wave) first() float64 {
	var h [1]Harmonic
	w.Harmonics(h[:])
	return h[0].Peak
}
