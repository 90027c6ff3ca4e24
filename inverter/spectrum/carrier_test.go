package spectrum_test

import (
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sextant/inverter/pattern"
	"sextant/inverter/spectrum"
)

// Table 8-1 of Mohan, Undeland, Robbins, Power Electronics, 3rd ed. (Wiley, 2003), to four places by Bessel
// functions: pole voltage, peaks over half the supply. Modulations 0.2, 0.4, 0.6, 0.8, 1.
var table81 = []struct {
	carriers, sidebands int
	want                [5]float64
}{
	{0, 1, [5]float64{0.2, 0.4, 0.6, 0.8, 1}},
	{1, 0, [5]float64{1.2420, 1.1506, 1.0058, 0.8181, 0.6010}},
	{1, 2, [5]float64{0.0156, 0.0608, 0.1312, 0.2198, 0.3179}},
	{1, 4, [5]float64{0, 0.0005, 0.0025, 0.0076, 0.0178}},
	{2, 1, [5]float64{0.1903, 0.3261, 0.3702, 0.3144, 0.1812}},
	{2, 3, [5]float64{0.0032, 0.0238, 0.0708, 0.1395, 0.2123}},
	{2, 5, [5]float64{0, 0.0005, 0.0034, 0.0127, 0.0332}},
	{3, 0, [5]float64{0.3353, 0.1233, 0.0832, 0.1706, 0.1128}},
	{3, 2, [5]float64{0.0437, 0.1385, 0.2035, 0.1763, 0.0621}},
	{3, 4, [5]float64{0.0008, 0.0116, 0.0467, 0.1044, 0.1572}},
	{4, 1, [5]float64{0.1630, 0.1572, 0.0080, 0.1052, 0.0676}},
	{4, 3, [5]float64{0.0119, 0.0697, 0.1323, 0.1147, 0.0093}},
	{4, 5, [5]float64{0.0002, 0.0064, 0.0340, 0.0842, 0.1187}},
}

func TestSineTriangleTable(t *testing.T) {
	for _, tt := range []struct {
		ratio int
		tol   float64
	}{{21, 1e-3}, {39, 5e-4}} {
		for i, m := range []float64{0.2, 0.4, 0.6, 0.8, 1} {
			s := pattern.Settings{Kind: pattern.SineTriangle, Frequency: 50, Modulation: m, CarrierRatio: float64(tt.ratio)}
			h := harmonics(wave(t, s, spectrum.Pole, 2), 4*tt.ratio+5)
			for _, row := range table81 {
				for _, order := range []int{row.carriers*tt.ratio - row.sidebands, row.carriers*tt.ratio + row.sidebands} {
					if order < 1 {
						continue
					}
					if got := h[order-1].Peak; !scalar.EqualWithinAbs(got, row.want[i], tt.tol) {
						t.Errorf("N = %d, M = %g: order %d has %.4f, want %.4f", tt.ratio, m, order, got, row.want[i])
					}
				}
			}
		}
	}
}

