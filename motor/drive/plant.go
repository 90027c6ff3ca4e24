package drive

import (
	"math"

	"sextant/inverter"
	"sextant/motor"
)

// A plant is what lies behind the switches, as the equations need it: the machine as a star, the source,
// the shaft.
type plant struct {
	axes        [3]inverter.Vector // of the windings that the legs are wired to
	ld, lq, psi float64            // H, H, Wb, of the star
	perLd       float64            // 1/H
	perLq       float64            // 1/H
	trapezoid   bool               // EMF with flat tops
	flat        sector             // trapezoid: the part of the turn between two bends of the EMF
	pairs       float64            // 0 for a passive load
	resistance  [3]float64         // Ω, of each phase
	sound       float64            // Ω, of a phase without faults
	ring        ring               // of shorted turns
	voltage     float64            // V, of the source
	slack       float64            // V, by which a terminal may leave its span before its leg starts
	source      float64            // Ω, of the source
	capacitance float64            // F
	series      float64            // Ω, in series with the capacitor
	feed        feed               // what of these the bridge sees
	limit       float64            // A, the most that the source takes back
	refusing    bool               // it is taking back just that
	free        bool
	inertia     float64 // kg m²
	load        float64 // N m
	friction    float64 // N m s/rad
	quadratic   float64 // N m s²/rad²
	coulomb     float64 // N m
	motion      int8    // coulomb: the way the shaft turns, 0 held at rest
}

func newPlant(s *Scenario) plant {
	m := s.Machine.Star()
	p := plant{
		axes: axes, ld: m.InductanceD, lq: m.InductanceQ, psi: m.FluxLinkage,
		perLd: 1 / m.InductanceD, perLq: 1 / m.InductanceQ,
		trapezoid:   m.EMF == motor.Trapezoid,
		resistance:  [3]float64{m.Resistance, m.Resistance, m.Resistance},
		sound:       m.Resistance,
		voltage:     s.Supply.Voltage,
		slack:       1e-9 * s.Supply.Voltage, // rounding alone must start none, and a supply that sags to nothing has rounding, too
		source:      s.Supply.Resistance,
		capacitance: s.Supply.Capacitance,
		series:      s.Supply.CapacitorResistance,
		limit:       math.Inf(1),
	}
	if p.source == 0 {
		p.capacitance = 0 // a source without resistance holds the link by itself
	}
	switch {
	case s.Supply.Refuses:
		p.limit = 0
	case s.Supply.ChargeLimit > 0:
		p.limit = s.Supply.ChargeLimit
	}
	if m.Kind == motor.PermanentMagnet {
		h := &s.Shaft
		p.pairs = float64(m.PolePairs)
		p.free = h.Free
		p.inertia, p.load, p.friction = h.Inertia, h.LoadTorque, h.Friction
		p.quadratic, p.coulomb = h.Quadratic, h.Coulomb
	}
	p.feed = p.fed()
	return p
}

// A state is what the drive remembers from one instant to the next.
type state struct {
	i     inverter.Vector // A
	theta float64         // electrical angle of the d axis, rad
	speed float64         // mechanical, rad/s
	link  float64         // V across the link's capacitor; the source's voltage where there is none
	ring  float64         // A, in the short of shorted turns; 0 where there are none
}

// A rate is how fast a state changes, per second. The angle's is pairs·speed.
type rate struct {
	i     inverter.Vector
	theta float64
	speed float64
	link  float64
	ring  float64
}

// slow reports whether more than the current changes: the shaft's speed, the link's voltage, the short's current.
func (p *plant) slow() bool { return p.free || p.capacitance != 0 || p.ring.on() }

