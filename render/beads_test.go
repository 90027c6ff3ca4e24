package render

import (
	"math"
	"testing"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

func TestBeadsRunWithTheCurrent(t *testing.T) {
	v := demo(t, pattern.SixStep180, 0.0137)
	v.Beads.Advance(v.Now, 0.05)
	for _, p := range inverter.Phases {
		moved := math.Remainder(v.Beads.offset[terminal+wire(p)], 1)
		if moved*v.Now.Current[p] <= 0 {
			t.Errorf("%v carries %g A and its beads moved by %g spacings", p, v.Now.Current[p], moved)
		}
	}
	var still Beads
	still.Advance(v.Now, 0)
	still.Advance(v.Now, math.NaN())
	if still != (Beads{}) {
		t.Error("beads moved in no time")
	}
}

// More current is more beads, and none is there at once or gone at once.
func TestBeadsGrowWithTheCurrent(t *testing.T) {
	for strength, want := range map[float64]int{0.02: 1, 0.25: 2, 1: 4} {
		n := 0
		for k := range beadCycle {
			if beadSize(k, strength) > 0.2 {
				n++
			}
		}
		if n != want {
			t.Errorf("at %g of the full scale there are %d beads of %d, want %d", strength, n, beadCycle, want)
		}
	}
	for k := range beadCycle {
		for s := 0.01; s < 1; s += 0.01 {
			if d := beadSize(k, s) - beadSize(k, s-0.01); d < 0 || d > 0.1 {
				t.Errorf("bead %d grows by %.2f at %.2f of the full scale", k, d, s)
			}
		}
	}
}
