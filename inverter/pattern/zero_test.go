package pattern_test

import (
	"math"
	"testing"

	"sextant/inverter/pattern"
)

// A frequency of -0 Hz, as a file may have it, is 0 Hz.
func TestNegativeZero(t *testing.T) {
	for kind := pattern.SineTriangle; kind <= pattern.ClampedLow; kind++ {
		for _, sampling := range []pattern.Sampling{pattern.Natural, pattern.Regular, pattern.RegularDouble} {
			s := pattern.Settings{Kind: kind, Phase: 0.2, Modulation: 0.7, Carrier: 1000, Sampling: sampling}
			still, err := pattern.New(s)
			if err != nil {
				t.Fatal(err)
			}
			s.Frequency = math.Copysign(0, -1)
			negative, err := pattern.New(s)
			if err != nil {
				t.Fatal(err)
			}
			for range 20 {
				at, gates := still.Next()
				if to, g := negative.Next(); to != at || g != gates {
					t.Fatalf("%v, %v: %v at %g s, want %v at %g s", kind, sampling, g, to, gates, at)
				}
			}
		}
	}
}
