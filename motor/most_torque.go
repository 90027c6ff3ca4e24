package motor

import "math"

// A Region is what bounds the torque of a machine at a speed. It prints in words.
type Region uint8

// The regions: the current alone, current and voltage together, the voltage alone.
const (
	TorquePerAmpere Region = iota
	FieldWeakening
	TorquePerVolt
)

var regionNames = [3]string{"torque-per-ampere", "field-weakening", "torque-per-volt"}

// String returns the region's name.
func (r Region) String() string { return nameOf(regionNames[:], int(r), "Region") }

// MarshalText returns the region's name.
func (r Region) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// MostTorquePerVolt returns the current that makes the most torque with a phase voltage of a size (peak V) at
// electrical speed omega (rad/s, not 0), however large it is. The voltage's angle is solved for, resistance
// included, to rounding. Without resistance it is the closed form of Morimoto et al., IEEE Trans. IA-26 (1990)
// 866.
func (m Machine) MostTorquePerVolt(size, omega float64) DQ {
	// The current is centre + a cos θ + b sin θ, and with θ its torque over 3/2 p is f i_q, f = ψ + ΔL i_d.
	centre := m.Current(DQ{}, omega)
	a, b := m.Current(DQ{D: size}, omega), m.Current(DQ{Q: size}, omega)
	a, b = DQ{a.D - centre.D, a.Q - centre.Q}, DQ{b.D - centre.D, b.Q - centre.Q}
	s := m.saliency()
	f0, fa, fb := m.FluxLinkage+s*centre.D, s*a.D, s*b.D
	slope := harmonics2{
		c1: f0*b.Q + fb*centre.Q,
		s1: -(f0*a.Q + fa*centre.Q),
		c2: fa*b.Q + fb*a.Q,
		s2: fb*b.Q - fa*a.Q,
	}
	best, most := centre, math.Inf(-1)
	stationary := slope.angles()
	for _, theta := range stationary.x[:stationary.n] {
		i := m.Current(DQ{D: size * math.Cos(theta), Q: size * math.Sin(theta)}, omega)
		if t := m.Torque(i); t > most && m.FluxLinkage+s*i.D >= 0 {
			best, most = i, t
		}
	}
	return best
}

// MostTorque returns the current that makes the most torque in the positive sense within a limit at electrical
// speed omega (rad/s; negative is braking a shaft that turns backwards), and what bounds it; ok is false where
// none is to be had. For the most negative torque ask at -omega and turn the sign of i_q.
//
// Torque is a product of two straight functions of the current, both positive here, and each limit's set is
// convex, so there is one maximum: the best of the circle if the voltage allows it, the best of the ellipse if
// the current does, else where circle and ellipse cross. Resistance is included, all to rounding.
func (m Machine) MostTorque(l Limit, omega float64) (i DQ, bound Region, ok bool) {
	if i = m.MostTorquePerAmpere(l.Current); l.holds(m, i, omega) {
		return i, TorquePerAmpere, m.Torque(i) > 0
	}
	if i = m.MostTorquePerVolt(l.Voltage, omega); l.holds(m, i, omega) && m.Torque(i) > 0 {
		return i, TorquePerVolt, true
	}
	most := 0.0
	crossings := m.crossings(l, omega)
	for _, beta := range crossings.x[:crossings.n] {
		j := DQ{D: l.Current * math.Cos(beta), Q: l.Current * math.Sin(beta)}
		if t := m.Torque(j); j.Q > 0 && t > most {
			i, most = j, t
		}
	}
	return i, FieldWeakening, most > 0
}

// crossings returns the angles of those currents of the limit's size that need all its voltage.
func (m Machine) crossings(l Limit, omega float64) zeros {
	// The voltage is e + a cos β + b sin β.
	u := 1 / l.Voltage
	e := DQ{Q: omega * m.FluxLinkage * u}
	a := DQ{D: m.Resistance * l.Current * u, Q: omega * m.InductanceD * l.Current * u}
	b := DQ{D: -omega * m.InductanceQ * l.Current * u, Q: m.Resistance * l.Current * u}
	dot := func(x, y DQ) float64 { return x.D*y.D + x.Q*y.Q }
	return harmonics2{
		k:  dot(e, e) + (dot(a, a)+dot(b, b))/2 - 1,
		c1: 2 * dot(e, a), s1: 2 * dot(e, b),
		c2: (dot(a, a) - dot(b, b)) / 2, s2: dot(a, b),
	}.angles()
}
