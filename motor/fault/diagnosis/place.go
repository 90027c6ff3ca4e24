package diagnosis

import (
	"math"
	"math/cmplx"
	"slices"

	"sextant/inverter"
)

// openMean returns the angle that the mean-current vector has while a switch stays open: an upper switch
// leaves its phase negative, a lower one positive.
//
// A. M. S. Mendes, A. J. M. Cardoso, "Voltage source inverter fault diagnosis in variable speed AC drives, by
// the average current Park's vector approach", IEMDC 1999.
func openMean(s inverter.Switch) float64 {
	if s.High() {
		return s.Leg().Axis() + pi
	}
	return s.Leg().Axis()
}

// whichSwitch returns how the six switches share the suspicion that one stays open. Two published signs vote:
// the angle of the mean-current vector, exact where the voltage is given, and which phase carries less than
// its share in absolute value, which holds where a current control drives the other two against it.
func (g *signs) whichSwitch() [6]float64 {
	// A control leaves a mean of about half the fundamental; a longer one comes of voltage that is given, and
	// a short one may be half a clamp's offset.
	length := cmplx.Abs(g.mean)
	trust := max(0.3, min(1, 4*length)) + max(0, min(3, 8*(length-0.65)))
	vote := make([]float64, 6)
	for i := range vote {
		s := inverter.Switch(i)
		p := s.Leg()
		others := (g.shortfall[p.Next()] + g.shortfall[p.Next().Next()]) / 2
		lack := max(-1, min(1, (g.shortfall[p]-others)/0.2))
		vote[i] = trust*math.Cos(cmplx.Phase(g.mean)-openMean(s)) + lack
		if side := g.Mean[p]; (side > 0) == s.High() {
			vote[i]-- // its phase leans the other way
		}
	}
	return [6]float64(share(vote, 0.12))
}

// lag returns by how much what phase p lacks lags its current, in rad. A resistance r added to one phase moves
// the currents as the voltage -r i in it would: with the impedance Z of each phase the negative sequence there
// is -r i/(3Z). So -3 times the negative sequence over the phase's own current lags by the angle of Z, 0 to 90
// degrees, for the phase that is at fault, and by 120 degrees more or less for the others.
func (g *signs) lag(p inverter.Phase) float64 {
	f, k := g.Fundamental, int(p)
	if g.Reversed {
		f[1], f[2] = f[2], f[1]
		k = (3 - k) % 3
	}
	if f[k] == 0 {
		return 0
	}
	_, minus := sequences(f)
	return -cmplx.Phase(-minus * cmplx.Rect(1, 2*pi/3*float64(k)) / f[k])
}

// whichResistance returns how the phases share the suspicion of a bad joint, by their lags.
func (g *signs) whichResistance() [3]float64 {
	vote := make([]float64, 3)
	for _, p := range inverter.Phases {
		vote[p] = math.Cos(g.lag(p) - pi/4)
	}
	return [3]float64(share(vote, 0.2))
}

// share turns votes into shares that sum to 1; a lead of scale is worth a factor of e.
func share(votes []float64, scale float64) []float64 {
	most := slices.Max(votes)
	w := make([]float64, len(votes))
	sum := 0.0
	for i, v := range votes {
		w[i] = math.Exp((v - most) / scale)
		sum += w[i]
	}
	for i := range w {
		w[i] /= sum
	}
	return w
}

// whichShort returns the switch of which a short explains best that currents flow one way only, and how well,
// from -1 to 1. After the trip that a short brings about, the diodes of the other two legs let current through
// only toward its rail, and all of it returns through the shorted leg.
func (g *signs) whichShort() (s inverter.Switch, oneWay float64) {
	oneWay = -1
	for i := range inverter.Switch(6) {
		p, sense := i.Leg(), 1.0
		if !i.High() {
			sense = -1
		}
		if x := min(sense*g.lean[p], -sense*g.lean[p.Next()], -sense*g.lean[p.Next().Next()]); x > oneWay {
			s, oneWay = i, x
		}
	}
	return s, oneWay
}

// offAxis returns how far an angle lies from the nearest axis of a phase, of either sense, in rad.
func offAxis(angle float64) float64 { return math.Abs(math.Remainder(angle, pi/3)) }

// stuckMean returns the angle that the mean-current vector has while the position sensor of a phase tells high for
// ever; telling low, it lies the other way. Of the six steps of 60 degrees one is lost and two are led astray,
// so that of the vectors at 30, 90 ... 330 degrees, for U's sensor, 30 and 270 come twice and 330 once.
func stuckMean(p inverter.Phase) float64 { return p.Axis() - pi/6 }

// whichStuck returns how the three position sensors share the suspicion that one is stuck.
func (g *signs) whichStuck() [3]float64 {
	vote := make([]float64, 3)
	for _, p := range inverter.Phases {
		vote[p] = math.Abs(math.Cos(cmplx.Phase(g.meanRaw) - stuckMean(p)))
	}
	return [3]float64(share(vote, 0.06))
}
