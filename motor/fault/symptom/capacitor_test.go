package symptom

import (
	"testing"

	"sextant/motor/drive"
)

// Capacitors are taken for spent at 80 % of their capacitance or at twice their series resistance (common practice with
// electrolytic ones), not before, and a healthy one never.
func TestCapacitorReadings(t *testing.T) {
	var s drive.Scenario
	s.Supply.Capacitance, s.Supply.CapacitorResistance = 800e-6, 4e-3
	for _, tt := range []struct {
		fault        drive.Fault
		farads, ohms float64
		spent        bool
	}{
		{none, 800e-6, 4e-3, false},
		{drive.Fault{Kind: drive.CapacitorAged, Value: 0.9}, 720e-6, 4e-3, false},
		{drive.Fault{Kind: drive.CapacitorAged, Value: 0.5}, 400e-6, 4e-3, true},
		{drive.Fault{Kind: drive.CapacitorResistance, Value: 2e-3}, 800e-6, 6e-3, false},
		{drive.Fault{Kind: drive.CapacitorResistance, Value: 6e-3}, 800e-6, 10e-3, true},
	} {
		c := MeterOf(&s, tt.fault).Capacitor
		if c == nil || c.Farads != tt.farads || c.Ohms != tt.ohms || c.spent() != tt.spent {
			t.Errorf("%v reads %+v", tt.fault, c)
		}
	}
	s.Supply.Capacitance = 0
	if c := MeterOf(&s, none).Capacitor; c != nil {
		t.Errorf("a stiff link reads %+v", c)
	}
}
