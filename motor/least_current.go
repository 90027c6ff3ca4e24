package motor

import "math"

// LeastCurrent returns the smallest current that makes a torque (N m, of either sign) within a limit at
// electrical speed omega (rad/s): the most torque per ampere while the voltage allows it, else just so much
// weaker a field. ok is false where the torque is not to be had. Resistance is included, all to rounding.
func (m Machine) LeastCurrent(l Limit, omega, torque float64) (i DQ, ok bool) {
	if torque < 0 {
		i, ok = m.LeastCurrent(l, -omega, -torque)
		return DQ{D: i.D, Q: -i.Q}, ok
	}
	c := torque / (1.5 * float64(m.PolePairs)) // = (ψ + ΔL i_d) i_q
	s := m.saliency()
	d := m.leastCurrentD(c)
	f := m.FluxLinkage + s*d
	switch {
	case f > 0:
		i = DQ{D: d, Q: c / f}
	case c > 0:
		return DQ{}, false
	}
	if l.holds(m, i, omega) {
		return i, true
	}
	if math.Hypot(i.D, i.Q) > l.Current*(1+slack) {
		return i, false
	}
	return m.onVoltageLimit(l, omega, c)
}

// leastCurrentD returns i_d of the smallest current with (ψ + ΔL i_d) i_q = c, which is where
// i_d (ψ + ΔL i_d)³ = ΔL c².
func (m Machine) leastCurrentD(c float64) float64 {
	s := math.Abs(m.saliency())
	if s == 0 || c == 0 {
		return 0
	}
	// Newton's steps from above on a rising convex function fall to its zero.
	a, psi := math.Sqrt(c/s), m.FluxLinkage
	for range 100 {
		f := psi + s*a
		next := a - (a*f*f*f-s*c*c)/(f*f*(f+3*s*a))
		if !(next < a) {
			break
		}
		a = next
	}
	return math.Copysign(a, m.saliency())
}

// onVoltageLimit returns the smallest current within l with (ψ + ΔL i_d) i_q = c that needs all the voltage.
func (m Machine) onVoltageLimit(l Limit, omega, c float64) (i DQ, ok bool) {
	// In x = i_d/I, with both sides of v_d² + v_q² = U² times f², f = ψ + ΔL i_d:
	// (R i_d f - ω L_q c)² + (R c + ω (ψ + L_d i_d) f)² = (U f)².
	u := 1 / l.Voltage
	s := m.saliency() * l.Current
	f := polynomial{m.FluxLinkage, s}
	flux := polynomial{m.FluxLinkage * omega * u, m.InductanceD * l.Current * omega * u}
	vd := polynomial{0, m.Resistance * l.Current * u}.times(f).plus(-omega*m.InductanceQ*c*u, polynomial{1})
	vq := flux.times(f).plus(m.Resistance*c*u, polynomial{1})
	least := math.Inf(1)
	zs := vd.times(vd).plus(1, vq.times(vq)).plus(-1, f.times(f)).zerosIn(-1, 1)
	for _, x := range zs.x[:zs.n] {
		f := f.at(x)
		if f <= 0 {
			continue
		}
		j := DQ{D: x * l.Current, Q: c / f}
		if size := math.Hypot(j.D, j.Q); size < least && l.holds(m, j, omega) {
			i, least, ok = j, size, true
		}
	}
	return i, ok
}
