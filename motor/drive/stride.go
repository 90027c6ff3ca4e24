package drive

import (
	"math"

	"sextant/inverter"
	"sextant/motor"
)

// A stride is one step of the integration: both ends, all slopes, the integrals over it, and how far its
// fourth-order shadow lands from it.
type stride struct {
	h        float64
	from, to state
	rates    [stages]rate
	sums     sums
	defect   rate    // difference of the two orders, already times h
	stored   float64 // growth of the energy in field and capacitor, J
}

// take fills the stride from state s over h seconds. Nothing switches on the way.
func (st *stride) take(s *state, h float64, n *network, p *plant) {
	st.h, st.from = h, *s
	st.sums = sums{time: h}
	st.defect = rate{}
	slow, ringed := p.slow(), p.ring.on()
	sin0, cos0 := math.Sincos(s.theta)
	sin, cos, turned := sin0, cos0, 0.
	omega := p.pairs * s.speed
	y, last := *s, motor.DQ{}
	var missA, missB float64
	var slopes [stages]inverter.Vector
	for j := range stages {
		var a, b float64
		for l, c := range couplings[j][:j] {
			a += c * slopes[l].Alpha
			b += c * slopes[l].Beta
		}
		y.i = inverter.Vector{Alpha: s.i.Alpha + h*a, Beta: s.i.Beta + h*b}
		turn := omega * h * nodes[j]
		if slow {
			st.reachSlow(&y, j)
			omega = p.pairs * y.speed
			turn = y.theta - s.theta
		}
		y.theta = s.theta + turn
		if turn != turned {
			ds, dc := sincos(turn)
			sin, cos, turned = sin0*dc+cos0*ds, cos0*dc-sin0*ds, turn
		}
		var di inverter.Vector
		var dq, m motor.DQ
		if ringed {
			di, st.rates[j].ring, dq, m = n.slopeRing(&y, sin, cos, omega, p)
		} else {
			di, dq, m = n.slope(y.i, y.link, y.theta, sin, cos, omega, p)
		}
		slopes[j], st.rates[j].i = di, di
		if j == 0 {
			st.stored = -p.energy(dq, y.link)
		}
		last = dq
		torque := p.torque(dq, m)
		if slow {
			torque += p.torqueShared(&y)
			st.rateSlow(&y, j, torque, n, p)
		}
		if j < stages-1 && j != 1 { // the weights of the others are zero
			w := h * couplings[stages-1][j]
			st.sums.add(w, &y, dq, torque)
			if slow {
				st.sums.addSlow(w, &y, torque)
			}
			if ringed {
				st.sums.addRing(w, &y, &p.ring)
			}
		}
		missA += defects[j] * di.Alpha
		missB += defects[j] * di.Beta
	}
	st.defect.i = inverter.Vector{Alpha: h * missA, Beta: h * missB}
	if !slow {
		st.sums.work, st.sums.turned = st.sums.torque*s.speed, h*s.speed
	}
	st.to = y
	st.stored += p.energy(last, y.link)
	if ringed {
		st.stored += p.ring.energy(y.ring) - p.ring.energy(s.ring)
	}
}

// reachSlow carries what changes besides the current to stage j.
func (st *stride) reachSlow(y *state, j int) {
	y.theta, y.speed, y.link, y.ring = st.from.theta, st.from.speed, st.from.link, st.from.ring
	for m := range j {
		c, k := st.h*couplings[j][m], &st.rates[m]
		y.theta += c * k.theta
		y.speed += c * k.speed
		y.link += c * k.link
		y.ring += c * k.ring
	}
}

// rateSlow fills stage j's rates of what changes besides the current.
func (st *stride) rateSlow(y *state, j int, torque float64, n *network, p *plant) {
	k := &st.rates[j]
	k.theta, k.speed, k.link = p.pairs*y.speed, 0, 0
	if p.free {
		k.speed = p.accelerate(torque, y.speed)
	}
	if p.capacitance != 0 {
		in := p.inflow()
		k.link = in.at(y.link, dot(n.g, y.i)) / p.capacitance
	}
	e := st.h * defects[j]
	st.defect.theta += e * k.theta
	st.defect.speed += e * k.speed
	st.defect.link += e * k.link
	st.defect.ring += e * k.ring
}

// sincos is math.Sincos, by its series where x is so small that these terms are exact to the last bit:
// 0.25^13/13! < 3e-18.
func sincos(x float64) (sin, cos float64) {
	if x > 0.25 || x < -0.25 {
		return math.Sincos(x)
	}
	y := x * x
	sin = x * (1 + y*(-1./6+y*(1./120+y*(-1./5040+y*(1./362880+y*(-1./39916800))))))
	cos = 1 + y*(-1./2+y*(1./24+y*(-1./720+y*(1./40320+y*(-1./3628800+y*(1./479001600))))))
	return sin, cos
}
