package drive

import (
	"strings"
	"testing"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// TestLawOfStores: a segment is lawful, with or without a capacitor and shorted turns; one whose plant has become another
// since its currents were set going leaves field and capacitor what they do not take up.
func TestLawOfStores(t *testing.T) {
	stiff := turning(machineB, pattern.SpaceVector, 350, 1000, 0, 1)
	stiff.Gating.Frequency, stiff.Gating.Modulation, stiff.Gating.Carrier = 100, 0.8, 8000
	soft := stiff
	soft.Supply.Resistance, soft.Supply.Capacitance, soft.Supply.CapacitorResistance = 0.05, 1e-3, 0.01
	shorted := soft
	shorted.Faults = []Fault{{Kind: TurnsShorted, Phase: inverter.V, Value: 0.1}}
	open := soft
	open.Faults = []Fault{{Kind: PhaseOpen, Phase: inverter.W}}
	for name, s := range map[string]Scenario{"stiff": stiff, "soft": soft, "shorted": shorted, "open": open} {
		for what, spoil := range map[string]func(*plant){
			"nothing":        func(*plant) {},
			"the resistance": func(p *plant) { p.resistance[inverter.U] *= 1.001 },
			"the capacitor":  func(p *plant) { p.series *= 1.001 },
		} {
			d, err := New(s)
			if err != nil {
				t.Fatal(err)
			}
			if err := d.Advance(3.03e-3); err != nil {
				t.Fatal(err)
			}
			seg, p, l := d.seg, d.plant, NewLaw(&s)
			spoil(&p)
			seg.plant = &p
			l.Observe(&seg)
			told := strings.Contains(strings.Join(l.Broken(), "\n"), "take up")
			if want := what == "the resistance" || what == "the capacitor" && name != "stiff"; told != want {
				t.Errorf("%s, spoilt %s: %v", name, what, l.Broken())
			}
		}
	}
}
