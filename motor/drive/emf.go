package drive

import (
	"math"

	"sextant/inverter"
	"sextant/motor"
)

// magnet returns how the magnet's flux changes with the rotor's angle, in Wb in the rotor's frame: times
// the electrical speed, its EMF.
func (p *plant) magnet(theta, s, c float64) motor.DQ {
	if !p.trapezoid {
		return motor.DQ{Q: p.psi}
	}
	v, _ := p.flats(theta).Clarke()
	return motor.DQ{D: c*v.Alpha + s*v.Beta, Q: c*v.Beta - s*v.Alpha}
}

// flats returns the flux changes of the three phases of a trapezoidal machine: -sin θ made to rise and fall
// along straight lines within 30 degrees of its zeros and to keep its peak for the 120 degrees between
// (Krishnan, ch. 9). They are those of the part of the turn that the rotor is in, and go on straight beyond its
// bends: a stride that is tried past a bend has nothing in it that bends, and is then ended there.
func (p *plant) flats(theta float64) inverter.ABC {
	var e inverter.ABC
	for k := range e {
		switch (p.flat.at - 2*k + 6) % 6 { // sixths of a turn from the phase's axis
		case 0:
			e[k] = -p.psi * off(theta, p.flat.middle()) / (math.Pi / 6)
		case 3:
			e[k] = p.psi * off(theta, p.flat.middle()) / (math.Pi / 6)
		case 1, 2:
			e[k] = -p.psi
		default:
			e[k] = p.psi
		}
	}
	return e
}

// emf returns the EMFs of the turning magnet in the windings that the legs are wired to.
func (p *plant) emf(s *state) inverter.ABC {
	omega := p.pairs * s.speed
	var e inverter.ABC
	if p.trapezoid {
		flats := p.flats(s.theta)
		for k := range e {
			e[k] = omega * flats[p.winding(k)]
		}
		return e
	}
	sin, cos := math.Sincos(s.theta)
	v := inverter.Vector{Alpha: -omega * p.psi * sin, Beta: omega * p.psi * cos}
	for k := range e {
		e[k] = dot(p.axes[k], v)
	}
	return e
}

// winding returns the winding that leg k is wired to.
func (p *plant) winding(k int) int {
	for w := range axes {
		if axes[w] == p.axes[k] {
			return w
		}
	}
	return k
}
