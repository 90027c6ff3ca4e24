package scenario

import (
	"fmt"
	"math"

	"sextant/inverter/si"
	"sextant/motor"
	"sextant/motor/drive"
)

// What is hard to believe of a drive, and mostly a slip of a prefix or of a way of counting (common practice).
const (
	fewCarriers = 4    // carrier periods in a turn of the field
	longDead    = 0.2  // dead time, of a carrier period
	shortTau    = 2e-5 // time constants of a winding, s
	longTau     = 2.0
	highEMF     = 2.5 // the EMF between two leads, of the link
)

// Doubts says what of a scenario without mistakes is hard to believe, and what may be meant.
func Doubts(s drive.Scenario) []string {
	doubts := MachineDoubts(s.Machine)
	say := func(sure bool, format string, args ...any) {
		if sure {
			doubts = append(doubts, fmt.Sprintf(format, args...))
		}
	}
	g, hertz := s.Gating, s.ElectricalFrequency()
	carrier := g.Carrier
	say(carrier > 0 && carrier < fewCarriers*hertz, "gating.carrier: %s makes %.2g periods in a turn of the field, at %s; is it %s?",
		si.Frequency.Text(carrier), carrier/hertz, si.Frequency.Format(hertz, 4), si.Frequency.Text(1000*carrier))
	say(carrier*g.DeadTime > longDead, "gating.dead_time: %s is %.0f %% of a carrier period", si.Time.Text(g.DeadTime), 100*carrier*g.DeadTime)
	if s.Machine.Kind == motor.PermanentMagnet {
		speed := s.Shaft.Speed
		if s.Shaft.Free {
			speed = s.Shaft.StartSpeed
		}
		star := s.Machine.Star()
		emf := math.Sqrt(3) * star.FluxLinkage * float64(star.PolePairs) * math.Abs(speed)
		say(emf > highEMF*s.Supply.Voltage, "machine.flux_linkage: at %s the EMF is %s peak between two leads, and the link %s; see flux linkage, pole pairs and speed",
			si.Speed.Text(speed), si.Voltage.Format(emf, 3), si.Voltage.Text(s.Supply.Voltage))
	}
	window := s.Run.Measure * hertz
	say(window > 0 && window < 0.99, "run.measure: %s holds %.2g of a turn of the field, at %s; means and rms values are of whole turns", si.Time.Text(s.Run.Measure), window, si.Frequency.Format(hertz, 4))
	return doubts
}

// MachineDoubts says what of a machine is hard to believe.
func MachineDoubts(m motor.Machine) []string {
	if !(m.Resistance > 0) {
		return nil
	}
	tau := max(m.InductanceD, m.InductanceQ) / m.Resistance
	if tau >= shortTau && tau <= longTau {
		return nil
	}
	return []string{fmt.Sprintf("machine.inductance_d: over the resistance it makes a time constant of %s, where 0.1 ms to 0.2 s are usual; see the units of both", si.Time.Format(tau, 3))}
}
