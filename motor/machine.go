// Package motor describes the machine that the bridge feeds: its parameters, its frame, its torque.
//
// Conventions are those of package inverter; the rotor's d axis lies along its magnet, q a quarter of an
// electrical turn ahead. Peak values throughout, so power is 3/2 (v_d i_d + v_q i_q).
package motor

import (
	"fmt"
	"math"

	"sextant/inverter"
)

// A Kind is what the bridge feeds. It prints as files have it.
type Kind uint8

// The kinds: a permanent-magnet synchronous machine, or a passive star of resistance and inductance.
const (
	PermanentMagnet Kind = iota
	Passive
)

// A Connection is how the three windings are joined. It prints as files have it.
type Connection uint8

// The connections. The star's neutral is isolated.
const (
	Star Connection = iota
	Delta
)

// An EMF is the shape of the voltage that the turning magnet makes. It prints as files have it.
type EMF uint8

// The shapes: a sine, or flat tops of 120 degrees, as in machines made for six-step gating.
const (
	Sine EMF = iota
	Trapezoid
)

var (
	emfNames        = [2]string{"sine", "trapezoid"}
	kindNames       = [2]string{"permanent-magnet", "passive"}
	connectionNames = [2]string{"star", "delta"}
)

// String returns the kind's name.
func (k Kind) String() string { return nameOf(kindNames[:], int(k), "Kind") }

// String returns the connection's name.
func (c Connection) String() string { return nameOf(connectionNames[:], int(c), "Connection") }

// String returns the shape's name.
func (e EMF) String() string { return nameOf(emfNames[:], int(e), "EMF") }

func nameOf(names []string, i int, kind string) string {
	if i < len(names) {
		return names[i]
	}
	return fmt.Sprintf("%s(%d)", kind, i)
}

// A Machine holds the parameters of what the bridge feeds, per winding. A passive load has equal
// inductances, no magnet and no pole pairs.
type Machine struct {
	Kind        Kind
	Connection  Connection
	PolePairs   int
	Resistance  float64 // Ω
	InductanceD float64 // H
	InductanceQ float64 // H
	FluxLinkage float64 // peak, Wb
	EMF         EMF     // a trapezoid's top is as high as the sine's peak would be
}

// Star returns the star-connected machine that its terminals cannot tell from m: for a delta R/3, L/3,
// ψ/√3, with phase U's EMF 30 degrees behind that of the delta's winding from U to V.
func (m Machine) Star() Machine {
	if m.Connection == Delta {
		m.Connection = Star
		m.Resistance /= 3
		m.InductanceD /= 3
		m.InductanceQ /= 3
		m.FluxLinkage /= math.Sqrt(3)
	}
	return m
}

// A DQ is a quantity in the rotor's frame: D along the magnet, Q a quarter electrical turn ahead.
type DQ struct{ D, Q float64 }

// Park returns phase quantities in the rotor's frame, the d axis lying theta (electrical rad) ahead of
// phase U's:
//
//	d =  2/3 (u cos θ + v cos(θ - 2π/3) + w cos(θ + 2π/3))
//	q = -2/3 (u sin θ + v sin(θ - 2π/3) + w sin(θ + 2π/3))
//
// What the phases have in common is lost.
//
// R. H. Park, "Two-reaction theory of synchronous machines", Trans. AIEE 48 (1929), 716-727.
func Park(x inverter.ABC, theta float64) DQ {
	v, _ := x.Clarke()
	v = v.Turn(theta)
	return DQ{D: v.Alpha, Q: v.Beta}
}

// Slope returns di/dt in A/s of a star-connected machine at current i (A), voltage v (V) and electrical
// speed omega (rad/s):
//
//	v_d = R i_d + L_d di_d/dt - ω L_q i_q
//	v_q = R i_q + L_q di_q/dt + ω (L_d i_d + ψ)
//
// Krishnan, Permanent Magnet Synchronous and Brushless DC Motor Drives (CRC, 2010), ch. 3.
func (m Machine) Slope(i, v DQ, omega float64) DQ {
	return DQ{
		D: (v.D - m.Resistance*i.D + omega*m.InductanceQ*i.Q) / m.InductanceD,
		Q: (v.Q - m.Resistance*i.Q - omega*(m.InductanceD*i.D+m.FluxLinkage)) / m.InductanceQ,
	}
}

// Voltage returns the steady voltage that holds current i (A) at electrical speed omega (rad/s): the
// equations of [Machine.Slope] with no slope.
func (m Machine) Voltage(i DQ, omega float64) DQ {
	return DQ{
		D: m.Resistance*i.D - omega*m.InductanceQ*i.Q,
		Q: m.Resistance*i.Q + omega*(m.InductanceD*i.D+m.FluxLinkage),
	}
}

// Current returns the steady current (A) that voltage v (V) drives at electrical speed omega (rad/s), the
// inverse of [Machine.Voltage]. It is not finite where nothing limits it: no resistance at standstill.
func (m Machine) Current(v DQ, omega float64) DQ {
	e := v.Q - omega*m.FluxLinkage
	det := m.Resistance*m.Resistance + omega*omega*m.InductanceD*m.InductanceQ
	return DQ{
		D: (m.Resistance*v.D + omega*m.InductanceQ*e) / det,
		Q: (m.Resistance*e - omega*m.InductanceD*v.D) / det,
	}
}

// Torque returns the electromagnetic torque in N m at current i (A):
//
//	T = 3/2 p (ψ i_q + (L_d - L_q) i_d i_q)
//
// Krishnan, ch. 3.
func (m Machine) Torque(i DQ) float64 {
	return 1.5 * float64(m.PolePairs) * (m.FluxLinkage + (m.InductanceD-m.InductanceQ)*i.D) * i.Q
}
