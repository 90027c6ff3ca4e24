package drive

import (
	"math"

	"sextant/inverter"
	"sextant/motor"
)

// A control makes the voltage that brings the currents in the rotor's frame to their commands. Each axis has
// a proportional-integral rule whose zero lies on the winding's own pole, so that the loop closes like a
// first-order lag of the chosen bandwidth α:
//
//	v_d = α L_d e_d + α R ∫e_d dt - ω L_q i_q
//	v_q = α L_q e_q + α R ∫e_q dt + ω (L_d i_d + ψ)
//
// The vector is cut to what the pattern can make without distortion, and what was cut off is taken back
// from the integrals (back-calculation). A speed loop, where asked for, commands i_q by the same kind of
// rule, a quarter of its bandwidth being where its integral takes over.
//
// Krishnan, Permanent Magnet Synchronous and Brushless DC Motor Drives (CRC, 2010), ch. 8; L. Harnefors,
// H.-P. Nee, "Model-based current control of AC machines using the internal model control method", IEEE
// Trans. IA-34 (1998) 133.
type control struct {
	every    float64 // s, the sampling period
	alpha    float64 // rad/s
	r        float64 // Ω
	most     float64 // longest voltage vector over half the link
	command  motor.DQ
	integral motor.DQ // V
	speed    speedLoop
}

// A speedLoop commands i_q.
type speedLoop struct {
	on       bool
	command  float64 // mechanical, rad/s
	gain     float64 // A per rad/s
	rate     float64 // A per rad
	limit    float64 // A
	integral float64 // A
}

// tune sets the gains from machine and scenario; integrals stay.
func (c *control) tune(s *Scenario, p *plant, every float64) {
	g := &s.Gating
	c.every, c.r = every, p.resistance[0]
	c.alpha = 2 * math.Pi * g.Bandwidth
	if g.Bandwidth == 0 {
		c.alpha = 2 * math.Pi * g.Carrier / 20
	}
	c.most = g.Kind.Linear()
	c.command = motor.DQ{D: g.ID, Q: g.IQ}
	l := &c.speed
	l.on, l.command, l.limit = g.SpeedLoop, g.SpeedCommand, g.CurrentLimit
	if !l.on {
		return
	}
	alpha := 2 * math.Pi * g.SpeedBandwidth
	if g.SpeedBandwidth == 0 {
		alpha = c.alpha / 20
	}
	perAmpere := 1.5 * p.pairs * torqueFactor(s) // N m per A of i_q
	l.gain = alpha * p.inertia / perAmpere
	l.rate = l.gain * alpha / 4
}

// torqueFactor returns what i_q makes torque with beside the commanded i_d, ψ + (L_d - L_q) i_d in Wb.
func torqueFactor(s *Scenario) float64 {
	m := s.Machine.Star()
	return m.FluxLinkage + (m.InductanceD-m.InductanceQ)*s.Gating.ID
}

// voltage returns the vector to apply, in V in the rotor's frame, from a sample.
func (c *control) voltage(at sample, p *plant, link float64) inverter.Vector {
	if c.speed.on {
		c.command.Q = c.speed.current(at.speed, c.every)
	}
	i, omega := at.i, p.pairs*at.speed
	e := motor.DQ{D: c.command.D - i.D, Q: c.command.Q - i.Q}
	want := inverter.Vector{
		Alpha: c.alpha*p.ld*e.D + c.integral.D - omega*p.lq*i.Q,
		Beta:  c.alpha*p.lq*e.Q + c.integral.Q + omega*(p.ld*i.D+p.psi),
	}
	v := want
	if most := c.most * link / 2; want.Abs() > most {
		shrink := most / want.Abs()
		v = inverter.Vector{Alpha: shrink * want.Alpha, Beta: shrink * want.Beta}
	}
	// What could not be applied counts as an error the other way.
	c.integral.D += c.alpha * c.r * c.every * (e.D + (v.Alpha-want.Alpha)/(c.alpha*p.ld))
	c.integral.Q += c.alpha * c.r * c.every * (e.Q + (v.Beta-want.Beta)/(c.alpha*p.lq))
	return v
}

// current returns the i_q to command at a speed, in A.
func (l *speedLoop) current(speed, every float64) float64 {
	e := l.command - speed
	want := l.gain*e + l.integral
	i := max(-l.limit, min(l.limit, want))
	l.integral += l.rate * every * (e + (i-want)/l.gain)
	return i
}

// A sample is what the sensors tell.
type sample struct {
	i     motor.DQ
	speed float64 // mechanical, rad/s
}

// sensors are those of the leg currents and of the position, with their faults.
type sensors struct {
	gain, offset inverter.ABC
	ahead        float64 // rad, by how much the position is told ahead
}

var perfect = sensors{gain: inverter.ABC{1, 1, 1}}

// read samples the drive. The sensors sit at the legs, whatever those are wired to.
func (x *sensors) read(st *state, p *plant) sample {
	i := p.currents(st.i)
	for k := range i {
		i[k] = x.gain[k]*i[k] + x.offset[k]
	}
	return sample{i: motor.Park(i, st.theta+x.ahead), speed: st.speed}
}
