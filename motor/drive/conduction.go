package drive

import (
	"math"

	"sextant/inverter"
	"sextant/motor"
)

// A start tells conduct that a guard has just seen a leg's terminal leave its span, and on which side, or the
// spans of two legs part; the zero value tells nothing.
type start struct {
	leg   inverter.Phase
	sign  int8
	apart bool
}

// conduct settles how each leg carries its current at state s, and wires the network accordingly. Legs that
// carry current are on the branch of its sign. Of those that carry none, one whose branches meet is tied in
// any case; the others start where their terminal, left alone, would leave its span.
func (n *network) conduct(s *state, legs *[3]leg, p *plant, tiny float64, begun start) {
	var sign [3]int8
	still := [3]bool{true, true, true} // carries nothing at this instant
	carrying := 0
	for k := range legs {
		switch i := dot(p.axes[k], s.i); {
		case i > tiny:
			sign[k], still[k] = 1, false
		case i < -tiny:
			sign[k], still[k] = -1, false
		case legs[k].tight:
			sign[k] = 1 // for now
			if begun.sign != 0 && begun.leg == inverter.Phase(k) {
				sign[k] = begun.sign
			} else if n.sign[k] < 0 {
				sign[k] = -1
			}
		}
		if sign[k] != 0 {
			carrying++
		}
	}
	if howMany(still) > 1 { // what is left is rounding: no current returns by nothing
		s.i = inverter.Vector{}
	}
	if carrying < 2 {
		gap, high, low := p.gap(s, legs)
		if gap <= p.slack && !begun.apart && (begun.sign == 0 || legs[begun.leg].tight) {
			n.wire(legs, sign, p)
			return
		}
		sign[high], sign[low] = 1, -1
		begun = start{}
	}
	n.wire(legs, sign, p)
	if n.tied == 2 {
		k := n.idle
		low, high := n.room(s, legs, p)
		switch {
		case begun.sign != 0 && begun.leg == k:
			sign[k] = begun.sign
		case low < -p.slack:
			sign[k] = 1
		case high < -p.slack:
			sign[k] = -1
		}
		if sign[k] != 0 {
			n.wire(legs, sign, p)
		}
	}
	n.direct(s, legs, p, sign, still, begun)
}

func howMany(set [3]bool) int {
	n := 0
	for _, in := range set {
		if in {
			n++
		}
	}
	return n
}

// direct gives each leg that is tied but carries nothing yet the branch that its current is about to need. What one
// of two tied legs carries the other returns.
func (n *network) direct(s *state, legs *[3]leg, p *plant, sign [3]int8, still [3]bool, begun start) {
	aim := func(k int) bool {
		turned := begun.sign != 0 && begun.leg == inverter.Phase(k)
		return still[k] && sign[k] != 0 && !turned && legs[k].tight && !legs[k].plain
	}
	if !aim(0) && !aim(1) && !aim(2) {
		return
	}
	di, _ := n.drift(s, p)
	returns := n.tied == 2 && begun.sign != 0 && sign[begun.leg] != 0
	changed := false
	for k := range legs {
		wrong := float64(sign[k])*dot(p.axes[k], di) < 0
		if returns {
			wrong = sign[k] == begun.sign
		}
		if aim(k) && wrong {
			sign[k], changed = -sign[k], true
		}
	}
	if changed {
		n.wire(legs, sign, p)
	}
}

// drift returns how fast the current changes at state s, and that of shorted turns.
func (n *network) drift(s *state, p *plant) (di inverter.Vector, ring float64) {
	sin, cos := math.Sincos(s.theta)
	if p.ring.on() {
		di, ring, _, _ = n.slopeRing(s, sin, cos, p.pairs*s.speed, p)
	} else {
		di, _, _ = n.slope(s.i, s.link, s.theta, sin, cos, p.pairs*s.speed, p)
	}
	return di, ring
}

// clear takes phase k's current away as its circuit opens. The flux that the other two phases can carry
// on, along the direction b left to them, is kept: b·L i' = b·L i.
func (p *plant) clear(s *state, k inverter.Phase) {
	sin, cos := math.Sincos(s.theta)
	b := inverter.Vector{Alpha: -p.axes[k].Beta, Beta: p.axes[k].Alpha}
	dq := p.dq(s)
	if p.ring.on() {
		d := s.frame(b)
		y, x := p.hold(d, s.frame(p.ring.axis), d.D*p.ld*dq.D+d.Q*p.lq*dq.Q, p.linked(s))
		s.i, s.ring = inverter.Vector{Alpha: b.Alpha * y, Beta: b.Beta * y}, x
		return
	}
	s.i = p.along(b, motor.DQ{D: p.ld * dq.D, Q: p.lq * dq.Q}, sin, cos)
}
