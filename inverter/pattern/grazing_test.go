package pattern_test

import (
	"math"
	"testing"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// TestSeveralCrossingsASlope sweeps low ratios and deep modulation, where a reference can overtake the
// carrier and be overtaken again within one slope, and compares all pulses with a fine scan of the
// definition.
func TestSeveralCrossingsASlope(t *testing.T) {
	most := 0
	for _, kind := range carrierKinds() {
		for _, ratio := range []float64{0.11, 0.5, 0.8, 1, 1.37, 1.9, 2.4} {
			for phase := 0.0; phase < 6; phase += 0.77 {
				s := pattern.Settings{
					Kind: kind, Sampling: pattern.Natural, Frequency: 1, Phase: phase, Modulation: 1.15, CarrierRatio: ratio,
				}
				most = max(most, scan(t, s))
			}
		}
	}
	if most < 2 {
		t.Errorf("no slope had a leg change more than %d times; the sweep tests nothing", most)
	}
}

// scan compares s with the definition over some turns and returns the most changes of a leg in a slope.
func scan(t *testing.T, s pattern.Settings) int {
	t.Helper()
	x, err := pattern.New(s)
	if err != nil {
		t.Fatal(err)
	}
	const step = 1e-4 // turns
	edge := func() (float64, inverter.Gates) {
		at, g := x.Next()
		return at, g
	}
	changes := map[float64]int{}
	most := 0
	before := x.Gates()
	for at := step * 0.377; at < 3; at += step {
		for x.Peek() <= at {
			when, g := edge()
			if (before ^ g).Has(inverter.UHigh) {
				_, slope := carrierAt(s, when)
				changes[slope]++
				most = max(most, changes[slope])
			}
			before = g
		}
		if want, margin := wanted(s, at); margin > 1e-9 && x.Gates() != want {
			t.Fatalf("%+v: at %.9g turns %v, want %v (margin %g)", s, at, x.Gates(), want, margin)
		}
	}
	if math.IsInf(x.Peek(), 1) {
		t.Fatalf("%+v: the pattern ended", s)
	}
	return most
}