// TestBesselSeries sums the double Fourier series of natural sampling, with x the carrier's angle and y the
// fundamental's, over every pair that falls on an order; it is exact at any ratio:
//
//	M cos y + Σm Σn 4/(πm) Jn(mπM/2) sin((m + n)π/2) cos(mx + ny)
//
// Holmes & Lipo, Pulse Width Modulation for Power Converters (IEEE/Wiley, 2003), ch. 3.
func TestBesselSeries(t *testing.T) {
	for _, tt := range []struct {
		ratio          int
		depth, phase   float64
		orders, groups int
	}{
		{9, 0.8, 0, 60, 400}, {10, 1, 0.7, 60, 400}, {21, 0.4, -1.3, 100, 300}, {39, 0.95, 2, 200, 200}, {201, 0.8, 0.1, 500, 60},
	} {
		s := pattern.Settings{
			Kind: pattern.SineTriangle, Frequency: 50, Phase: tt.phase, Modulation: tt.depth, CarrierRatio: float64(tt.ratio),
		}
		for _, h := range harmonics(wave(t, s, spectrum.Pole, 2), tt.orders) {
			want := complex(0, 0)
			if h.Order == 1 {
				want = cmplx.Rect(tt.depth, tt.phase)
			}
			for m := 1; m <= tt.groups; m++ {
				// cos(mx + ny) falls on the order directly, or, with its angle turned round, from below zero.
				z := float64(m) * math.Pi * tt.depth / 2
				for _, order := range []int{h.Order, -h.Order} {
					n := order - m*tt.ratio
					if math.Abs(float64(n)) > z+40 {
						continue
					}
					peak := 4 / (math.Pi * float64(m)) * math.Jn(n, z) * math.Sin(float64((m+n)%4)*math.Pi/2)
					angle := float64(n) * tt.phase
					if order < 0 {
						angle = -angle
					}
					want += cmplx.Rect(peak, angle)
				}
			}
			if got := cmplx.Rect(h.Peak, h.Angle); cmplx.Abs(got-want) > 2e-6 {
				t.Errorf("N = %d, M = %g: order %d is %.8f, want %.8f", tt.ratio, tt.depth, h.Order, got, want)
			}
		}
	}
}

// Table 8-2 of the same book: line rms over the supply, at a large ratio.
func TestSineTriangleLineTable(t *testing.T) {
	const ratio = 39
	for _, tt := range []struct {
		depth float64
		want  map[[2]int]float64
	}{
		{0.8, map[[2]int]float64{{0, 1}: 0.4899, {1, 2}: 0.1346, {2, 1}: 0.1925, {3, 2}: 0.1079, {3, 4}: 0.0640, {4, 1}: 0.0644, {1, 0}: 0, {3, 0}: 0, {2, 3}: 0}},
		{1, map[[2]int]float64{{0, 1}: 0.6124, {1, 2}: 0.1947, {2, 1}: 0.1110, {2, 5}: 0.0203, {3, 2}: 0.0380, {3, 4}: 0.0963}},
	} {
		s := pattern.Settings{Kind: pattern.SineTriangle, Frequency: 50, Modulation: tt.depth, CarrierRatio: ratio}
		h := harmonics(wave(t, s, spectrum.Line, 1), 4*ratio+5)
		for at, want := range tt.want {
			order := at[0]*ratio + at[1]
			if got := h[order-1].Peak / math.Sqrt2; !scalar.EqualWithinAbs(got, want, 1e-3) {
				t.Errorf("M = %g: order %d has %.4f, want %.4f", tt.depth, order, got, want)
			}
		}
	}
}

// Regular sampling: the Bessel series of Bowes, Proc. IEE 122 (1975), and Holmes & Lipo, ch. 3, summed and
// checked against computed edges.
func TestRegularSampling(t *testing.T) {
	for _, tt := range []struct {
		sampling pattern.Sampling
		lag      float64 // of the fundamental, degrees
		want     map[int]float64
	}{
		{pattern.RegularDouble, 90. / 21, map[int]float64{1: 0.79964, 3: 0.00107, 19: 0.20386, 21: 0.81807, 23: 0.23430, 41: 0.33146, 43: 0.29734}},
		{pattern.Regular, 180. / 21, map[int]float64{1: 0.79741, 19: 0.20159, 21: 0.81807, 23: 0.23169, 41: 0.33053, 43: 0.29651}},
	} {
		s := pattern.Settings{
			Kind: pattern.SineTriangle, Sampling: tt.sampling, Frequency: 50, Phase: 0.2, Modulation: 0.8, CarrierRatio: 21,
		}
		h := harmonics(wave(t, s, spectrum.Pole, 2), 50)
		for order, want := range tt.want {
			if got := h[order-1].Peak; !scalar.EqualWithinAbs(got, want, 2e-5) {
				t.Errorf("%v: order %d has %.5f, want %.5f", tt.sampling, order, got, want)
			}
		}
		if got, want := (0.2-h[0].Angle)*180/math.Pi, tt.lag; !scalar.EqualWithinAbs(got, want, 1e-3) {
			t.Errorf("%v: the fundamental lags %.4f degrees, want %.4f", tt.sampling, got, want)
		}
	}
}

