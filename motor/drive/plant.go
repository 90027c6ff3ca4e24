package drive

import (
	"math"

	"sextant/inverter"
	"sextant/motor"
)

// A plant is what lies behind the switches, as the equations need it: the machine as a star, the source,
// the shaft.
type plant struct {
	ld, lq, psi float64    // H, H, Wb, of the star
	pairs       float64    // 0 for a passive load
	resistance  [3]float64 // Ω, of each phase
	voltage     float64    // V, of the source
	source      float64    // Ω, of the source
	capacitance float64    // F
	free        bool
	inertia     float64 // kg m²
	load        float64 // N m
	friction    float64 // N m s/rad
}

func newPlant(s *Scenario) plant {
	m := s.Machine.Star()
	p := plant{
		ld: m.InductanceD, lq: m.InductanceQ, psi: m.FluxLinkage,
		resistance:  [3]float64{m.Resistance, m.Resistance, m.Resistance},
		voltage:     s.Supply.Voltage,
		source:      s.Supply.Resistance,
		capacitance: s.Supply.Capacitance,
	}
	if p.source == 0 {
		p.capacitance = 0 // a source without resistance holds the link by itself
	}
	if m.Kind == motor.PermanentMagnet {
		p.pairs = float64(m.PolePairs)
		p.free = s.Shaft.Free
		p.inertia, p.load, p.friction = s.Shaft.Inertia, s.Shaft.LoadTorque, s.Shaft.Friction
	}
	return p
}

// A state is what the drive remembers from one instant to the next.
type state struct {
	i     inverter.Vector // A
	theta float64         // electrical angle of the d axis, rad
	speed float64         // mechanical, rad/s
	link  float64         // V across the link's capacitor; the source's voltage where there is none
}

// A rate is how fast a state changes, per second. The angle's is pairs·speed.
type rate struct {
	i     inverter.Vector
	theta float64
	speed float64
	link  float64
}

// slow reports whether more than the current changes: the shaft's speed, the link's voltage.
func (p *plant) slow() bool { return p.free || p.capacitance != 0 }

// pull returns the vector w of L di/dt = w in the rotor's frame, its d axis at (c, s), when voltage u stands
// behind all resistance (stationary frame), and the current in that frame. With the current turned into the
// stationary frame, where it is what flows in the legs, the dq equations
//
//	v_d = R i_d + L_d di_d/dt - ω L_q i_q,  v_q = R i_q + L_q di_q/dt + ω (L_d i_d + ψ)
//
// lose the part of the cross terms that is only the frame's turning:
//
//	w_d = u_d + ω (L_q - L_d) i_q,  w_q = u_q - ω ((L_d - L_q) i_d + ψ)
func (p *plant) pull(i, u inverter.Vector, s, c, omega float64) (w, dq motor.DQ) {
	dq = motor.DQ{D: c*i.Alpha + s*i.Beta, Q: c*i.Beta - s*i.Alpha}
	w = motor.DQ{
		D: c*u.Alpha + s*u.Beta + omega*(p.lq-p.ld)*dq.Q,
		Q: c*u.Beta - s*u.Alpha - omega*((p.ld-p.lq)*dq.D+p.psi),
	}
	return w, dq
}

// inner returns the voltage that the network leaves for the flux at current i and link voltage link.
func (n *network) inner(i inverter.Vector, link float64, p *plant) inverter.Vector {
	u := inverter.Vector{
		Alpha: n.push.Alpha - n.aa*i.Alpha - n.ab*i.Beta,
		Beta:  n.push.Beta - n.ab*i.Alpha - n.bb*i.Beta,
	}
	if p.capacitance != 0 {
		u.Alpha += 2. / 3 * n.g.Alpha * link
		u.Beta += 2. / 3 * n.g.Beta * link
	}
	return u
}

// slope returns di/dt, and the current in the rotor's frame. With one leg idle the current has one
// direction b left, and the equations hold along it: b·L b x' = b·w.
func (n *network) slope(i inverter.Vector, link, s, c, omega float64, p *plant) (di inverter.Vector, dq motor.DQ) {
	w, dq := p.pull(i, n.inner(i, link, p), s, c, omega)
	switch n.tied {
	case 3:
		a, b := w.D/p.ld, w.Q/p.lq
		return inverter.Vector{Alpha: c*a - s*b, Beta: s*a + c*b}, dq
	case 2:
		bd, bq := c*n.free.Alpha+s*n.free.Beta, c*n.free.Beta-s*n.free.Alpha
		x := (bd*w.D + bq*w.Q) / (bd*bd*p.ld + bq*bq*p.lq)
		return inverter.Vector{Alpha: n.free.Alpha * x, Beta: n.free.Beta * x}, dq
	}
	return inverter.Vector{}, dq
}

// torque returns the electromagnetic torque in N m (see [motor.Machine.Torque]).
func (p *plant) torque(dq motor.DQ) float64 {
	return 1.5 * p.pairs * (p.psi + (p.ld-p.lq)*dq.D) * dq.Q
}

// accelerate returns the change of speed under torque t: J dΩ/dt = T - load - friction Ω.
func (p *plant) accelerate(t, speed float64) float64 {
	return (t - p.load - p.friction*speed) / p.inertia
}

// charge returns the change of the capacitor's voltage when the bridge draws current drawn.
func (p *plant) charge(link, drawn float64) float64 {
	return ((p.voltage-link)/p.source - drawn) / p.capacitance
}

// linkVoltage returns the voltage between the rails when the bridge draws current drawn.
func (p *plant) linkVoltage(s *state, drawn float64) float64 {
	if p.capacitance != 0 {
		return s.link
	}
	return p.voltage - p.source*drawn
}

// stored returns the energy in the field and the capacitor, in J: 3/4 (L_d i_d² + L_q i_q²) + C v²/2.
func (p *plant) stored(s *state) float64 { return p.energy(p.dq(s), s.link) }

func (p *plant) energy(dq motor.DQ, link float64) float64 {
	return 0.75*(p.ld*dq.D*dq.D+p.lq*dq.Q*dq.Q) + p.capacitance*link*link/2
}

func (p *plant) dq(s *state) motor.DQ {
	v := s.i.Turn(s.theta)
	return motor.DQ{D: v.Alpha, Q: v.Beta}
}

// magnet returns the EMF of the turning magnet as a vector in the stationary frame.
func (p *plant) magnet(s *state) inverter.Vector {
	sin, cos := math.Sincos(s.theta)
	e := p.pairs * s.speed * p.psi
	return inverter.Vector{Alpha: -e * sin, Beta: e * cos}
}
