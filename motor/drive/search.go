package drive

import (
	"math"

	"sextant/inverter"
)

// search settles how each leg carries its current at state s by trying every way: the one whose currents start
// in the sense that its legs carry, and whose idle terminals stay in their spans. conduct finds it at once but
// where several legs start together and one start undoes another, as a salient rotor can make it. It reports
// whether there is one; if not, n is unchanged.
func (n *network) search(s *state, legs *[3]leg, p *plant, tiny float64) bool {
	before := *n
	for code := range 27 {
		sign := [3]int8{int8(code%3) - 1, int8(code/3%3) - 1, int8(code/9) - 1}
		if n.fits(s, legs, p, sign, tiny) {
			return true
		}
	}
	*n = before
	return false
}

// fits wires legs on the branches of sign and reports whether they can stay on them.
func (n *network) fits(s *state, legs *[3]leg, p *plant, sign [3]int8, tiny float64) bool {
	for k, x := range sign {
		i := dot(p.axes[k], s.i)
		switch {
		case math.Abs(i) > tiny && i*float64(x) <= 0,
			x > 0 && math.IsInf(legs[k].source.offset, -1), // there is no such way
			x < 0 && math.IsInf(legs[k].sink.offset, 1),
			legs[k].tight && x == 0:
			return false
		}
	}
	n.wire(legs, sign, p)
	switch n.tied {
	case 0, 1: // one leg alone carries nothing, and is tied only where it always is
		gap, _, _ := p.gap(s, legs)
		tight := howMany([3]bool{legs[0].tight, legs[1].tight, legs[2].tight})
		return tight == n.tied && gap <= p.slack
	case 2:
		if low, high := n.room(s, legs, p); legs[n.idle] != cutLeg && min(low, high) < -p.slack {
			return false
		}
	}
	di, _ := n.drift(s, p)
	for _, k := range inverter.Phases {
		still := math.Abs(dot(p.axes[k], s.i)) <= tiny
		if still && sign[k] != 0 && !legs[k].plain && float64(sign[k])*dot(p.axes[k], di) < 0 {
			return false
		}
	}
	return true
}
