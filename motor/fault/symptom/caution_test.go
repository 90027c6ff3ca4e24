package symptom_test

import (
	"strings"
	"testing"

	"sextant/inverter"
	"sextant/motor/drive"
	"sextant/motor/fault/symptom"
	"sextant/motor/scenario"
)

// TestAtOnce: where the magnet feeds a fault, stopping the shaft comes before all else; coils have none.
func TestAtOnce(t *testing.T) {
	for name, first := range map[string]string{"hauler-climb": "Stop the shaft", "passive-rl": "Isolate"} {
		s, err := scenario.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		x, err := symptom.Of(s, drive.Fault{Kind: drive.SwitchShort, Switch: inverter.ULow})
		if err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(x.Cautions[0], first) {
			t.Errorf("%s: %q", name, x.Cautions)
		}
	}
}
