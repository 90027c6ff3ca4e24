package drive

import (
	"math"

	"sextant/inverter"
	"sextant/motor"
)

// sums are integrals over a stretch of time, from which every mean, mean square and energy of the stretch
// follows.
type sums struct {
	time       float64
	i          inverter.Vector // ∫ i dt
	aa, ab, bb float64         // ∫ iα², iα iβ, iβ² dt
	dq         motor.DQ        // ∫ i_d, i_q dt
	torque     float64         // ∫ T dt
	work       float64         // ∫ T Ω dt
	turned     float64         // ∫ Ω dt
	link       float64         // ∫ v dt across the capacitor
	link2      float64         // ∫ v² dt
	linkA      float64         // ∫ v iα dt
	linkB      float64         // ∫ v iβ dt
	turns2     float64         // ∫ z² dt in shorted turns
}

// along returns ∫ i dt and ∫ i² dt of the current along axis a.
func (q *sums) along(a inverter.Vector) (i, i2 float64) {
	return dot(a, q.i), q.quadratic(a)
}

// quadratic returns ∫ (a·i)² dt.
func (q *sums) quadratic(a inverter.Vector) float64 {
	return a.Alpha*a.Alpha*q.aa + 2*a.Alpha*a.Beta*q.ab + a.Beta*a.Beta*q.bb
}

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

// add counts one stage with its weight.
func (q *sums) add(w float64, y *state, dq motor.DQ, torque float64) {
	a, b := y.i.Alpha, y.i.Beta
	wa, wb := w*a, w*b
	q.i.Alpha += wa
	q.i.Beta += wb
	q.aa += wa * a
	q.ab += wa * b
	q.bb += wb * b
	q.dq.D += w * dq.D
	q.dq.Q += w * dq.Q
	q.torque += w * torque
}

// addSlow counts what one stage has besides its current.
func (q *sums) addSlow(w float64, y *state, torque float64) {
	q.work += w * torque * y.speed
	q.turned += w * y.speed
	q.link += w * y.link
	q.link2 += w * y.link * y.link
	q.linkA += w * y.link * y.i.Alpha
	q.linkB += w * y.link * y.i.Beta
}

// addRing counts what one stage has in shorted turns. What they add to the magnetising current is none of the
// leads'.
func (q *sums) addRing(w float64, y *state, r *ring) {
	z, extra := r.current(y), y.frame(r.field(y.ring))
	q.turns2 += w * z * z
	q.dq.D -= w * extra.D
	q.dq.Q -= w * extra.Q
}

// merge counts another stretch.
func (q *sums) merge(o *sums) {
	q.time += o.time
	q.i.Alpha += o.i.Alpha
	q.i.Beta += o.i.Beta
	q.aa += o.aa
	q.ab += o.ab
	q.bb += o.bb
	q.dq.D += o.dq.D
	q.dq.Q += o.dq.Q
	q.torque += o.torque
	q.work += o.work
	q.turned += o.turned
	q.link += o.link
	q.link2 += o.link2
	q.linkA += o.linkA
	q.linkB += o.linkB
	q.turns2 += o.turns2
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
