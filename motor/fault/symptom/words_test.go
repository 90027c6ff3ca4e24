package symptom

import (
	"strings"
	"testing"

	"sextant/inverter/si"
	"sextant/motor/drive"
	"sextant/motor/scenario"
)

// TestFindSign: each sign is found by its key, no two share one, and a slip is told what may be meant.
func TestFindSign(t *testing.T) {
	seen := map[string]bool{}
	for i := range Signs {
		s := &Signs[i]
		if found, err := FindSign(s.Key); found != s || err != nil || seen[s.Key] || s.When.String() == "" {
			t.Errorf("%s: %v, %v, there already: %v", s.Key, found, err, seen[s.Key])
		}
		seen[s.Key] = true
		slip := s.Key[:len(s.Key)-1] + "~"
		if _, err := FindSign(slip); err == nil || !strings.Contains(err.Error(), `"`+slip+`" is not a sign`) || !strings.Contains(err.Error(), s.Key) {
			t.Errorf("%s: %v", slip, err)
		}
	}
	if _, err := FindSign(Signs[0].Key + "s"); err == nil || !strings.Contains(err.Error(), "did you mean "+Signs[0].Key+"?") {
		t.Errorf("%v", err)
	}
}

// TestValues: what a fault is taken to be where nobody says is a value that a scenario may have, of the unit that the kind
// is of, and grows with the drive as it should: a joint or a capacitor that drops a share of the supply at twice the
// current has half the resistance.
func TestValues(t *testing.T) {
	s, err := scenario.Open("hauler-pwm")
	if err != nil {
		t.Fatal(err)
	}
	s.Supply.Resistance = 0.01 // without which no capacitor's resistance matters
	units := map[drive.FaultKind]si.Dimension{
		drive.PhaseResistance: si.Resistance, drive.CapacitorResistance: si.Resistance, drive.SupplySag: si.Voltage,
		drive.PositionSensorOffset: si.Angle, drive.CurrentSensorOffset: si.Current,
	}
	for _, name := range []string{
		"phase-resistance:U", "capacitor-resistance", "supply-sag", "position-sensor-offset", "current-sensor-offset:V", "current-sensor-gain:W",
		"capacitor-aged", "demagnetised", "turns-shorted:U", "switch-open:U+",
	} {
		f, err := Parse(name)
		if err != nil {
			t.Fatal(err)
		}
		if want, ok := units[f.Kind]; ok && f.Kind.Dimension() != want || !ok && f.Kind.Dimension() != si.Number {
			t.Errorf("%s is a %v", name, f.Kind.Dimension())
		}
		for _, peak := range []float64{0, 100, 200} {
			if peak == 0 && f.Kind == drive.CurrentSensorOffset {
				continue // there is nothing to be off by
			}
			f.Value = Value(f.Kind, &s, peak)
			if f.Kind.TakesValue() != (f.Value != 0) {
				t.Errorf("%s at %g A is of %g", name, peak, f.Value)
			}
		}
		if units[f.Kind] == si.Resistance && Value(f.Kind, &s, 200) != Value(f.Kind, &s, 100)/2 {
			t.Errorf("%s: %g ohm at 100 A and %g ohm at 200 A", name, Value(f.Kind, &s, 100), Value(f.Kind, &s, 200))
		}
	}
}
