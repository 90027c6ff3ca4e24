package spectrum_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sextant/inverter/pattern"
	"sextant/inverter/spectrum"
)

// Where the current dies within a dead time, the pole changes rails without a gate. U+ goes off at 90
// degrees, the current is zero at 100, U- comes on at 108; and the other way about half a turn on.
func TestCurrentReversesInDeadTime(t *testing.T) {
	const degree = 1. / 360 / 50
	s := pattern.Settings{Kind: pattern.SixStep180, Frequency: 50, DeadTime: 18 * degree}
	w, err := spectrum.Of(s, spectrum.Pole, 2, 10*math.Pi/180)
	if err != nil {
		t.Fatal(err)
	}
	times := []float64{0, 90, 100, 108, 270, 280, 288}
	levels := []float64{1, -1, 1, -1, 1, -1, 1}
	if len(w.Times) != len(times) {
		t.Fatalf("%d levels from %v, want %d", len(w.Times), w.Times, len(times))
	}
	for i := range times {
		if !scalar.EqualWithinAbs(w.Times[i], times[i]*degree, 1e-12) || w.Levels[i] != levels[i] {
			t.Errorf("%g from %g degrees, want %g from %g", w.Levels[i], w.Times[i]/degree, levels[i], times[i])
		}
	}
}

// The mean of a pole that is clamped to one side is no distortion.
func TestMeanIsNoDistortion(t *testing.T) {
	s := pattern.Settings{Kind: pattern.ClampedHigh, Frequency: 50, Modulation: 0.8, CarrierRatio: 39}
	w := wave(t, s, spectrum.Pole, 2)
	if w.Mean() < 0.3 || w.RMS() != 1 {
		t.Errorf("mean %g, rms %g", w.Mean(), w.RMS())
	}
	sum := 0.0
	h := harmonics(w, 20000)
	for _, x := range h[1:] {
		sum += x.Peak * x.Peak
	}
	// The tail of orders over n is about 1/n of the whole.
	if got, want := thd(t, w), math.Sqrt(sum)/h[0].Peak; !scalar.EqualWithinRel(got, want, 2e-3) || got < want {
		t.Errorf("THD %.6f, of 20000 orders %.6f", got, want)
	}
}
