package pattern_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

func cosines(theta, depth float64) inverter.ABC {
	return inverter.Vector{Alpha: depth * math.Cos(theta), Beta: depth * math.Sin(theta)}.ABC()
}

// peak returns the largest reference of a turn.
func peak(k pattern.Kind, depth float64) float64 {
	most := 0.0
	for i := range 36000 {
		ref := pattern.Shape(k, cosines(float64(i)*math.Pi/18000, depth))
		most = max(most, ref[0], -ref[0])
	}
	return most
}

// A sixth of third harmonic lowers the peak to √3/2, and so do the other zero sequences at their limit.
// Houldsworth & Grant, IEEE Trans. IA-20 (1984) 1224.
func TestLinearLimits(t *testing.T) {
	if got := peak(pattern.ThirdHarmonic, 1); !scalar.EqualWithinAbs(got, 0.866025, 1e-6) {
		t.Errorf("third-harmonic peaks at %.7f", got)
	}
	for _, k := range carrierKinds() {
		want := 2 / math.Sqrt(3)
		if k == pattern.SineTriangle {
			want = 1
		}
		if !scalar.EqualWithinAbs(k.Linear(), want, 1e-12) {
			t.Errorf("%v is linear to %g, want %g", k, k.Linear(), want)
		}
		if k.Clamps() { // always at a rail; clipping shows in the line voltage instead
			for i := range 3600 {
				ref := cosines(float64(i)*math.Pi/1800, want*(1-1e-12))
				got, lines := pattern.Shape(k, ref).Lines(), ref.Lines()
				for p := range got {
					if !scalar.EqualWithinAbs(got[p], lines[p], 1e-9) {
						t.Fatalf("%v changes a line voltage at its limit: %g, want %g", k, got[p], lines[p])
					}
				}
			}
			continue
		}
		if got := peak(k, want); !scalar.EqualWithinAbs(got, 1, 1e-6) {
			t.Errorf("%v at its limit peaks at %g", k, got)
		}
	}
	if got := pattern.SixStep180.Linear(); got != 0 {
		t.Errorf("six-step-180 is linear to %g", got)
	}
}

// Min-max zero sequence: a triangle at 3f of peak M/4, with 3rd, 9th and 15th harmonic. Holmes & Lipo, Pulse
// Width Modulation for Power Converters (IEEE/Wiley, 2003), ch. 6.
func TestMinMaxZeroSequence(t *testing.T) {
	zero := func(theta float64) float64 {
		x := cosines(theta, 1)
		return pattern.Shape(pattern.SpaceVector, x)[0] - x[0]
	}
	if got := zero(math.Pi / 3); !scalar.EqualWithinAbs(got, 0.25, 1e-12) {
		t.Errorf("peak %g, want a quarter", got)
	}
	for order, want := range map[int]float64{1: 0, 3: -3 * math.Sqrt(3) / (8 * math.Pi), 9: -0.020675, 15: -0.007384} {
		sum := 0.0
		for i := range 6 { // it has corners at every 60 degrees
			a := float64(i) * math.Pi / 3
			sum += quad.Fixed(func(x float64) float64 { return zero(x) * math.Cos(float64(order)*x) }, a, a+math.Pi/3, 40, nil, 0)
		}
		if got := sum / math.Pi; !scalar.EqualWithinAbs(got, want, 1e-6) {
			t.Errorf("order %d: %.7f, want %.7f", order, got, want)
		}
	}
}

// The fundamental of a clipped sine, (2/π)[M asin(1/M) + sqrt(1 - 1/M²)]: Mohan, Undeland, Robbins, Power
// Electronics, 3rd ed., section 8-2; Hava, Kerkman, Lipo, IEEE Trans. PE-14 (1999) 49.
func TestClippedSine(t *testing.T) {
	for _, tt := range []struct{ depth, want float64 }{
		{1.1, 1.06430}, {1.2, 1.10447}, {1.5, 1.17135}, {2, 1.21800}, {3, 1.24925},
	} {
		f := func(x float64) float64 {
			return pattern.Shape(pattern.SineTriangle, cosines(x, tt.depth))[0] * math.Cos(x)
		}
		corner := math.Acos(1 / tt.depth)
		got := 4 / math.Pi * (quad.Fixed(f, 0, corner, 40, nil, 0) + quad.Fixed(f, corner, math.Pi/2, 40, nil, 0))
		if !scalar.EqualWithinAbs(got, tt.want, 1e-5) {
			t.Errorf("M = %g: %.6f, want %.5f", tt.depth, got, tt.want)
		}
	}
}

// A zero sequence never shows in a line voltage within the linear range.
func TestShapeKeepsLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.SampledFrom(carrierKinds()).Draw(t, "kind")
		depth := rapid.Float64Range(0, k.Linear()).Draw(t, "modulation")
		x := cosines(rapid.Float64Range(-4, 4).Draw(t, "angle"), depth)
		got, want := pattern.Shape(k, x).Lines(), x.Lines()
		for p := range got {
			if !scalar.EqualWithinAbs(got[p], want[p], 1e-12) {
				t.Fatalf("%v of %v changes line %d from %g to %g", k, x, p, want[p], got[p])
			}
		}
	})
}

// Which leg is tied, and where: clamped-60 the one of greatest magnitude, around its peaks; clamped-30 of
// highest and lowest the one nearer mid-rail; clamped-high the highest; clamped-low the lowest. Hava, Kerkman,
// Lipo, IEEE Trans. PE-14 (1999) 49.
func TestClampedStretches(t *testing.T) {
	for _, tt := range []struct {
		kind      pattern.Kind
		high, low [][2]int // degrees in which U is tied
	}{
		{pattern.Clamped60, [][2]int{{-30, 30}}, [][2]int{{150, 210}}},
		{pattern.Clamped30, [][2]int{{-60, -30}, {30, 60}}, [][2]int{{120, 150}, {210, 240}}},
		{pattern.ClampedHigh, [][2]int{{-60, 60}}, nil},
		{pattern.ClampedLow, nil, [][2]int{{120, 240}}},
	} {
		within := func(list [][2]int, degree float64) bool {
			for _, r := range list {
				middle, reach := float64(r[0]+r[1])/2, float64(r[1]-r[0])/2
				if math.Abs(math.Remainder(degree-middle, 360)) < reach {
					return true
				}
			}
			return false
		}
		for degree := 0.5; degree < 360; degree++ {
			got := pattern.Shape(tt.kind, cosines(degree*math.Pi/180, 0.7))[0]
			if (got > 1-1e-12) != within(tt.high, degree) || (got < -1+1e-12) != within(tt.low, degree) {
				t.Errorf("%v: U at %g at %g degrees", tt.kind, got, degree)
			}
		}
	}
}

func TestShapeOfNothing(t *testing.T) {
	for _, k := range carrierKinds() {
		for _, ref := range []inverter.ABC{{}, {math.NaN(), math.NaN(), math.NaN()}} {
			got := pattern.Shape(k, ref) // must not panic
			if ref[0] == 0 && !k.Clamps() && got != ref {
				t.Errorf("%v makes %v of nothing", k, got)
			}
		}
	}
}
