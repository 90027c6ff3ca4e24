package show

import (
	"fmt"
	"math"

	"sextant/inverter/pattern"
	"sextant/inverter/si"
	"sextant/motor"
	"sextant/motor/drive"
)

// turnPattern goes to the next pattern, or the previous, that the drive will take.
func (s *Show) turnPattern(step int) {
	kinds := pattern.Kinds()
	n := len(kinds)
	now := int(s.drive.Scenario().Gating.Kind)
	for i := 1; i < n; i++ {
		k := kinds[((now+i*step)%n+n)%n]
		if s.change(func(sc *drive.Scenario) { s.setPattern(&sc.Gating, k) }, func(*drive.Scenario) string {
			return "Pattern: " + k.String() + "."
		}) == nil {
			return
		}
	}
}

// setPattern makes k the pattern, and gives it what it needs and the scenario has not: a carrier 21 times
// the fundamental and as much modulation as stays linear, or the gates as they are.
func (s *Show) setPattern(g *drive.Gating, k pattern.Kind) {
	keeps := g.Follow == drive.Rotor && k.Stepped() || g.Follow == drive.Current && k.Compares()
	if g.Kind = k; g.Follow != drive.Clock && !keeps {
		g.Follow = drive.Clock
		if g.Frequency == 0 {
			g.Frequency = round(1/s.turn(), 3)
		}
	}
	g.Sampling = pattern.Default
	if k.NeedsCarrier() && g.Carrier == 0 && g.CarrierRatio == 0 {
		g.CarrierRatio = 21
	}
	if k.Compares() && g.Modulation == 0 {
		g.Modulation = math.Floor(100*k.Linear()) / 100
	}
	if k == pattern.PulsedLow && g.Duty == 0 {
		g.Duty = 0.5
	}
	if k == pattern.ByHand {
		g.Hand = s.drive.Now().Gates
	}
}

// scaleFrequency changes the frequency of a pattern, and takes a held shaft along.
func (s *Show) scaleFrequency(factor float64) {
	switch g := s.drive.Scenario().Gating; {
	case g.Follow != drive.Clock:
		s.say("The gating follows the machine, and its frequency is the rotor's.")
		return
	case g.Frequency == 0:
		s.say("This scenario's gating has no frequency to change.")
		return
	}
	follows := false
	s.change(func(sc *drive.Scenario) {
		sc.Gating.Frequency = round(sc.Gating.Frequency*factor, 3)
		if follows = sc.Machine.Kind == motor.PermanentMagnet && !sc.Shaft.Free && sc.Shaft.Speed != 0; follows {
			// A held shaft that kept its speed would fall out of step with the field.
			sc.Shaft.Speed *= sc.Gating.Frequency / s.drive.Scenario().Gating.Frequency
		}
	}, func(sc *drive.Scenario) string {
		text := fmt.Sprintf("Frequency: %s Hz", number(sc.Gating.Frequency))
		if follows {
			text += fmt.Sprintf("; the held shaft goes along at %s rpm", number(sc.Shaft.Speed*30/math.Pi))
		}
		return text + "."
	})
}

// addModulation changes the modulation of a pattern with a carrier, in twentieths.
func (s *Show) addModulation(by float64) {
	g := s.drive.Scenario().Gating
	if g.Follow != drive.Clock {
		s.say("The gating follows the machine and sets the modulation itself.")
		return
	}
	if !g.Kind.Compares() {
		s.say("The pattern " + g.Kind.String() + " has no modulation; press p for one with a carrier.")
		return
	}
	s.change(func(sc *drive.Scenario) {
		sc.Gating.Modulation = max(math.Round((sc.Gating.Modulation+by)*20)/20, 0)
	}, func(sc *drive.Scenario) string {
		text := fmt.Sprintf("Modulation: %.2f", sc.Gating.Modulation)
		if sc.Gating.Modulation > sc.Gating.Kind.Linear() {
			text += fmt.Sprintf(", beyond the %.3f up to which this pattern is linear", sc.Gating.Kind.Linear())
		}
		return text + "."
	})
}

// scaleSupply changes the voltage of the supply.
func (s *Show) scaleSupply(factor float64) {
	s.change(func(sc *drive.Scenario) { sc.Supply.Voltage = round(sc.Supply.Voltage*factor, 3) },
		func(sc *drive.Scenario) string { return fmt.Sprintf("Supply: %s V.", number(sc.Supply.Voltage)) })
}

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

// addDeadTime changes the dead time, by steps.
func (s *Show) addDeadTime(by float64) {
	if g := s.drive.Scenario().Gating; g.DeadTime+by < -deadTimeStep/2 {
		s.say("There is no dead time to take away.")
		return
	}
	s.change(func(sc *drive.Scenario) {
		sc.Gating.DeadTime = math.Round((sc.Gating.DeadTime+by)/deadTimeStep) * deadTimeStep
	}, func(sc *drive.Scenario) string { return "Dead time: " + si.Time.Format(sc.Gating.DeadTime, 3) + "." })
}