// Closed forms for a large ratio: pole THD sqrt(2/M² - 1), line rms sqrt(√3 M/π) of the supply, line and
// phase THD sqrt(8/(√3 π M) - 1), whatever the zero sequence within the linear range.
func TestLargeRatio(t *testing.T) {
	for _, k := range []pattern.Kind{pattern.SineTriangle, pattern.ThirdHarmonic, pattern.SpaceVector} {
		for _, m := range []float64{0.4, 0.6, 0.8, 1, 2 / math.Sqrt(3)} {
			if m > k.Linear() {
				continue
			}
			s := pattern.Settings{Kind: k, Frequency: 50, Modulation: m, CarrierRatio: 201}
			pole, line, phase := wave(t, s, spectrum.Pole, 1), wave(t, s, spectrum.Line, 1), wave(t, s, spectrum.Phase, 1)
			tight := 1e-5
			if k == pattern.SpaceVector {
				tight = 1e-3 // its zero sequence has corners, which a natural carrier catches only roughly
			}
			for _, x := range []struct {
				name           string
				got, want, tol float64
			}{
				{"pole THD", thd(t, pole), math.Sqrt(2/(m*m) - 1), tight},
				{"line rms", line.RMS(), math.Sqrt(math.Sqrt(3) * m / math.Pi), 1e-3},
				{"line THD", thd(t, line), math.Sqrt(8/(math.Sqrt(3)*math.Pi*m) - 1), 3e-3},
				{"phase THD", thd(t, phase), math.Sqrt(8/(math.Sqrt(3)*math.Pi*m) - 1), 3e-3},
			} {
				if !scalar.EqualWithinRel(x.got, x.want, x.tol) {
					t.Errorf("%v, M = %g: %s %.6f, want %.6f", k, m, x.name, x.got, x.want)
				}
			}
		}
	}
}

// Exact edges by root finding, at both positions of the carrier.
func TestExactLineVoltage(t *testing.T) {
	for _, tt := range []struct{ phase, rms, thd float64 }{
		{0, 0.66396, 0.91478}, {math.Pi / 39, 0.66439, 0.91609}, // carrier lowest, highest at the peak of U
	} {
		s := pattern.Settings{Kind: pattern.SineTriangle, Frequency: 50, Phase: tt.phase, Modulation: 0.8, CarrierRatio: 39}
		w := wave(t, s, spectrum.Line, 1)
		if got := w.RMS(); !scalar.EqualWithinAbs(got, tt.rms, 1e-5) {
			t.Errorf("phase %g: rms %.5f, want %.5f", tt.phase, got, tt.rms)
		}
		if got := thd(t, w); !scalar.EqualWithinAbs(got, tt.thd, 1e-5) {
			t.Errorf("phase %g: THD %.5f, want %.5f", tt.phase, got, tt.thd)
		}
	}
}

// Overmodulated sine at a large ratio: Mohan, Undeland, Robbins, section 8-2; Hava, Kerkman, Lipo, IEEE
// Trans. PE-14 (1999) 49.
func TestOvermodulation(t *testing.T) {
	for _, tt := range []struct{ depth, want float64 }{{1.1, 1.06430}, {1.2, 1.10447}} {
		s := pattern.Settings{Kind: pattern.SineTriangle, Frequency: 50, Modulation: tt.depth, CarrierRatio: 501}
		if got := harmonics(wave(t, s, spectrum.Pole, 2), 1)[0].Peak; !scalar.EqualWithinAbs(got, tt.want, 1e-4) {
			t.Errorf("M = %g: fundamental %.5f, want %.5f", tt.depth, got, tt.want)
		}
	}
}

