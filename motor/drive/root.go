package drive

import "math"

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
