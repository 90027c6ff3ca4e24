// Package signature reduces a capture of phase currents to the signs that published methods of diagnosis go
// by: normalised means and mean absolute values, the two sequences, even harmonics, what the three currents
// sum to. All are taken over whole turns of the fundamental, in its own angle, so that neither a cut turn
// nor a changing speed fakes one.
package signature

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"

	"sextant/inverter"
	"sextant/motor/fault/capture"
)

// HealthyMeanAbsolute is ξ, the mean over a turn of |i|/|i_s| for a sine, the modulus |i_s| of Park's vector
// being power-invariant: √(2/3)·2/π.
//
// J. O. Estima, A. J. M. Cardoso, "A new approach for real-time multiple open-circuit fault diagnosis in
// voltage-source inverters", IEEE Trans. IA-47 (2011) 2487; their 0.5198.
const HealthyMeanAbsolute = 2 / math.Pi * math.Sqrt2 / sqrt3

const sqrt3 = 1.732050807568877293527446341505872367

// Orders is the highest order of the current vector that a signature lists, on either side.
const Orders = 13

// A Signature is what a stretch of whole turns says. Currents are in A, angles in rad; where the field turns
// backwards the sequences have changed places, so that Positive is always the larger.
type Signature struct {
	From, To float64 // s
	Turns    int
	Samples  int
	Hz       float64 // mean over the turns
	Drift    float64 // change of the frequency over the turns, as part of its mean
	Reversed bool    // the vector turns U, W, V

	Fundamental [3]complex128 // phasor of each phase: its real part is cos
	Mean        inverter.ABC
	RMS         inverter.ABC
	MeanAbs     inverter.ABC
	// Normal is each phase's mean of |i| over that of |i_s| (Estima & Cardoso; they divide before they take
	// the mean, which noise spoils where the current is broken and |i_s| passes zero).
	Normal inverter.ABC
	// Vector holds the orders -Orders to Orders of the current vector; [Signature.Order] reads it.
	Vector [2*Orders + 1]complex128
	// Sum is what the three currents sum to: its mean, and its fundamental's phasor.
	SumMean float64
	SumLine complex128
	Derived bool // the sum is zero because one current was taken so
	Third   inverter.Phase
	// Noise is the rms, along one axis, of what the listed orders leave.
	Noise float64
	Step  float64 // the smallest step between two values recorded, A
}

// Order returns the n-th order of the current vector: positive n turns with the fundamental's larger part.
func (s *Signature) Order(n int) complex128 {
	if s.Reversed {
		return cmplx.Conj(s.Vector[Orders-n])
	}
	return s.Vector[Orders+n]
}

// Amplitude returns the peak of the larger sequence of the fundamental, in A.
func (s *Signature) Amplitude() float64 { return cmplx.Abs(s.Order(1)) }

// Negative returns the negative sequence of the fundamental over the positive.
func (s *Signature) Negative() float64 { return ratio(cmplx.Abs(s.Order(-1)), s.Amplitude()) }

// MeanVector returns the mean current vector over the fundamental's: its length and its angle.
//
// K. Rothenhagen, F. W. Fuchs, "Performance of diagnosis methods for IGBT open circuit faults in voltage
// source active rectifiers", PESC 2004 (normalised mean-current vector, after Abramik et al., EPE 2003).
func (s *Signature) MeanVector() (length, angle float64) {
	m := s.Vector[Orders]
	return ratio(cmplx.Abs(m), s.Amplitude()), cmplx.Phase(m)
}

// Even returns the second, fourth and sixth orders of the current vector together, over the fundamental, less
// what noise adds to such a sum: what turning by half a turn does not merely reverse. Only a leg of which
// one half behaves unlike the other makes them.
func (s *Signature) Even() float64 { return s.together(2, -2, 4, -4, 6, -6) }

// Odd returns the third to eleventh odd orders together, over the fundamental, less what noise adds.
func (s *Signature) Odd() float64 { return s.together(3, -3, 5, -5, 7, -7, 9, -9, 11, -11) }

func (s *Signature) together(orders ...int) float64 {
	sum := 0.0
	for _, n := range orders {
		a := ratio(cmplx.Abs(s.Order(n)), s.Amplitude())
		sum += a * a
	}
	d := s.Doubt()
	return math.Sqrt(max(sum-float64(len(orders))*d*d, 0))
}

// Shortfall returns ξ less each phase's normalised mean absolute value: 0 for a healthy sine, positive where
// a phase carries less than its share (Estima & Cardoso's e).
func (s *Signature) Shortfall() inverter.ABC {
	var e inverter.ABC
	for k := range e {
		e[k] = HealthyMeanAbsolute - s.Normal[k]
	}
	return e
}

// Doubt returns the standard error that noise leaves in an order of the vector, over the fundamental.
func (s *Signature) Doubt() float64 {
	weight := 1.0
	if s.Turns > 1 {
		weight = 1.5 // what the Hann window takes from the number of independent samples
	}
	return ratio(s.Noise*math.Sqrt(2*weight/float64(max(s.Samples, 1))), s.Amplitude())
}