// Ripple: the line's weighted THD is 0.740480 sqrt(f)/(MN) with f = 1.5 M² - (4√3/π) M³ + c M⁴. Holmes &
// Lipo, Pulse Width Modulation for Power Converters (IEEE/Wiley, 2003), ch. 5-6; numbers are N times it, in
// percent.
func TestWeightedDistortion(t *testing.T) {
	const ratio = 99
	for _, tt := range []struct {
		kind        pattern.Kind
		depth, want float64
	}{
		{pattern.SineTriangle, 0.4, 66.143}, {pattern.SineTriangle, 0.8, 49.989}, {pattern.SineTriangle, 1, 47.971},
		{pattern.ThirdHarmonic, 0.4, 65.308}, {pattern.ThirdHarmonic, 0.8, 45.390}, {pattern.ThirdHarmonic, 1, 40.197},
		{pattern.SpaceVector, 0.4, 65.239}, {pattern.SpaceVector, 0.8, 44.991}, {pattern.SpaceVector, 1, 39.490},
		{pattern.Clamped60, 0.4, 125.391}, {pattern.Clamped60, 0.8, 72.699}, {pattern.Clamped60, 1, 50.921}, {pattern.Clamped60, 1.1, 43.342},
		{pattern.Clamped30, 0.4, 122.060}, {pattern.Clamped30, 0.8, 66.728}, {pattern.Clamped30, 1, 45.414}, {pattern.Clamped30, 1.1, 39.693},
		{pattern.ClampedHigh, 0.4, 123.737}, {pattern.ClampedHigh, 0.8, 69.777}, {pattern.ClampedHigh, 1, 48.246}, {pattern.ClampedHigh, 1.1, 41.558},
		{pattern.ClampedLow, 0.4, 123.737}, {pattern.ClampedLow, 0.8, 69.777}, {pattern.ClampedLow, 1, 48.246}, {pattern.ClampedLow, 1.1, 41.558},
	} {
		s := pattern.Settings{Kind: tt.kind, Frequency: 50, Modulation: tt.depth, CarrierRatio: ratio}
		if got := 100 * ratio * weighted(t, wave(t, s, spectrum.Line, 1)); !scalar.EqualWithinRel(got, tt.want, 5e-3) {
			t.Errorf("%v, M = %g: %.3f, want %.3f", tt.kind, tt.depth, got, tt.want)
		}
	}
}

// Natural sampling of a reference that jumps shifts the fundamental by per cents: computed by root finding.
func TestClampedTrap(t *testing.T) {
	for _, tt := range []struct {
		sampling pattern.Sampling
		phase    float64
		want     float64
	}{
		{pattern.Natural, 0, 0.7730}, {pattern.Natural, math.Pi / 39, 0.8274}, {pattern.Default, 0, 0.79982},
	} {
		s := pattern.Settings{
			Kind: pattern.Clamped60, Sampling: tt.sampling, Frequency: 50, Phase: tt.phase, Modulation: 0.8, CarrierRatio: 39,
		}
		if got := harmonics(wave(t, s, spectrum.Pole, 2), 1)[0].Peak; !scalar.EqualWithinAbs(got, tt.want, 1e-4) {
			t.Errorf("%v, phase %g: fundamental %.5f, want %.5f", tt.sampling, tt.phase, got, tt.want)
		}
	}
}

// Dead time takes (4/π) V td fc from the fundamental, against the current, and a fifth and a seventh of that
// from the 5th and 7th. Jeong & Park, IEEE Trans. IE-38 (1991) 108; Mohan, Undeland, Robbins, section 8-5.
func TestDeadTimeError(t *testing.T) {
	for _, lag := range []float64{0, 0.5, -2.9} {
		s := pattern.Settings{Kind: pattern.SineTriangle, Frequency: 10, Modulation: 0.8, CarrierRatio: 1000}
		ideal := harmonics(wave(t, s, spectrum.Phase, 350), 7)
		s.DeadTime = 2e-6
		w, err := spectrum.Of(s, spectrum.Phase, 350, lag)
		if err != nil {
			t.Fatal(err)
		}
		real := harmonics(w, 7)
		for order, want := range map[int]float64{1: 8.913, 5: 1.783, 7: 1.273} {
			a, b := ideal[order-1], real[order-1]
			// A square wave of the current's sign has the current's angle in each order, n times over.
			off := (cmplx.Rect(b.Peak, b.Angle) - cmplx.Rect(a.Peak, a.Angle)) * cmplx.Rect(1, float64(order)*lag)
			sign := -math.Sin(float64(order) * math.Pi / 2)
			if !scalar.EqualWithinAbs(cmplx.Abs(off), want, 0.02*want) || math.Abs(cmplx.Phase(off*complex(sign, 0))) > 0.03 {
				t.Errorf("lag %g: order %d is off by %.4f V at %.3f rad from the current, want %.3f against it", lag, order, cmplx.Abs(off), cmplx.Phase(off), want)
			}
		}
	}
}

