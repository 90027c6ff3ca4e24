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
		text += fmt.Sprintf("its mean absolute value is %.2f short of %.4f, the others' %.2f and %.2f; even harmonics of %s say that half a leg is missing",
			g.shortfall[p], signature.HealthyMeanAbsolute, g.shortfall[p.Next()], g.shortfall[p.Next().Next()], percent(g.even))
		return text
	case PhaseResistance:
		return fmt.Sprintf("the phases are unlike (negative sequence %s of the positive) while both half-waves agree (even harmonics %s, mean %s); the lag of %.0f deg at which phase %v lacks current is that of a series impedance, 0 to 90 deg",
			percent(g.skew), percent(g.even), percent(length), g.lag(phaseOf(r.At))*180/pi, phaseOf(r.At))
	case SensorOffset:
		return g.whyOffset(r, length, angle)
	case SensorGain:
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
