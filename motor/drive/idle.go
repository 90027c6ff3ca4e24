package drive

import (
	"math"

	"sextant/inverter"
)

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
