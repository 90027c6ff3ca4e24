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
		if gap <= p.slack() && !begun.apart && (begun.sign == 0 || legs[begun.leg].tight) {
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
		case low < -p.slack():
			sign[k] = 1
		case high < -p.slack():
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

// direct gives each leg that is tied but carries nothing yet the branch that its current is about to need.
func (n *network) direct(s *state, legs *[3]leg, p *plant, sign [3]int8, still [3]bool, begun start) {
	aim := func(k int) bool {
		turned := begun.sign != 0 && begun.leg == inverter.Phase(k)
		return still[k] && sign[k] != 0 && !turned && legs[k].tight && !legs[k].plain
	}
	if !aim(0) && !aim(1) && !aim(2) {
		return
	}
	sin, cos := math.Sincos(s.theta)
	di, _, _ := n.slope(s.i, s.link, s.theta, sin, cos, p.pairs*s.speed, p)
	changed := false
	for k := range legs {
		if aim(k) && float64(sign[k])*dot(p.axes[k], di) < 0 {
			sign[k], changed = -sign[k], true
		}
	}
	if changed {
		n.wire(legs, sign, p)
	}
}

// slack returns by how much, in V, a terminal may leave its span before its leg starts: rounding alone
// must start none.
func (p *plant) slack() float64 { return 1e-9 * p.voltage }

// gap returns by how much the legs' spans fail to hold the magnet's EMF with no current flowing: the
// highest voltage that the neutral needs, lest some leg deliver current, less the lowest that it may have,
// lest some leg take it; and those two legs.
func (p *plant) gap(s *state, legs *[3]leg) (gap float64, source, sink inverter.Phase) {
	link := p.linkVoltage(s, 0)
	e := p.emf(s)
	least, most := math.Inf(-1), math.Inf(1)
	for k := range legs {
		if l := legs[k].source.level(link) - e[k]; l > least {
			least, source = l, inverter.Phase(k)
		}
		if l := legs[k].sink.level(link) - e[k]; l < most {
			most, sink = l, inverter.Phase(k)
		}
	}
	return least - most, source, sink
}

// room returns how far the one idle leg's terminal lies inside its span: above its lower end, below its
// upper end.
func (n *network) room(s *state, legs *[3]leg, p *plant) (low, high float64) {
	l := &legs[n.idle]
	link := p.linkVoltage(s, dot(n.g, s.i))
	v := n.float(s, p)
	return v - l.source.level(link), l.sink.level(link) - v
}

// float returns the terminal voltage of the one idle leg. The flux along its axis changes as the other two
// phases' current and the turning rotor make it; the neutral follows since the three changes sum to zero.
func (n *network) float(s *state, p *plant) float64 {
	sin, cos := math.Sincos(s.theta)
	omega := p.pairs * s.speed
	w, _, _ := p.pull(s.i, inverter.Vector{}, s.theta, sin, cos, omega) // w less u: what turning alone does
	di, _, _ := n.slope(s.i, s.link, s.theta, sin, cos, omega, p)
	dd, dq := cos*di.Alpha+sin*di.Beta, cos*di.Beta-sin*di.Alpha
	ud, uq := p.ld*dd-w.D, p.lq*dq-w.Q
	change := dot(p.axes[n.idle], inverter.Vector{Alpha: cos*ud - sin*uq, Beta: sin*ud + cos*uq})
	sum := 0.0
	link := p.linkVoltage(s, dot(n.g, s.i))
	for k := range n.on {
		if inverter.Phase(k) != n.idle {
			i := dot(p.axes[k], s.i)
			sum += n.on[k].level(link) - (n.on[k].resistance+p.resistance[k])*i
		}
	}
	return sum/2 + 1.5*change
}

// clear takes phase k's current away as its circuit opens. The flux that the other two phases can carry
// on, along the direction b left to them, is kept: b·L i' = b·L i.
func (p *plant) clear(s *state, k inverter.Phase) {
	sin, cos := math.Sincos(s.theta)
	b := inverter.Vector{Alpha: -p.axes[k].Beta, Beta: p.axes[k].Alpha}
	dq := p.dq(s)
	s.i = p.along(b, motor.DQ{D: p.ld * dq.D, Q: p.lq * dq.Q}, sin, cos)
}
