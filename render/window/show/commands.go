package show

import (
	"fmt"
	"math"

	"sextant/inverter/pattern"
	"sextant/motor/drive"
)

const (
	// advanceStep is a step of the advance, in electrical degrees, and mostAdvance its largest size.
	advanceStep, mostAdvance = 5, 90
	// dutyStep is a step of a duty.
	dutyStep = 0.05
)

// noCommand is said where no current is asked for.
const noCommand = "Nothing asks for a current in this scenario; its voltage makes it. Scenarios with current control have a command."

// addFlux changes the current asked for along the magnet, id, by a twentieth of the current's scale.
func (s *Show) addFlux(sense float64) {
	if s.drive.Scenario().Gating.Follow != drive.Current {
		s.say(noCommand)
		return
	}
	by := s.currentStep()
	s.change(func(sc *drive.Scenario) {
		sc.Gating.ID = stepped(sc.Gating.ID, sense*by)
	}, func(sc *drive.Scenario) string {
		return fmt.Sprintf("Current asked for along the magnet: id = %s A. Below zero it weakens the field.", number(sc.Gating.ID))
	})
}

// currentStep returns by how much a current that is asked for is changed, in A.
func (s *Show) currentStep() float64 { return max(round(s.scales.Current/20, 1), 1e-3) }

// addAdvance changes by how much the voltage vector is ahead of the q axis where position sensors step it.
func (s *Show) addAdvance(sense float64) {
	if s.drive.Scenario().Gating.Follow != drive.Rotor {
		s.say("The advance is of gating that follows the rotor's position sensors; this scenario's does not.")
		return
	}
	const degree = math.Pi / 180
	s.change(func(sc *drive.Scenario) {
		at := math.Round(sc.Gating.Advance/degree) + sense*advanceStep
		sc.Gating.Advance = min(max(at, -mostAdvance), mostAdvance) * degree
	}, func(sc *drive.Scenario) string { return "Advance: " + advance(&sc.Gating) + "." })
}

func advance(g *drive.Gating) string { return fmt.Sprintf("%.0f°", g.Advance*180/math.Pi) }

// dutyOf returns the duty that a scenario's gating has, and whether it has one: of chopping, or of pulses.
func dutyOf(g *drive.Gating) (duty *float64, name string) {
	switch {
	case g.Follow == drive.Rotor:
		return &g.Chop, "chop"
	case g.Kind == pattern.PulsedLow:
		return &g.Duty, "duty"
	}
	return nil, ""
}

// addDuty changes the duty of chopping, or of the pulses of pulsed-low.
func (s *Show) addDuty(by float64) {
	if sc := s.drive.Scenario(); sc.Gating.Follow != drive.Rotor && sc.Gating.Kind != pattern.PulsedLow {
		s.say("Nothing is chopped in this scenario. Gating that follows the rotor is, and the pattern pulsed-low.")
		return
	}
	s.change(func(sc *drive.Scenario) {
		g := &sc.Gating
		duty, _ := dutyOf(g)
		*duty = round(min(max(math.Round((*duty+by)/dutyStep)*dutyStep, 0), 1), 3)
		if g.Follow == drive.Rotor && *duty < 1 && g.Carrier == 0 { // chopping needs one
			g.Carrier = round(chopsPerTurn/s.turn(), 2)
		}
	}, func(sc *drive.Scenario) string {
		duty, name := dutyOf(&sc.Gating)
		return fmt.Sprintf("%s: %.0f %%.", upper(name), 100**duty)
	})
}

// chopsPerTurn is how often a turn gating is chopped where the scenario has no carrier.
const chopsPerTurn = 60

// addCommand changes the current asked for across the magnet, iq, by a twentieth of the current's scale.
func (s *Show) addCommand(sense float64) {
	switch g := s.drive.Scenario().Gating; {
	case g.Follow != drive.Current:
		s.say(noCommand)
		return
	case g.SpeedLoop:
		s.say("The speed loop asks for the current; k and K change the speed it is asked for.")
		return
	}
	by := s.currentStep()
	s.change(func(sc *drive.Scenario) {
		sc.Gating.IQ = stepped(sc.Gating.IQ, sense*by)
	}, func(sc *drive.Scenario) string {
		return fmt.Sprintf("Current asked for: iq = %s A.", number(sc.Gating.IQ))
	})
}
