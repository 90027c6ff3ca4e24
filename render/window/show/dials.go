package show

import (
	"fmt"
	"math"

	"sextant/inverter/si"
	"sextant/motor"
	"sextant/motor/drive"
)

// scaleCarrier makes the carrier faster or slower: by a tenth, or by three periods a turn where it is counted
// in those, which keeps it a multiple of three.
func (s *Show) scaleCarrier(up bool) {
	switch g := s.drive.Scenario().Gating; {
	case g.Carrier == 0 && g.CarrierRatio == 0, !g.Kind.NeedsCarrier() && g.Follow == drive.Clock:
		s.say("The pattern " + g.Kind.String() + " has no carrier; press p for one that has.")
		return
	}
	s.change(func(sc *drive.Scenario) {
		g := &sc.Gating
		switch {
		case g.CarrierRatio > 0 && up:
			g.CarrierRatio += 3
		case g.CarrierRatio > 0:
			g.CarrierRatio = max(g.CarrierRatio-3, min(3, g.CarrierRatio))
		case up:
			g.Carrier = round(g.Carrier*1.1, 3)
		default:
			g.Carrier = round(g.Carrier/1.1, 3)
		}
	}, func(sc *drive.Scenario) string { return "Carrier: " + carrier(&sc.Gating) + "." })
}

// carrier returns the carrier in words.
func carrier(g *drive.Gating) string {
	switch {
	case g.CarrierRatio > 0:
		return number(g.CarrierRatio) + " a turn"
	case g.Carrier > 0:
		return si.Frequency.Format(g.Carrier, 3)
	}
	return "none"
}

// deadTimeStep is how much one press adds to the dead time, in s.
const deadTimeStep = 0.5e-6

func (s *Show) addDeadTime(by float64) {
	if g := s.drive.Scenario().Gating; g.DeadTime+by < -deadTimeStep/2 {
		s.say("There is no dead time to take away.")
		return
	}
	s.change(func(sc *drive.Scenario) {
		sc.Gating.DeadTime = math.Round((sc.Gating.DeadTime+by)/deadTimeStep) * deadTimeStep
	}, func(sc *drive.Scenario) string { return "Dead time: " + si.Time.Format(sc.Gating.DeadTime, 3) + "." })
}

// stepped returns x and a step more; what is left of nothing by rounding is nothing.
func stepped(x, step float64) float64 {
	if x += step; math.Abs(x) < math.Abs(step)/100 {
		return 0
	}
	return round(x, 6)
}

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

// addCommand changes the current asked for across the magnet, iq, by a twentieth of the current's scale.
func (s *Show) addCommand(sense float64) {
	switch g := s.drive.Scenario().Gating; {
	case g.Follow != drive.Current:
		s.say("Nothing asks for a current in this scenario; its voltage makes it. Scenarios with current control have a command.")
		return
	case g.SpeedLoop:
		s.say("The speed loop asks for the current; k and K change the speed it is asked for.")
		return
	}
	by := max(round(s.scales.Current/20, 1), 1e-3)
	s.change(func(sc *drive.Scenario) {
		sc.Gating.IQ = stepped(sc.Gating.IQ, sense*by)
	}, func(sc *drive.Scenario) string {
		return fmt.Sprintf("Current asked for: iq = %s A.", number(sc.Gating.IQ))
	})
}
