package drive

import (
	"testing"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor"
)

// TestUnknown: a value that a closed set does not have is said under its key, and ends no program.
func TestUnknown(t *testing.T) {
	for key, spoil := range map[string]func(*Scenario){
		"gating.pattern":     func(s *Scenario) { s.Gating.Kind = pattern.ByHand + 1 },
		"gating.sampling":    func(s *Scenario) { s.Gating.Sampling = pattern.RegularDouble + 1 },
		"gating.follow":      func(s *Scenario) { s.Gating.Follow = Current + 1 },
		"gating.chop_side":   func(s *Scenario) { s.Gating.ChopSide = ChopBoth + 1 },
		"machine.kind":       func(s *Scenario) { s.Machine.Kind = motor.Passive + 1 },
		"machine.connection": func(s *Scenario) { s.Machine.Connection = motor.Delta + 1 },
		"machine.emf":        func(s *Scenario) { s.Machine.EMF = motor.Trapezoid + 1 },
		"fault.0.kind":       func(s *Scenario) { s.Faults = []Fault{{Kind: CapacitorResistance + 1}} },
		"fault.1.at": func(s *Scenario) {
			s.Faults = []Fault{{Kind: ShaftBlocked, Phase: 9}, {Kind: PhaseOpen, Phase: inverter.W + 1}}
		},
		"fault.2.at": func(s *Scenario) {
			s.Faults = []Fault{{Kind: SwitchOpen, Switch: inverter.WLow}, {Kind: PhaseOpen, Switch: 9}, {Kind: DiodeOpen, Switch: inverter.WLow + 1}}
		},
	} {
		s := turning(machineA, pattern.SixStep180, 350, 1000, 0, 0.01)
		if err := s.Validate(); err != nil {
			t.Fatal(err)
		}
		spoil(&s)
		problems := s.Problems()
		if len(problems) != 1 || problems[0].Key != key {
			t.Errorf("%s: %v", key, problems)
		}
	}
}
