package diagnosis

import (
	"math"
	"math/cmplx"

	"sextant/inverter"
	"sextant/motor/fault/signature"
)

const pi = math.Pi

// signs are a signature's numbers as the faults are weighed by, over the fundamental's peak.
type signs struct {
	*signature.Signature
	amplitude float64    // A
	doubt     float64    // standard error
	level     [3]float64 // what each phase carries, of the largest
	mean      complex128 // mean vector, less what one sensor's offset explains
	meanRaw   complex128 // mean vector as recorded
	even      float64
	skew      float64 // negative sequence, less what one sensor's gain explains
	shortfall inverter.ABC
	offset    sensorError
	gain      sensorError
	moved     []sensorError // who may have moved the mean while the sum shows nothing
	lean      inverter.ABC  // each phase's mean over its mean absolute value: ±1 flows one way only
}

func read(s *signature.Signature) signs {
	g := signs{Signature: s, amplitude: s.Amplitude(), doubt: s.Doubt(), even: s.Even(), shortfall: s.Shortfall()}
	largest := 0.0
	for k, f := range s.Fundamental {
		g.level[k] = math.Hypot(cmplx.Abs(f), math.Sqrt2*s.Mean[k])
		largest = max(largest, g.level[k])
	}
	for k := range g.level {
		g.level[k] /= largest
		g.lean[k] = ratio(s.Mean[k], s.MeanAbs[k])
	}
	a := complex(g.amplitude, 0)
	g.meanRaw = s.Vector[signature.Orders] / a
	g.mean = g.meanRaw
	g.skew = s.Negative()
	if !s.Derived {
		g.offset = g.offsetOf()
		g.gain = g.gainOf()
	}
	g.moved = g.whoMoved()
	return g
}

// axis returns a unit vector along a phase's axis.
func axis(p inverter.Phase) complex128 { return cmplx.Rect(1, p.Axis()) }

// sequences returns the positive and negative sequence of three phasors, as phase U's.
//
// C. L. Fortescue, "Method of symmetrical co-ordinates", Trans. AIEE 37 (1918) 1027.
func sequences(f [3]complex128) (plus, minus complex128) {
	a := cmplx.Rect(1, 2*pi/3)
	return (f[0] + a*f[1] + a*a*f[2]) / 3, (f[0] + a*a*f[1] + a*f[2]) / 3
}

func ratio(a, b float64) float64 {
	if b == 0 {
		return 0
	}
	return a / b
}
