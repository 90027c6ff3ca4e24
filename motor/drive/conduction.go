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

// gap returns by how much the legs' spans fail to hold the magnet's EMF with no current flowing: the
// highest voltage that the neutral needs, lest some leg deliver current, less the lowest that it may have,
// lest some leg take it; and those two legs.
func (p *plant) gap(s *state, legs *[3]leg) (gap float64, source, sink inverter.Phase) {
	link := p.linkVoltage(s, 0)
	e := p.rest(s)
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
	change := dot(p.axes[n.idle], n.induced(s, p))
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

// induced returns the voltage vector that the phases have behind their resistances: the change of flux, and the
// drop that shorted turns carry into theirs.
func (n *network) induced(s *state, p *plant) inverter.Vector {
	sin, cos := math.Sincos(s.theta)
	w, _, _ := p.pull(p.magnetising(s), inverter.Vector{}, s.theta, sin, cos, p.pairs*s.speed) // w less u: what turning alone does
	di, ring := n.drift(s, p)
	extra, drop := p.ring.field(ring), p.ring.field(p.ring.winding*s.ring)
	di.Alpha, di.Beta = di.Alpha+extra.Alpha, di.Beta+extra.Beta
	dd, dq := cos*di.Alpha+sin*di.Beta, cos*di.Beta-sin*di.Alpha
	ud, uq := p.ld*dd-w.D, p.lq*dq-w.Q
	return inverter.Vector{Alpha: cos*ud - sin*uq + drop.Alpha, Beta: sin*ud + cos*uq + drop.Beta}
}

// common returns what shorted turns make in all three phases alike, in V.
func (n *network) common(s *state, p *plant) float64 {
	if !p.ring.on() {
		return 0
	}
	_, dx := n.drift(s, p)
	return (p.ring.resistance*s.ring + p.ring.share*p.ring.phase*dx) / 3
}

// rest returns the voltages of the phases while no current flows in the legs: the magnet's EMFs, and what shorted
// turns make of them.
func (p *plant) rest(s *state) inverter.ABC {
	e := p.emf(s)
	if !p.ring.on() {
		return e
	}
	var none network
	v, common := none.induced(s, p), none.common(s, p)+e.Neutral()
	for k := range e {
		e[k] = dot(p.axes[k], v) + common
	}
	return e
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
