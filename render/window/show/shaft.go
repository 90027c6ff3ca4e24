package show

import (
	"fmt"
	"math"

	"sextant/motor"
	"sextant/motor/drive"
)

// addSpeed changes a held shaft's speed, or the speed that a loop is asked for, by a twentieth of what the
// scenario began with.
func (s *Show) addSpeed(sense float64) {
	sc := s.drive.Scenario()
	loop := sc.Gating.Follow == drive.Current && sc.Gating.SpeedLoop
	switch {
	case sc.Machine.Kind == motor.Passive:
		s.say("A passive load has no shaft.")
		return
	case sc.Shaft.Free && !loop:
		s.say("The shaft is free: its speed follows from torque and load, which l and L change.")
		return
	}
	first := s.choices[s.chosen].Scenario
	const rpm = math.Pi / 30
	by := max(round(math.Abs(first.Shaft.Speed)/20/rpm, 1), 10) * rpm
	if loop {
		by = max(round(math.Abs(first.Gating.SpeedCommand)/20/rpm, 1), 10) * rpm
	}
	s.change(func(sc *drive.Scenario) {
		to := &sc.Shaft.Speed
		if loop {
			to = &sc.Gating.SpeedCommand
		}
		*to = stepped(*to, sense*by)
	}, func(sc *drive.Scenario) string {
		if loop {
			return fmt.Sprintf("Speed asked for: %s rpm.", number(sc.Gating.SpeedCommand/rpm))
		}
		text := fmt.Sprintf("The shaft is held at %s rpm", number(sc.Shaft.Speed/rpm))
		if field := sc.Gating.Frequency * 60 / float64(sc.Machine.PolePairs); sc.Gating.Follow == drive.Clock && field != 0 {
			text += fmt.Sprintf("; the field turns at %s rpm", number(field))
		}
		return text + "."
	})
}

// addLoad changes the load torque by a twentieth of the torque's scale.
func (s *Show) addLoad(sense float64) {
	if sc := s.drive.Scenario(); !sc.Shaft.Free {
		s.say("The shaft is held, whatever the load; k and K change its speed.")
		return
	}
	by := max(round(s.scales.Torque/20, 1), 1e-3)
	s.change(func(sc *drive.Scenario) {
		sc.Shaft.LoadTorque = stepped(sc.Shaft.LoadTorque, sense*by)
	}, func(sc *drive.Scenario) string { return fmt.Sprintf("Load: %s N m.", number(sc.Shaft.LoadTorque)) })
}