// pull returns the vector w of L di/dt = w in the rotor's frame, its d axis at (c, s), when voltage u stands
// behind all resistance (stationary frame), and the current in that frame. With the current turned into the
// stationary frame, where it is what flows in the legs, the dq equations
//
//	v_d = R i_d + L_d di_d/dt - ω L_q i_q,  v_q = R i_q + L_q di_q/dt + ω (L_d i_d + ψ)
//
// lose the part of the cross terms that is only the frame's turning:
//
//	w_d = u_d + ω (L_q - L_d) i_q,  w_q = u_q - ω ((L_d - L_q) i_d + ψ)
//
// m is what stands in ψ's place (see [plant.magnet]).
func (p *plant) pull(i, u inverter.Vector, theta, s, c, omega float64) (w, dq, m motor.DQ) {
	m = p.magnet(theta, s, c)
	dq = motor.DQ{D: c*i.Alpha + s*i.Beta, Q: c*i.Beta - s*i.Alpha}
	w = motor.DQ{
		D: c*u.Alpha + s*u.Beta + omega*((p.lq-p.ld)*dq.Q-m.D),
		Q: c*u.Beta - s*u.Alpha - omega*((p.ld-p.lq)*dq.D+m.Q),
	}
	return w, dq, m
}

// inner returns the voltage that the network leaves for the flux at current i and link voltage link.
func (n *network) inner(i inverter.Vector, link float64, p *plant) inverter.Vector {
	u := inverter.Vector{
		Alpha: n.push.Alpha - n.aa*i.Alpha - n.ab*i.Beta,
		Beta:  n.push.Beta - n.ab*i.Alpha - n.bb*i.Beta,
	}
	if p.capacitance != 0 {
		link *= p.feed.keep
		u.Alpha += 2. / 3 * n.g.Alpha * link
		u.Beta += 2. / 3 * n.g.Beta * link
	}
	return u
}

// slope returns di/dt, and the current and the magnet in the rotor's frame. With one leg idle the current has one
// direction b left, and the equations hold along it: b·L b x' = b·w.
func (n *network) slope(i inverter.Vector, link, theta, s, c, omega float64, p *plant) (di inverter.Vector, dq, m motor.DQ) {
	w, dq, m := p.pull(i, n.inner(i, link, p), theta, s, c, omega)
	switch n.tied {
	case 3:
		a, b := w.D*p.perLd, w.Q*p.perLq
		return inverter.Vector{Alpha: c*a - s*b, Beta: s*a + c*b}, dq, m
	case 2:
		return p.along(n.free, w, s, c), dq, m
	}
	return inverter.Vector{}, dq, m
}

// along returns the vector b x along b, in the stationary frame, whose flux agrees with flux w, in the rotor's
// frame, in that direction: b·L b x = b·w.
func (p *plant) along(b inverter.Vector, w motor.DQ, s, c float64) inverter.Vector {
	bd, bq := c*b.Alpha+s*b.Beta, c*b.Beta-s*b.Alpha
	x := (bd*w.D + bq*w.Q) / (bd*bd*p.ld + bq*bq*p.lq)
	return inverter.Vector{Alpha: b.Alpha * x, Beta: b.Beta * x}
}

// stored returns the energy in the field and the capacitor, in J: 3/4 (L_d i_d² + L_q i_q²) + C v²/2.
func (p *plant) stored(s *state) float64 { return p.energy(p.dq(s), s.link) + p.ring.energy(s.ring) }

func (p *plant) energy(dq motor.DQ, link float64) float64 {
	return 0.75*(p.ld*dq.D*dq.D+p.lq*dq.Q*dq.Q) + p.capacitance*link*link/2
}

// magnetising returns the current that makes the field, in A: that of the legs, and of shorted turns.
func (p *plant) magnetising(s *state) inverter.Vector {
	extra := p.ring.field(s.ring)
	return inverter.Vector{Alpha: s.i.Alpha + extra.Alpha, Beta: s.i.Beta + extra.Beta}
}

// dq returns the magnetising current in the rotor's frame.
func (p *plant) dq(s *state) motor.DQ { return s.frame(p.magnetising(s)) }

// frame returns v in the rotor's frame.
func (s *state) frame(v inverter.Vector) motor.DQ {
	v = v.Turn(s.theta)
	return motor.DQ{D: v.Alpha, Q: v.Beta}
}

// currents returns the currents in the legs.
func (p *plant) currents(i inverter.Vector) inverter.ABC {
	return inverter.ABC{dot(p.axes[0], i), dot(p.axes[1], i), dot(p.axes[2], i)}
}
