package motor

import "math"

// A Limit is what bounds the steady state of a star-connected machine, both as peak values of a phase. A
// bridge that modulates up to M on a supply V gives M V/2: V/√3 with a space vector's greatest circle.
type Limit struct {
	Voltage float64 // V
	Current float64 // A
}

// slack is by how much a limit may be passed, relatively, so that a point on it is not lost to rounding.
const slack = 1e-10

// holds reports whether m may run at current i (A) and electrical speed omega (rad/s).
func (l Limit) holds(m Machine, i DQ, omega float64) bool {
	v := m.Voltage(i, omega)
	return math.Hypot(i.D, i.Q) <= l.Current*(1+slack) && math.Hypot(v.D, v.Q) <= l.Voltage*(1+slack)
}

// CharacteristicCurrent returns ψ/L_d, the current in A that all but cancels the magnet's flux: the terminals
// carry it when shorted at high speed, and with at least as much a drive has no top speed.
//
// Soong, Miller, IEE Proc. EPA 141 (1994) 331.
func (m Machine) CharacteristicCurrent() float64 { return m.FluxLinkage / m.InductanceD }

// saliency returns L_d - L_q.
func (m Machine) saliency() float64 { return m.InductanceD - m.InductanceQ }

// MostTorquePerAmpere returns the current of a size (peak A) that makes the most torque:
//
//	i_d = (ψ - √(ψ² + 8 (L_q - L_d)² I²)) / (4 (L_q - L_d))
//
// and i_d = 0 with equal inductances. Morimoto et al., IEEE Trans. IA-26 (1990) 866.
func (m Machine) MostTorquePerAmpere(size float64) DQ {
	// Rationalised, which holds with equal inductances too.
	k := m.saliency() * size
	root := math.Hypot(m.FluxLinkage, math.Sqrt(8)*k)
	if m.FluxLinkage+root == 0 {
		return DQ{Q: size}
	}
	d := 2 * k / (m.FluxLinkage + root) // of size
	return DQ{D: size * d, Q: size * math.Sqrt(1-d*d)}
}

// CornerSpeed returns the electrical speed in rad/s up to which the most torque that the current limit allows
// is to be had: that at which its current needs all the voltage,
//
//	(R i_d - ω L_q i_q)² + (R i_q + ω (L_d i_d + ψ))² = U²
//
// It is 0 where the resistance alone takes the voltage.
func (m Machine) CornerSpeed(l Limit) float64 {
	i := m.MostTorquePerAmpere(l.Current)
	flux := m.FluxLinkage + m.InductanceD*i.D
	a := m.InductanceQ*m.InductanceQ*i.Q*i.Q + flux*flux
	b := m.Resistance * i.Q * (flux - m.InductanceQ*i.D) // half the middle term
	c := m.Resistance*m.Resistance*l.Current*l.Current - l.Voltage*l.Voltage
	if c >= 0 || a == 0 {
		return 0
	}
	return -c / (b + math.Sqrt(b*b-a*c))
}

// TopSpeed returns the electrical speed in rad/s above which no motoring torque is left, and whether there is
// one. There the whole current weakens the field,
//
//	ω = √(U² - R² I²) / (ψ - L_d I)
//
// and with the characteristic current or more there is none, as long as the voltage covers R ψ/L_d. Soong,
// Miller, IEE Proc. EPA 141 (1994) 331, who leave R out.
func (m Machine) TopSpeed(l Limit) (omega float64, ok bool) {
	// The least voltage with no torque current, over i_d alone: √(R² i_d² + ω² (ψ + L_d i_d)²).
	r, ld, psi := m.Resistance, m.InductanceD, m.FluxLinkage
	// Where less than the whole current is best, the voltage is ω ψ R / √(R² + ω² L_d²).
	if u := l.Voltage; r*psi > u*ld {
		w := u * r / math.Sqrt(r*r*psi*psi-u*u*ld*ld)
		if w*w*psi*ld <= l.Current*(r*r+w*w*ld*ld) {
			return w, true
		}
	}
	if left := psi - ld*l.Current; left > 0 {
		return math.Sqrt(max(0, l.Voltage*l.Voltage-r*r*l.Current*l.Current)) / left, true
	}
	return 0, false
}

// GeneratingSpeed returns the electrical speed in rad/s above which the machine feeds a supply (V) through the
// diodes, of which two drop (V) each, whatever the gates do: √3 ω ψ = V + 2 drop. It is +Inf without a magnet.
//
// Jahns, Caliskan, IEEE Trans. IA-35 (1999) 1347. A salient machine that generates already may keep on below.
func (m Machine) GeneratingSpeed(supply, drop float64) float64 {
	return (supply + 2*drop) / (math.Sqrt(3) * m.FluxLinkage)
}
