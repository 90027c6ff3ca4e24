package drive

import (
	"math"
	"testing"
)

// Roots are found to the last bits, from the side where the function is no longer above zero, and in few steps: of smooth
// functions in a dozen or two, of those that mislead a secant in no more than four for each of the 53 that bisection takes.
func TestRoot(t *testing.T) {
	for name, tt := range map[string]struct {
		f    func(x float64) float64
		at   float64
		most int
	}{
		"line":             {func(x float64) float64 { return 0.3 - x }, 0.3, 5},
		"parabola":         {func(x float64) float64 { return 0.09 - x*x }, 0.3, 14},
		"sine":             {func(x float64) float64 { return math.Sin(math.Pi * (x + 0.7)) }, 0.3, 12},
		"exponential":      {func(x float64) float64 { return math.Exp(-20*x) - math.Exp(-6) }, 0.3, 24},
		"steep":            {func(x float64) float64 { return math.Pow(0.3, 25) - math.Pow(x, 25) }, 0.3, 40},
		"flat":             {func(x float64) float64 { return -math.Pow(x-0.3, 9) }, 0.3, 4 * 53},
		"flat with a wall": {func(x float64) float64 { return 1e-9 - max(0, x-0.3)*1e9 }, 0.3 + 1e-18, 4 * 53},
		"step":             {func(x float64) float64 { return math.Copysign(1, 0.3-x) }, 0.3, 4 * 53},
		"at the start":     {func(x float64) float64 { return -x }, 0, 4 * 53},
		"at the end":       {func(x float64) float64 { return 1 - x }, 1, 5},
	} {
		n := 0
		got := root(func(x float64) float64 { n++; return tt.f(x) }, 0, 1)
		tolerance := 1e-15
		if name == "flat" { // whose values are rounded to zero around it
			tolerance = 1e-15 + 1e-8
		}
		if math.Abs(got-tt.at) > tolerance || tt.f(got) > 0 {
			t.Errorf("%s: root at %.17g, where it is %g; want %.17g", name, got, tt.f(got), tt.at)
		}
		if n > tt.most {
			t.Errorf("%s: %d evaluations", name, n)
		}
	}
}

// A margin that dips below zero between samples is caught where it does so first, and one that only comes near is let be.
func TestCrossing(t *testing.T) {
	for _, bottom := range []float64{0.15, 0.25, 0.3, 0.49, 0.5, 0.6, 0.77, 0.85} {
		for _, depth := range []float64{1e-3, 1e-6, 1e-12} {
			for _, steep := range []float64{1, 1e5} {
				dip := func(x float64) float64 { return steep * ((x-bottom)*(x-bottom) - depth) }
				x, ok := crossing(dip)
				if want := bottom - math.Sqrt(depth); !ok || math.Abs(x-want) > 1e-9 {
					t.Errorf("a dip of %g at %g: %.12g, %v; want %.12g", depth, bottom, x, ok, want)
				}
				if x, ok := crossing(func(x float64) float64 { return dip(x) + 2*steep*depth }); ok {
					t.Errorf("a near miss of %g at %g is found at %g", depth, bottom, x)
				}
			}
		}
	}
	for _, at := range []float64{0.01, 0.25, 0.3, 0.5, 0.8, 0.999} {
		if x, ok := crossing(func(x float64) float64 { return at - x }); !ok || math.Abs(x-at) > 1e-15 {
			t.Errorf("a fall at %g is found at %g, %v", at, x, ok)
		}
		hill := func(x float64) float64 { return (x + 1e-3) * (at - x) }
		if x, ok := crossing(hill); !ok || math.Abs(x-at) > 1e-12 {
			t.Errorf("a hill that ends at %g is found at %g, %v", at, x, ok)
		}
		if x, ok := crossing(func(x float64) float64 { return 1e-3 + x }); ok {
			t.Errorf("a rise falls at %g", x)
		}
	}
	if x, ok := crossing(func(float64) float64 { return math.Inf(1) }); ok {
		t.Errorf("what has no bound is crossed at %g", x)
	}
}
