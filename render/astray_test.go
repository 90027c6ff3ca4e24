package render

import (
	"math"
	"testing"

	"sextant/inverter"
	"sextant/motor/drive"
)

// The state named at a corner of the hexagon puts the voltage vector there, whichever leads are crossed.
func TestCornersNameTheStateThatLeadsThere(t *testing.T) {
	for _, astray := range [][3]uint8{{}, {0, 1, 2}, {2, 0, 1}, {1, 2, 0}, {1, 1, 1}} {
		now := drive.Instant{Astray: astray}
		for k := range inverter.Active {
			g := Towards(&now, k)
			now.Phase = g.Poles(3).Star()
			if got, want := now.VoltageVector().Angle(), cornerAngle(k); math.Abs(math.Remainder(got-want, 2*math.Pi)) > 1e-9 || !g.Complete() {
				t.Errorf("leads %v: %v points to %g rad, want %g", astray, g, got, want)
			}
			if astray == [3]uint8{} && g != inverter.Active[k] {
				t.Errorf("corner %d is %v, want %v", k, g, inverter.Active[k])
			}
		}
	}
	if g := Towards(&drive.Instant{}, 6); g != 0 {
		t.Errorf("beyond the last corner: %v", g)
	}
}
