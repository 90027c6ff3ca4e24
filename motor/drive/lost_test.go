package drive

import (
	"testing"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// A supply that is lost altogether leaves the rails together: the current dies away in the machine at rest, and no leg
// is at odds with rounding about when it starts.
func TestSupplyLost(t *testing.T) {
	m := machineA
	m.Resistance, m.InductanceD, m.InductanceQ = 2.14, 4.8e-5, 4.8e-5
	for _, kind := range []pattern.Kind{pattern.SixStep120, pattern.SpaceVector, pattern.TwelveStep150} {
		for n := range 40 {
			s := turning(m, kind, 30+float64(n), 0, 0, 1e-3)
			s.Gating.Phase, s.Gating.Modulation, s.Shaft.StartAngle = 0.3*float64(n), 0.2, 0.7*float64(n)
			if kind == pattern.SpaceVector {
				s.Gating.Carrier, s.Gating.DeadTime = 4000, 2e-5
			}
			s.Faults = []Fault{{Kind: SupplySag, Time: 1.4e-4}, {Kind: SwitchOpen, Switch: inverter.VLow, Time: 1.5e-4}}
			if wrong, err := try(s); len(wrong) > 0 || err != nil {
				t.Errorf("%v, %g V: %v, %v", kind, s.Supply.Voltage, wrong, err)
			}
		}
	}
}
