package spectrum_test

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sextant/inverter/pattern"
	"sextant/inverter/spectrum"
)

func wave(t testing.TB, s pattern.Settings, v spectrum.Voltage, supply float64) spectrum.Wave {
	t.Helper()
	w, err := spectrum.Of(s, v, supply, 0)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func harmonics(w spectrum.Wave, n int) []spectrum.Harmonic {
	h := make([]spectrum.Harmonic, n)
	w.Harmonics(h)
	return h
}

func thd(t testing.TB, w spectrum.Wave) float64 {
	t.Helper()
	x, ok := w.THD()
	if !ok {
		t.Fatal("no fundamental")
	}
	return x
}

func weighted(t testing.TB, w spectrum.Wave) float64 {
	t.Helper()
	x, ok := w.WeightedTHD()
	if !ok {
		t.Fatal("no fundamental")
	}
	return x
}

// In units of the supply. 180 degrees: Mohan, Undeland, Robbins, Power Electronics, 3rd ed., sections 8-3 and
// 8-4-2; 120 degrees: Rashid, Power Electronics, 3rd ed., ch. 6; weighted THD: Holmes & Lipo, Pulse Width
// Modulation for Power Converters (IEEE/Wiley, 2003), ch. 2. The numbers are closed forms.
func TestSteppedWaves(t *testing.T) {
	pi := math.Pi
	cos15 := math.Cos(pi / 12)
	for _, tt := range []struct {
		kind                        pattern.Kind
		of                          spectrum.Voltage
		rms, fundamental, thd, wthd float64
	}{
		{pattern.SixStep180, spectrum.Pole, 0.5, 2 / pi, math.Sqrt(pi*pi/8 - 1), 0.121153},
		{pattern.SixStep180, spectrum.Line, math.Sqrt(2. / 3), 2 * math.Sqrt(3) / pi, math.Sqrt(pi*pi/9 - 1), 0.0463804},
		{pattern.SixStep180, spectrum.Phase, math.Sqrt2 / 3, 2 / pi, math.Sqrt(pi*pi/9 - 1), 0.0463804},
		{pattern.SixStep120, spectrum.Line, math.Sqrt2 / 2, 3 / pi, math.Sqrt(pi*pi/9 - 1), 0.0463804},
		{pattern.SixStep120, spectrum.Phase, 1 / math.Sqrt(6), math.Sqrt(3) / pi, math.Sqrt(pi*pi/9 - 1), 0.0463804},
		{pattern.TwelveStep150, spectrum.Line, math.Sqrt(7. / 12), 2 * math.Sqrt(3) / pi * cos15, math.Sqrt(7*pi*pi/(72*cos15*cos15) - 1), 0.0160568},
		{pattern.TwelveStep150, spectrum.Phase, math.Sqrt(7. / 36), 2 / pi * cos15, math.Sqrt(7*pi*pi/(72*cos15*cos15) - 1), 0.0160568},
	} {
		w := wave(t, pattern.Settings{Kind: tt.kind, Frequency: 50, Phase: 0.3}, tt.of, 1)
		h := harmonics(w, 1)[0]
		angle := 0.3
		if tt.of == spectrum.Line {
			angle += pi / 6 // UV leads U by 30 degrees
		}
		for _, x := range []struct {
			name           string
			got, want, tol float64
		}{
			{"rms", w.RMS(), tt.rms, 1e-9}, {"fundamental", h.Peak, tt.fundamental, 1e-9}, {"angle", h.Angle, angle, 1e-9},
			{"THD", thd(t, w), tt.thd, 1e-9}, {"weighted THD", weighted(t, w), tt.wthd, 5e-7}, {"mean", w.Mean(), 0, 1e-12},
		} {
			if !scalar.EqualWithinAbs(x.got, x.want, x.tol) {
				t.Errorf("%v %v: %s %.10g, want %.10g", tt.kind, tt.of, x.name, x.got, x.want)
			}
		}
	}
}

// Orders 6k±1 at 1/n of the fundamental and nothing else: Mohan, Undeland, Robbins, Power Electronics, 3rd
// ed., section 8-4-2. For 150 degrees the 5th and 7th shrink by tan 15°: computed.
func TestSteppedOrders(t *testing.T) {
	for _, tt := range []struct {
		kind pattern.Kind
		want map[int]float64 // share of the fundamental
	}{
		{pattern.SixStep180, map[int]float64{5: 0.2, 7: 1. / 7, 11: 1. / 11, 13: 1. / 13, 17: 1. / 17, 19: 1. / 19}},
		{pattern.SixStep120, map[int]float64{5: 0.2, 7: 1. / 7, 11: 1. / 11, 13: 1. / 13, 17: 1. / 17, 19: 1. / 19}},
		{pattern.TwelveStep150, map[int]float64{5: 0.053590, 7: 0.038278, 11: 1. / 11, 13: 1. / 13, 17: 0.015762, 19: 0.014103}},
	} {
		for _, of := range []spectrum.Voltage{spectrum.Line, spectrum.Phase} {
			h := harmonics(wave(t, pattern.Settings{Kind: tt.kind, Frequency: 50}, of, 1), 20)
			for _, x := range h[1:] {
				if got := x.Peak / h[0].Peak; !scalar.EqualWithinAbs(got, tt.want[x.Order], 5e-7) {
					t.Errorf("%v %v: order %d is %.7f of the fundamental, want %.7f", tt.kind, of, x.Order, got, tt.want[x.Order])
				}
			}
		}
	}
}

// A list of harmonics, however long, gives too low a THD; IEEE 519 stops at 50. The distortion factor
// weights by the order squared: Rashid, Power Electronics, 3rd ed., ch. 6.
func TestListsFallShort(t *testing.T) {
	h := harmonics(wave(t, pattern.Settings{Kind: pattern.SixStep180, Frequency: 50}, spectrum.Line, 1), 2000)
	sum := func(orders int, weight float64) float64 {
		total := 0.0
		for _, x := range h[1:orders] {
			share := x.Peak / h[0].Peak / math.Pow(float64(x.Order), weight)
			total += share * share
		}
		return math.Sqrt(total)
	}
	for _, tt := range []struct {
		orders       int
		weight, want float64
	}{
		{13, 0, 0.273111}, {25, 0, 0.290363}, {49, 0, 0.300153}, {50, 0, 0.300153}, {2000, 2, 0.0085644},
	} {
		if got := sum(tt.orders, tt.weight); !scalar.EqualWithinAbs(got, tt.want, 1e-6) {
			t.Errorf("to order %d, weight %g: %.7f, want %.7f", tt.orders, tt.weight, got, tt.want)
		}
	}
}

// The star point is a square wave of a sixth of the supply at three times the frequency; so is the third
// harmonic that the pole has and the phase has not. Mohan, Undeland, Robbins, Power Electronics, 3rd ed.
func TestPoleIsPhasePlusStarPoint(t *testing.T) {
	s := pattern.Settings{Kind: pattern.SixStep180, Frequency: 50}
	pole, phase := harmonics(wave(t, s, spectrum.Pole, 1), 9), harmonics(wave(t, s, spectrum.Phase, 1), 9)
	if want := 4 / math.Pi / 6; !scalar.EqualWithinAbs(pole[2].Peak-phase[2].Peak, want, 1e-12) || phase[2].Peak != 0 {
		t.Errorf("third harmonic %.9f in the pole, %.9f in the phase; want %.9f and 0", pole[2].Peak, phase[2].Peak, want)
	}
	if !scalar.EqualWithinAbs(pole[0].Peak, phase[0].Peak, 1e-12) {
		t.Errorf("fundamental %.9f in the pole, %.9f in the phase", pole[0].Peak, phase[0].Peak)
	}
}

func TestTurningBackwards(t *testing.T) {
	for _, k := range []pattern.Kind{pattern.SixStep180, pattern.SpaceVector} {
		s := pattern.Settings{Kind: k, Frequency: -50, Phase: 0.4, Modulation: 0.8, CarrierRatio: 20}
		h := harmonics(wave(t, s, spectrum.Line, 1), 1)[0]
		// cos(-ωt + 0.4): U leads W now, and UV lags U by 30 degrees, which the sign of f turns round.
		if want := 0.4 + math.Pi/6; !scalar.EqualWithinAbs(h.Angle, want, 2e-3) {
			t.Errorf("%v: line fundamental at %g rad, want %g", k, h.Angle, want)
		}
	}
}

func TestOfRefuses(t *testing.T) {
	s := pattern.Settings{Kind: pattern.SixStep180, Frequency: 50}
	var wrong *pattern.SettingError
	for _, supply := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, err := spectrum.Of(s, spectrum.Pole, supply, 0); !errors.As(err, &wrong) || wrong.Key != "supply" {
			t.Errorf("a supply of %g V: %v", supply, err)
		}
	}
	for _, lag := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if _, err := spectrum.Of(s, spectrum.Pole, 1, lag); !errors.As(err, &wrong) || wrong.Key != "power_factor" {
			t.Errorf("a lag of %g: %v", lag, err)
		}
	}
	s.Kind = pattern.AllLow
	if _, err := spectrum.Of(s, spectrum.Pole, 1, 0); err == nil {
		t.Error("found a fundamental in all-low")
	}
}

func TestNoFundamental(t *testing.T) {
	w := wave(t, pattern.Settings{Kind: pattern.SineTriangle, Frequency: 50, CarrierRatio: 21}, spectrum.Pole, 1)
	if x, ok := w.THD(); ok {
		t.Errorf("THD %g of a wave without fundamental", x)
	}
	if x, ok := w.WeightedTHD(); ok {
		t.Errorf("weighted THD %g of a wave without fundamental", x)
	}
}
