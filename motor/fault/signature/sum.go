package signature

import (
	"math"
	"math/cmplx"

	"sextant/inverter"
)

// summed holds integrals over angle. Two and more turns are weighted by a Hann window, so that currents that
// grow or fade from turn to turn fake neither a mean nor an even order; it keeps whole orders apart.
type summed struct {
	start, window      float64 // rad, and rad of the window's own turn per rad; 0 is no window
	span               float64
	mean, square, size inverter.ABC
	length             float64
	orders             [2*Orders + 1]complex128
	phases             [3]complex128
	total              complex128
	totalMean          float64
}

// add adds the stretch between two samples, by the trapezoidal rule.
func (x *summed) add(from, to float64, a, b inverter.ABC) {
	h := (to - from) / 2
	if h <= 0 {
		return
	}
	ha, hb := h*x.weight(from), h*x.weight(to)
	x.span += ha + hb
	x.half(ha, from, a)
	x.half(hb, to, b)
	h = (ha + hb) / 2
	for k := range a {
		// Exact for a straight line, which may cross zero.
		x.square[k] += 2 * h * (a[k]*a[k] + a[k]*b[k] + b[k]*b[k]) / 3
		if a[k]*b[k] < 0 {
			x.size[k] += h * (a[k]*a[k] + b[k]*b[k]) / (math.Abs(a[k]) + math.Abs(b[k]))
		} else {
			x.size[k] += h * math.Abs(a[k]+b[k])
		}
	}
}

func (x *summed) weight(theta float64) float64 {
	if x.window == 0 {
		return 1
	}
	return 1 - math.Cos(x.window*(theta-x.start))
}

func (x *summed) half(h, theta float64, i inverter.ABC) {
	v := vector(i)
	turn := cmplx.Rect(1, -theta)
	p := cmplx.Rect(h, Orders*theta) * v
	for k := range x.orders {
		x.orders[k] += p
		p *= turn
	}
	x.length += h * math.Sqrt(1.5) * cmplx.Abs(v)
	sum := 0.0
	for k := range i {
		x.mean[k] += h * i[k]
		x.phases[k] += complex(h*i[k], 0) * turn
		sum += i[k]
	}
	x.total += complex(h*sum, 0) * turn
	x.totalMean += h * sum
}

func (x *summed) into(s *Signature) {
	for k := range s.Mean {
		s.Mean[k] = x.mean[k] / x.span
		s.RMS[k] = math.Sqrt(x.square[k] / x.span)
		s.MeanAbs[k] = x.size[k] / x.span
		s.Normal[k] = ratio(x.size[k], x.length)
		s.Fundamental[k] = x.phases[k] * complex(2/x.span, 0)
	}
	for k := range s.Vector {
		s.Vector[k] = x.orders[k] / complex(x.span, 0)
	}
	s.SumMean = x.totalMean / x.span
	s.SumLine = x.total * complex(2/x.span, 0)
}
