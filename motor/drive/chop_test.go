package drive

import (
	"testing"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// TestChopNever: with a duty of 0 the chopped switches are never on, from the first instant; with 1 they are never off while
// their step lasts.
func TestChopNever(t *testing.T) {
	const carrier, dead = 8000, 1e-6
	for side, chopped := range map[ChopSide]inverter.Gates{ChopHigh: inverter.AllHigh, ChopLow: inverter.AllLow, ChopBoth: inverter.AllHigh | inverter.AllLow} {
		on := map[float64]inverter.Gates{}
		for _, chop := range []float64{0, 1} {
			s := turning(machineA, pattern.SixStep120, 48, 1500, 0, 0.02)
			s.Gating.Follow, s.Gating.Carrier, s.Gating.DeadTime, s.Gating.Chop, s.Gating.ChopSide = Rotor, carrier, dead, chop, side
			tape := NewTape(1<<16, 0)
			simulate(t, s, tape)
			for i := range tape.Len() {
				on[chop] |= tape.Instant(i).Gates
			}
		}
		if all := inverter.AllHigh | inverter.AllLow; on[0] != all&^chopped || on[1] != all {
			t.Errorf("chopping %v: on are %v at a duty of 0 and %v at 1", side, on[0], on[1])
		}
	}
}
