package drive

import (
	"math"
	"slices"

	"sextant/inverter"
	"sextant/motor"
)

// A ring is a group of neighbouring turns of one winding that a failed insulation closes on itself, without
// resistance where it touches. With i the current in the winding's lead and z that in the group's turns, x = z - i
// flows in the short. A share μ of the turns magnetises as much less as it has fewer turns, along the winding's axis a:
//
//	i_t = i_s + (2/3) μ a x
//
// is what makes field and torque in place of the legs' current i_s. By Kirchhoff's law round windings and group
//
//	(2/3) Σ a_k (v_k - R i_k) = dλ/dt + (2/3) μ R a x,  λ = L i_t + ψ
//	0 = μ R (i + x) + μ (a·dλ/dt + e₀) + L_σ dx/dt
//
// e₀ being what the EMFs of the three phases have in common: nothing where they are sines. It is the machine
// whose faulty winding is two coils in series with a short across one, in phase variables (as in L. Romeral,
// J. C. Urresty, J.-R. Riba Ruiz, A. Garcia Espinosa, IEEE Trans. Ind. Electron. 58 (2011); from memory), seen in
// space vectors. What it takes for granted: the group's turns lie under all poles like the rest of their
// winding, and in slots of their own, so that of its leakage each turn links its group's alone. Then a
// phase's leakage inductance L_l leaves
//
//	L_σ = μ (1 - 2μ/3) L_l
//
// to the group, L_l being a tenth of the lesser of L_d and L_q: the order of distributed windings (common practice).
type ring struct {
	axis       inverter.Vector // a
	share      float64         // μ; 0 where no turns are shorted
	winding    float64         // R in Ω, of all the winding's turns
	phase      float64         // L_l, H
	leakage    float64         // L_σ, H
	resistance float64         // μ R, Ω
}

// leaking is a phase's leakage inductance as a part of the lesser of L_d and L_q.
const leaking = 0.1

// short closes a share of the turns of the winding along axis on itself.
func (p *plant) short(axis inverter.Vector, share float64) {
	leak := leaking * min(p.ld, p.lq)
	p.ring = ring{
		axis: axis, share: share, winding: p.sound, phase: leak,
		leakage: share * (1 - 2./3*share) * leak, resistance: share * p.sound,
	}
}

// on reports whether turns are shorted; is, whether it is the same group as o.
func (r *ring) on() bool        { return r.share != 0 }
func (r *ring) is(o *ring) bool { return r.share == o.share && r.axis == o.axis }

// field returns what current x in the short adds to the current that magnetises.
func (r *ring) field(x float64) inverter.Vector {
	k := 2. / 3 * r.share * x
	return inverter.Vector{Alpha: k * r.axis.Alpha, Beta: k * r.axis.Beta}
}

// current returns the current in the group's turns.
func (r *ring) current(s *state) float64 { return dot(r.axis, s.i) + s.ring }

// energy returns what the group holds beside the field of i_t, in J.
func (r *ring) energy(x float64) float64 { return r.leakage * x * x / 2 }

// linked returns the group's flux linkage but for the magnet's, in Wb.
func (p *plant) linked(s *state) float64 {
	dq, a := p.dq(s), s.frame(p.ring.axis)
	return p.ring.leakage*s.ring + p.ring.share*(a.D*p.ld*dq.D+a.Q*p.lq*dq.Q)
}

// hold returns the current y along b and the current x in the short whose flux in direction b is along and
// in the group is linked, b and the group's axis a in the rotor's frame:
//
//	b·L (b y + (2/3) μ a x) = along,  μ a·L (b y + (2/3) μ a x) + L_σ x = linked
//
// With no direction left to the current, b = 0, y is 0.
func (p *plant) hold(b, a motor.DQ, along, linked float64) (y, x float64) {
	mu := p.ring.share
	bb := b.D*p.ld*b.D + b.Q*p.lq*b.Q
	ab := mu * (a.D*p.ld*b.D + a.Q*p.lq*b.Q)
	aa := 2./3*mu*mu*(a.D*p.ld*a.D+a.Q*p.lq*a.Q) + p.ring.leakage
	if bb == 0 {
		return 0, linked / aa
	}
	det := bb*aa - 2./3*ab*ab
	return (aa*along - 2./3*ab*linked) / det, (bb*linked - ab*along) / det
}

