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

// A turn that starts elsewhere is the same wave, moved, however the dead times in which currents die lie about its
// start and its end; and so is one that is passed faster, with as much less dead time.
func TestDeadTimeAnywhere(t *testing.T) {
	const orders, degree = 25, math.Pi / 180
	series := func(frequency, phase, lag float64) []spectrum.Harmonic {
		s := pattern.Settings{Kind: pattern.SixStep180, Frequency: frequency, Phase: phase, DeadTime: 0.05 / frequency}
		w, err := spectrum.Of(s, spectrum.Line, 350, lag)
		if err != nil {
			t.Fatal(err)
		}
		return harmonics(w, orders)
	}
	for _, lag := range []float64{5 * degree, 13 * degree} {
		want := series(50, 0, lag)
		for phase := 0.0; phase < 360*degree; phase += 3 * degree {
			for i, got := range series(37+phase, phase, lag) {
				n := float64(i + 1)
				if !scalar.EqualWithinAbs(got.Peak, want[i].Peak, 1e-9) {
					t.Errorf("at %g rad order %g has %.9g V, want %.9g V", phase, n, got.Peak, want[i].Peak)
				}
				if off := math.Remainder(got.Angle-want[i].Angle-n*phase, 2*math.Pi); want[i].Peak > 1 && math.Abs(off) > 1e-9 {
					t.Errorf("at %g rad order %g is %g rad off", phase, n, off)
				}
			}
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
