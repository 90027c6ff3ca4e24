package picture_test

import (
	"testing"

	"sextant/motor/scenario"
	"sextant/render/picture"
)

// Where nothing drives the current when a drive has settled, the picture shows a moment at which something does.
func TestTelling(t *testing.T) {
	for _, name := range []string{"hauler-pwm", "hauler-climb", "trainer-six-step", "hauler-short"} {
		s, err := scenario.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		settled, err := picture.At(s, s.Run.Settle)
		if err != nil {
			t.Fatal(err)
		}
		v, err := picture.Telling(s, s.Run.Settle)
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case name == "hauler-short": // always idle
			if v.Now.Time != s.Run.Settle {
				t.Errorf("%s: shown at %g s", name, v.Now.Time)
			}
		case v.Now.VoltageVector().Abs() < s.Supply.Voltage/2:
			t.Errorf("%s: at %g s the bridge gives %v", name, v.Now.Time, v.Now.VoltageVector())
		case v.Now.Time < s.Run.Settle || v.Now.Time > s.Run.Settle+picture.Turn(&s):
			t.Errorf("%s: shown at %g s", name, v.Now.Time)
		}
		if idle := settled.Now.VoltageVector().Abs() < 1e-6; !idle && v.Now.Time != s.Run.Settle {
			t.Errorf("%s: moved from %g s without need", name, s.Run.Settle)
		}
	}
}