// A ratio of p/q repeats after q turns; what lies between the orders counts in the rms all the same.
func TestFractionalRatio(t *testing.T) {
	s := pattern.Settings{Kind: pattern.SineTriangle, Frequency: 50, Modulation: 0.8, CarrierRatio: 20.5}
	w := wave(t, s, spectrum.Pole, 2)
	if w.Turns != 2 || !scalar.EqualWithinAbs(w.Period(), 0.04, 1e-15) {
		t.Fatalf("repeats after %d turns, %g s", w.Turns, w.Period())
	}
	h := harmonics(w, 1)[0]
	if !scalar.EqualWithinAbs(h.Peak, 0.8, 1e-9) || !scalar.EqualWithinRel(thd(t, w), math.Sqrt(2/0.64-1), 1e-9) {
		t.Errorf("fundamental %.6f, THD %.6f", h.Peak, thd(t, w))
	}
	// Taken as one long turn it has the same power, order by order.
	w.Turns, w.Frequency = 1, 25
	all := harmonics(w, 40)
	if all[0].Peak > 1e-3 || !scalar.EqualWithinAbs(all[1].Peak, 0.8, 1e-9) {
		t.Errorf("at half the frequency: %.6f, then %.6f", all[0].Peak, all[1].Peak)
	}
}

// TestHarmonicsFarOut compares the recurrence with the sum itself, term by term, out to order 5000.
func TestHarmonicsFarOut(t *testing.T) {
	w := wave(t, pattern.Settings{Kind: pattern.SpaceVector, Frequency: 50, Phase: 1, Modulation: 0.8, CarrierRatio: 39}, spectrum.Line, 1)
	h := harmonics(w, 5000)
	for _, order := range []int{1, 63, 64, 65, 1999, 5000} {
		sum := complex(0, 0)
		for i, level := range w.Levels {
			before := w.Levels[(i+len(w.Levels)-1)%len(w.Levels)]
			sum += complex(level-before, 0) * cmplx.Rect(1, -2*math.Pi*float64(order)*w.Times[i]*w.Frequency)
		}
		want := sum / complex(0, math.Pi*float64(order))
		if got := cmplx.Rect(h[order-1].Peak, h[order-1].Angle); cmplx.Abs(got-want) > 1e-11 {
			t.Errorf("order %d: %v, want %v", order, got, want)
		}
	}
}

func TestVoltageNames(t *testing.T) {
	for _, v := range []spectrum.Voltage{spectrum.Pole, spectrum.Line, spectrum.Phase} {
		text, _ := v.MarshalText()
		var back spectrum.Voltage
		if err := back.UnmarshalText(text); err != nil || back != v {
			t.Errorf("%s reads back as %v, %v", text, back, err)
		}
	}
	var v spectrum.Voltage
	if err := v.UnmarshalText([]byte("rail")); err == nil {
		t.Error("took rail for a voltage")
	}
}

// BenchmarkHarmonics takes 500 orders of a 201-pulse pattern from its settings.
func BenchmarkHarmonics(b *testing.B) {
	for _, v := range []spectrum.Voltage{spectrum.Pole, spectrum.Line, spectrum.Phase} {
		b.Run(v.String(), func(b *testing.B) {
			s := pattern.Settings{Kind: pattern.SpaceVector, Frequency: 50, Modulation: 0.8, CarrierRatio: 201}
			h := make([]spectrum.Harmonic, 500)
			b.ReportAllocs()
			for b.Loop() {
				w := wave(b, s, v, 1)
				w.Harmonics(h)
			}
		})
	}
}
