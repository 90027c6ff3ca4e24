package drive

import (
	"math"

	"sextant/motor"
)

// torque returns the electromagnetic torque in N m (see [motor.Machine.Torque]), m being the magnet's part.
func (p *plant) torque(dq, m motor.DQ) float64 {
	return 1.5 * p.pairs * ((m.Q+(p.ld-p.lq)*dq.D)*dq.Q + m.D*dq.D)
}

// torqueAt returns the electromagnetic torque in state s, in N m.
func (p *plant) torqueAt(s *state) float64 {
	sin, cos := math.Sincos(s.theta)
	return p.torque(p.dq(s), p.magnet(s.theta, sin, cos)) + p.torqueShared(s)
}

// accelerate returns the change of speed under torque t: J dΩ/dt = T - load - friction.
func (p *plant) accelerate(t, speed float64) float64 {
	if p.coulomb > 0 && p.motion == 0 {
		return 0
	}
	drag := p.friction*speed + p.quadratic*speed*math.Abs(speed) + p.coulomb*float64(p.motion)
	return (t - p.load - drag) / p.inertia
}

// move settles which way a shaft with dry friction turns, or that it rests.
func (p *plant) move(s *state) {
	if !p.free || p.coulomb == 0 {
		return
	}
	const still = 1e-9 // rad/s
	push := p.torqueAt(s) - p.load
	switch {
	case s.speed > still:
		p.motion = 1
	case s.speed < -still:
		p.motion = -1
	case push > p.coulomb:
		p.motion = 1
	case push < -p.coulomb:
		p.motion = -1
	default:
		p.motion, s.speed = 0, 0
	}
}

// turn lets a shaft with dry friction stop that comes to rest, or break loose that is pushed hard enough: by
// a rounding less than its friction, seen from where the push reaches it.
func (p *plant) turn(s *state) {
	s.speed = 0
	if p.motion != 0 {
		p.move(s)
		return
	}
	p.motion = 1
	if p.torqueAt(s) < p.load {
		p.motion = -1
	}
}
