package show

import (
	"fmt"
	"math"

	"sextant/motor"
	"sextant/motor/drive"
)

// A grip is a hand on the rotor; what it does until it lets go is one change.
type grip struct {
	turned float64        // rad, electrical
	before drive.Scenario // of a free rotor
}

// letGo ends the grip.
func (s *Show) letGo() { s.gripped, s.grip = false, grip{} }

// TurnRotor turns the rotor by so many electrical radians, as a hand does: one that is held goes along, one that is
// free feels the hand as a load.
func (s *Show) TurnRotor(by float64) {
	if by == 0 {
		return
	}
	if sc := s.drive.Scenario(); sc.Shaft.Free && sc.Machine.Kind != motor.Passive {
		s.pullRotor(by)
		return
	}
	if err := s.turnRotor(by); err != nil {
		s.say(sentence(err))
		return
	}
	s.grip.turned += by
	total := s.grip.turned
	s.keep(step{
		told:  s.message,
		back:  func() error { return s.turnRotor(-total) },
		again: func() error { return s.turnRotor(total) },
	})
	s.gripped = true
}

// turnRotor turns a held rotor and says so.
func (s *Show) turnRotor(by float64) error {
	if err := s.drive.Turn(by); err != nil {
		return err
	}
	s.handled()
	s.say(fmt.Sprintf("The rotor is turned to %.0f degrees.", s.drive.Now().Rotor*180/math.Pi))
	return nil
}

// pullRotor pulls at a free rotor: half a turn of the hand, against the way it turns forward, is a load of the
// torque's full scale.
func (s *Show) pullRotor(by float64) {
	if !s.gripped {
		s.grip.before = s.drive.Scenario()
	}
	before, after := s.grip.before, s.drive.Scenario()
	full := max(s.scales.Torque, 1e-2)
	s.grip.turned += by
	after.Shaft.LoadTorque = round(before.Shaft.LoadTorque-s.grip.turned/math.Pi*full, 3)
	if math.Abs(after.Shaft.LoadTorque) < full/1000 {
		after.Shaft.LoadTorque = 0
	}
	if err := s.carryOn(after); err != nil {
		s.say(sentence(err))
		return
	}
	told := fmt.Sprintf("The hand makes the load %s N m.", number(after.Shaft.LoadTorque))
	s.keep(step{
		told:  told,
		back:  func() error { return s.carryOn(before) },
		again: func() error { return s.carryOn(after) },
	})
	s.gripped = true
	s.tell(told)
}

// rotorStep is a step of a rotor that is turned by a key, in electrical degrees.
const rotorStep = 5

// nudgeRotor turns the rotor by a step, as a hand does.
func (s *Show) nudgeRotor(sense float64) {
	s.letGo()
	s.TurnRotor(sense * rotorStep * math.Pi / 180)
}

// handOnRotor returns what the hand does to the rotor, in a word.
func (s *Show) handOnRotor(sc *drive.Scenario) string {
	if sc.Shaft.Free {
		return number(sc.Shaft.LoadTorque) + " N m"
	}
	return fmt.Sprintf("%.0f°", s.now().Rotor*180/math.Pi)
}
