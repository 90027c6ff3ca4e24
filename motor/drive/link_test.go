package drive

import (
	"math"
	"testing"

	"sextant/inverter/pattern"
)

// TestLinkBehindResistance: without a capacitor the link is the source less what its resistance drops, in the mean and at each
// instant, and its ripple is from the least to the most of that.
func TestLinkBehindResistance(t *testing.T) {
	const resistance = 0.05
	for _, s := range []Scenario{
		passive(pattern.SixStep180, 220, 5, 23e-3, 60, 20),
		turning(machineB, pattern.SixStep180, 350, 3000, 0.05, 0.02),
	} {
		s.Supply.Resistance = resistance
		if s.Gating.Frequency == 0 {
			s.Gating.Frequency = 200
		}
		tape := NewTape(1<<20, 1e-6)
		sum := simulate(t, s, tape)
		low, high := math.Inf(1), math.Inf(-1)
		for i := range tape.Len() {
			x := tape.Instant(i)
			if want := s.Supply.Voltage - resistance*x.Supply; math.Abs(x.Link-want) > 1e-9*want {
				t.Fatalf("at %g s the link is at %g V, want %g V", x.Time, x.Link, want)
			}
			low, high = min(low, x.Link), max(high, x.Link)
		}
		near(t, "mean", sum.Supply.VoltageMean, s.Supply.Voltage-resistance*sum.Supply.CurrentMean, 1e-12)
		near(t, "ripple", sum.Supply.LinkRipple, high-low, 1e-3)
		// A capacitor that held the link would carry all that alternates.
		near(t, "capacitor", sum.Supply.Capacitor, math.Sqrt(sum.Supply.LinkRMS*sum.Supply.LinkRMS-sum.Supply.CurrentMean*sum.Supply.CurrentMean), 1e-9)
	}
}
