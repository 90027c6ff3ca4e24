package diagnosis

import (
	"fmt"
	"math"
	"math/cmplx"

	"sextant/inverter"
	"sextant/motor/fault/signature"
)

// why says in a sentence or two what speaks for a suspect, with numbers.
func (g *signs) why(r Ranked) string {
	length, angle := cmplx.Abs(g.mean), degrees(cmplx.Phase(g.mean))
	switch r.Fault {
	case Healthy:
		text := fmt.Sprintf("the phases are alike: mean-current vector %s of the fundamental, negative sequence %s, even harmonics %s",
			percent(length), percent(g.skew), percent(g.even))
		if !g.Derived {
			text += fmt.Sprintf("; the three sum to a mean of %s and a fundamental of %s", percent(g.offset.size), percent(g.gain.size))
		}
		return text
	case PhaseOpen:
		p := phaseOf(r.At)
		return fmt.Sprintf("phase %v carries %s of what the largest carries, and the other two mirror each other (negative sequence %s of the positive); a leg of which neither switch conducts looks the same",
			p, percent(g.level[p]), percent(g.Negative()))
	case SwitchOpen:
		s := switchOf(r.At)
		p := s.Leg()
		side := "negative"
		if !s.High() {
			side = "positive"
		}
		text := fmt.Sprintf("the mean-current vector is %s of the fundamental, at %.0f deg, where %v open puts it at %.0f deg; ", percent(length), angle, s, degrees(openMean(s)))
		if (g.Mean[p] < 0) == s.High() {
			text += fmt.Sprintf("phase %v's mean is %s (%s); ", p, side, amperes(g.Mean[p]))
		}
		text += fmt.Sprintf("its normalised mean absolute value is %.2f, the others' %.2f and %.2f (healthy %.2f); even harmonics of %s say that half a leg is missing",
			g.Normal[p], g.Normal[p.Next()], g.Normal[p.Next().Next()], signature.HealthyMeanAbsolute, percent(g.even))
		return text
	case SwitchShort:
		s := switchOf(r.At)
		p := s.Leg()
		rail := "+"
		if !s.High() {
			rail = "-"
		}
		return fmt.Sprintf("each phase's current flows one way only (mean over mean size U %.2f, V %.2f, W %.2f), the whole of it through phase %v and back through the other two: so do the diodes of a tripped bridge while the magnet turns and %v ties phase %v to the %s rail",
			g.lean[0], g.lean[1], g.lean[2], p, s, p, rail)
	case PositionStuck:
		p, tells := phaseOf(r.At), "high"
		if math.Cos(cmplx.Phase(g.meanRaw)-stuckMean(p)) < 0 {
			tells = "low"
		}
		length, angle := g.MeanVector()
		return fmt.Sprintf("the mean-current vector is %s of the fundamental, at %.0f deg, between the axes of the phases, and as much as %s of the fundamental turns backwards: more of both than an open switch leaves, and what a bridge makes that sensor %v misleads by telling %s for ever, at two steps of six, while it loses a third",
			percent(length), degrees(angle), percent(g.Negative()), p, tells)
	case PhaseResistance:
		return g.whyUnlike(phaseOf(r.At), length)
	case TurnsShorted, DiodeOpen, SupplySag, CapacitorAged, Demagnetised, PositionOffset, PositionSwapped, ShaftBlocked:
		return g.whySimulated(r)
	case SensorOffset:
		return g.whyOffset(r, length, angle)
	case SensorGain:
		if r.own {
			return fmt.Sprintf("the phases are unlike (negative sequence %s) and sum to none, so that the currents are real: simulated with its own sensor of phase %s in error, the drive makes currents that differ from these by %s of the fundamental, less than with any other fault",
				percent(g.skew), r.At, percent(r.distance))
		}
		if g.Derived {
			return fmt.Sprintf("the phases are unlike (negative sequence %s) while both half-waves agree; a clamp on %s that reads %.2f of the true current would do that", percent(g.skew), r.At, 1+r.value)
		}
		return fmt.Sprintf("the three currents sum to a fundamental of %s, %s of a phase's, which three wires cannot carry; it lies along phase %s, whose sensor reads %.2f of the true current",
			amperes(cmplx.Abs(g.SumLine)), percent(g.gain.size), r.At, 1+r.value)
	}
	return ""
}

func (g *signs) whyOffset(r Ranked, length, angle float64) string {
	shape := fmt.Sprintf("the shape is healthy (even harmonics %s, negative sequence %s)", percent(g.even), percent(g.skew))
	switch {
	case r.own:
		return fmt.Sprintf("a mean current of %s of the fundamental flows at %.0f deg and sums to none, and %s: so does a control drive whose own sensor of phase %s is about %s off",
			percent(length), angle, shape, r.At, amperes(r.value))
	case g.Derived:
		return fmt.Sprintf("the mean-current vector is %s of the fundamental, at %.0f deg, where an offset of %s of phase %s's sensor puts it, and %s",
			percent(length), angle, amperes(r.value), r.At, shape)
	}
	return fmt.Sprintf("the three currents sum to a mean of %s, %s of the fundamental, which three wires cannot carry; an offset of phase %s's sensor explains the mean vector, too, and %s",
		amperes(g.SumMean), percent(g.offset.size), r.At, shape)
}

// whyUnlike says what speaks for a bad joint in phase p, and where it does so badly.
func (g *signs) whyUnlike(p inverter.Phase, length float64) string {
	const rounded = 12 // deg that a lag may be off
	text := fmt.Sprintf("the phases are unlike (negative sequence %s of the positive) while both half-waves agree (even harmonics %s, mean %s); what phase %v lacks lags its current by %.0f deg",
		percent(g.skew), percent(g.even), percent(length), p, g.lag(p)*180/pi)
	if lag := g.lag(p) * 180 / pi; lag < -rounded || lag > 90+rounded {
		return text + ", where a joint's resistance makes 0 to 90 deg: this is the nearest of the three phases, and turns shorted within a winding, or a sensor's gain, may well be the cause"
	}
	return text + ", as with a joint's resistance in series with its winding: 0 to 90 deg"
}

// whySimulated says what speaks for a fault that only the simulation of the drive's own scenario can name.
func (g *signs) whySimulated(r Ranked) string {
	return fmt.Sprintf("the drive's own scenario, simulated with %s, makes currents that differ from these by %s of the fundamental, less than with any other fault (here: fundamental %s, mean vector %s, negative sequence %s, even harmonics %s)",
		r.Suspect, percent(r.distance), amperes(g.amplitude), percent(cmplx.Abs(g.meanRaw)), percent(g.Negative()), percent(g.even))
}

func phaseOf(at string) inverter.Phase {
	var p inverter.Phase
	if err := p.UnmarshalText([]byte(at)); err != nil {
		panic("diagnosis: " + err.Error())
	}
	return p
}

func switchOf(at string) inverter.Switch {
	var s inverter.Switch
	if err := s.UnmarshalText([]byte(at)); err != nil {
		panic("diagnosis: " + err.Error())
	}
	return s
}

// percent writes a part in per cent, with a decimal where it is small.
func percent(x float64) string {
	if x = 100 * x; math.Abs(x) < 9.95 {
		return fmt.Sprintf("%.1f %%", x)
	}
	return fmt.Sprintf("%.0f %%", x)
}

// amperes writes a current with three digits.
func amperes(x float64) string { return fmt.Sprintf("%.3g A", x) }