// slopeRing is [network.slope] where turns are shorted, with the change dx of the short's current; dq is of what
// magnetises.
func (n *network) slopeRing(y *state, s, c, omega float64, p *plant) (di inverter.Vector, dx float64, dq, m motor.DQ) {
	r := &p.ring
	extra, u := r.field(y.ring), n.inner(y.i, y.link, p)
	u.Alpha -= r.winding * extra.Alpha
	u.Beta -= r.winding * extra.Beta
	w, dq, m := p.pull(inverter.Vector{Alpha: y.i.Alpha + extra.Alpha, Beta: y.i.Beta + extra.Beta}, u, y.theta, s, c, omega)
	drop := r.resistance*r.current(y) + r.share*omega*p.shared(y.theta)
	if n.tied == 3 {
		dx = -(drop + r.share*dot(r.axis, u)) / r.leakage
		a, b, back := w.D*p.perLd, w.Q*p.perLq, r.field(dx)
		return inverter.Vector{Alpha: c*a - s*b - back.Alpha, Beta: s*a + c*b - back.Beta}, dx, dq, m
	}
	var b motor.DQ
	if n.tied == 2 {
		b = motor.DQ{D: c*n.free.Alpha + s*n.free.Beta, Q: c*n.free.Beta - s*n.free.Alpha}
	}
	a := motor.DQ{D: c*r.axis.Alpha + s*r.axis.Beta, Q: c*r.axis.Beta - s*r.axis.Alpha}
	// What u leaves to turning and magnet, u - w, changes the group's flux as well.
	drop += r.share * (dot(r.axis, u) - a.D*w.D - a.Q*w.Q)
	along, dx := p.hold(b, a, b.D*w.D+b.Q*w.Q, -drop)
	return inverter.Vector{Alpha: n.free.Alpha * along, Beta: n.free.Beta * along}, dx, dq, m
}

// shared returns what the flux changes of the three phases have in common, in Wb (see [plant.flats]).
func (p *plant) shared(theta float64) float64 {
	if !p.trapezoid {
		return 0
	}
	return p.flats(theta).Neutral()
}

// torqueShared returns what torque the shorted turns make with what the EMFs have in common, in N m.
func (p *plant) torqueShared(s *state) float64 {
	if !p.ring.on() || !p.trapezoid {
		return 0
	}
	return p.pairs * p.ring.share * s.ring * p.shared(s.theta)
}

// open opens all legs and returns what energy that costs, in J; the shorted turns keep their flux.
func (p *plant) open(s *state) (lost float64) {
	before := p.stored(s)
	x := 0.0
	if p.ring.on() {
		_, x = p.hold(motor.DQ{}, s.frame(p.ring.axis), 0, p.linked(s))
	}
	s.i, s.ring = inverter.Vector{}, x
	return before - p.stored(s)
}

// part opens the short, and returns what energy that costs, in J. The legs keep the flux that they can.
func (n *network) part(s *state, p *plant) (lost float64) {
	before, sum := p.stored(s), p.magnetising(s)
	s.ring = 0
	switch n.tied {
	case 3:
		s.i = sum
	case 2:
		sin, cos := math.Sincos(s.theta)
		dq := sum.Turn(s.theta)
		s.i = p.along(n.free, motor.DQ{D: p.ld * dq.Alpha, Q: p.lq * dq.Beta}, sin, cos)
	}
	return before - p.stored(s)
}

// A TurnsSummary is of the shorted turns of a winding. The mean of their heat is over all of the window.
type TurnsSummary struct {
	Phase       inverter.Phase `json:"phase"`
	Share       float64        `json:"share"` // of the winding's turns
	CurrentRMS  float64        `json:"current_rms_a"`
	CurrentPeak float64        `json:"current_peak_a"`
	Loss        float64        `json:"loss_w"` // a part of the copper loss
}

// turnsSummary sums up the group of turns that was shorted last, nil where none was.
func (m *meter) turnsSummary() *TurnsSummary {
	r, t := &m.ring, m.to-m.from
	if !r.on() {
		return nil
	}
	return &TurnsSummary{
		Phase: inverter.Phase(slices.Index(axes[:], r.axis)), Share: r.share,
		CurrentRMS: rms(m.sums.turns2, t), CurrentPeak: m.turns, Loss: r.resistance * m.sums.turns2 / t,
	}
}