// ratio returns a/b, and 0 where b is none.
func ratio(a, b float64) float64 {
	if b == 0 {
		return 0
	}
	return a / b
}

func vector(x inverter.ABC) complex128 {
	v, _ := x.Clarke()
	return complex(v.Alpha, v.Beta)
}

// ErrStill says that nothing alternates.
var ErrStill = errors.New("the currents do not alternate")

// Near returns the frequency in Hz that dominates a capture: where to look for its fundamental.
func Near(c *capture.Capture) (float64, error) {
	if err := usable(c); err != nil {
		return 0, err
	}
	n := 1 << 9
	for n < c.Len() && n < 1<<16 {
		n *= 2
	}
	return even(c, n).peak(), nil
}

// usable refuses what has no turn to it.
func usable(c *capture.Capture) error {
	if c.Len() < 8 {
		return fmt.Errorf("%d samples are too few; a turn needs 8 at least", c.Len())
	}
	if !(c.Time[c.Len()-1] > c.Time[0]) {
		return errors.New("time stands still")
	}
	first := c.Current[0]
	for _, i := range c.Current {
		if i != first {
			return nil
		}
	}
	return ErrStill
}

// Of returns the signature of a stretch of few turns whose frequency is near a given one. It fails where
// there is no whole turn.
func Of(c *capture.Capture, near float64) (Signature, error) {
	if err := usable(c); err != nil {
		return Signature{}, err
	}
	points := fitPoints
	if c.Len() < points {
		points = max(c.Len(), 16)
	}
	a := even(c, points).fundamental(near)
	return take(c, a)
}

// take cuts the capture to whole turns and takes the signs.
func take(c *capture.Capture, a advance) (Signature, error) {
	n := c.Len()
	theta := make([]float64, n)
	for i, t := range c.Time {
		theta[i] = a.angle(t)
	}
	// A turn that lacks less than noise moves its ends by counts as whole.
	turns := math.Floor((theta[n-1]-theta[0])/(2*math.Pi) + 0.005)
	if turns < 1 {
		return Signature{}, fmt.Errorf("the capture holds %.2g of a turn at about %.3g Hz; one whole turn is needed, three or more are better", (theta[n-1]-theta[0])/(2*math.Pi), a.f)
	}
	end := min(theta[0]+2*math.Pi*turns, theta[n-1])
	s := Signature{From: c.Time[0], Turns: int(turns), Derived: c.Derived, Third: c.Third}
	s.To = c.Time[n-1]
	x := summed{}
	if turns > 1 {
		x.window = 2 * math.Pi / (end - theta[0])
		x.start = theta[0]
	}
	last := 1
	for i := 1; i < n && theta[i-1] < end; i++ {
		from, to := theta[i-1], theta[i]
		ia, ib := c.Current[i-1], c.Current[i]
		if to > end {
			part := (end - from) / (to - from)
			for k := range ib {
				ib[k] = ia[k] + part*(ib[k]-ia[k])
			}
			s.To = c.Time[i-1] + part*(c.Time[i]-c.Time[i-1])
			to = end
		}
		x.add(from, to, ia, ib)
		last = i
	}
	s.Samples = last + 1
	s.Hz = turns / (s.To - s.From)
	s.Drift = a.kappa * (s.To - s.From) / s.Hz
	x.into(&s)
	s.Reversed = cmplx.Abs(s.Vector[Orders-1]) > cmplx.Abs(s.Vector[Orders+1])
	s.leave(c.Current[:last], theta)
	s.step(c.Current[:last])
	return s, nil
}

// leave finds the noise: what the orders do not account for.
func (s *Signature) leave(currents []inverter.ABC, theta []float64) {
	// Orders beyond what the sampling resolves would be counted twice.
	most := min(Orders, max((len(currents)/s.Turns-1)/2-1, 1))
	sum := 0.0
	for i := range currents {
		left := vector(currents[i])
		turn := cmplx.Rect(1, theta[i])
		p := cmplx.Rect(1, -float64(most)*theta[i])
		for _, c := range s.Vector[Orders-most : Orders+most+1] {
			left -= c * p
			p *= turn
		}
		sum += real(left)*real(left) + imag(left)*imag(left)
	}
	// Where there are few samples the orders account for noise, too.
	free := max(len(currents)-2*most-1, 1)
	s.Noise = math.Sqrt(sum / 2 / float64(free))
}

// step finds the smallest step recorded.
func (s *Signature) step(currents []inverter.ABC) {
	peak := 0.0
	for _, x := range currents {
		peak = max(peak, math.Abs(x[0]), math.Abs(x[1]), math.Abs(x[2]))
	}
	least := math.Inf(1)
	for i := 1; i < len(currents); i++ {
		for k := range currents[i] {
			// Differences of rounding are none.
			if d := math.Abs(currents[i][k] - currents[i-1][k]); d > 1e-6*peak {
				least = min(least, d)
			}
		}
	}
	if !math.IsInf(least, 1) {
		s.Step = least
	}
}
