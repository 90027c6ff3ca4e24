package drive

import (
	"math"

	"sextant/inverter"
)

// A branch is one straight piece of a leg's characteristic: with current i into the machine its terminal
// lies at up·(link voltage) + offset - resistance·i above the negative rail.
type branch struct {
	up         float64 // 1 by the positive rail, 0 by the negative
	offset     float64 // V
	resistance float64 // Ω
	way        inverter.Way
}

// level returns where the branch's terminal lies at no current.
func (b *branch) level(link float64) float64 { return b.up*link + b.offset }

// A leg is a monotone characteristic: below source's level the terminal delivers current, above sink's it
// takes current, between them it carries nothing.
type leg struct {
	source, sink branch
	tight        bool // no voltage lies between the two, so that the terminal is always tied
	plain        bool // the current's sign changes nothing
}

// legOf returns the characteristic of a leg with the given gates, whose upper and lower switch have such drops.
func legOf(high, low bool, upper, lower *Switches) leg {
	l := leg{
		source: branch{up: 0, offset: -lower.DiodeThreshold, resistance: lower.DiodeResistance, way: inverter.LowerDiode},
		sink:   branch{up: 1, offset: upper.DiodeThreshold, resistance: upper.DiodeResistance, way: inverter.UpperDiode},
	}
	switch {
	case high:
		l.source = branch{up: 1, offset: -upper.ChannelThreshold, resistance: upper.ChannelResistance, way: inverter.UpperChannel}
		if upper.reverses() {
			l.sink = branch{up: 1, offset: upper.ChannelThreshold, resistance: upper.ChannelResistance, way: inverter.UpperChannel}
		}
	case low:
		l.sink = branch{up: 0, offset: lower.ChannelThreshold, resistance: lower.ChannelResistance, way: inverter.LowerChannel}
		if lower.reverses() {
			l.source = branch{up: 0, offset: -lower.ChannelThreshold, resistance: lower.ChannelResistance, way: inverter.LowerChannel}
		}
	}
	l.mark()
	return l
}

// mark notes how the two branches relate.
func (l *leg) mark() {
	l.tight = l.source.up == l.sink.up && l.source.offset == l.sink.offset
	l.plain = l.source == l.sink
}

// shortedLeg is the characteristic of a terminal tied to b.
func shortedLeg(b branch) leg { return leg{source: b, sink: b, tight: true, plain: true} }

// A legTable has the characteristics of each leg by its gates: none, upper, lower on.
type legTable [3][3]leg

// newLegTable returns the table of switches whose junctions are at temperatures t.
func newLegTable(s *Switches, t *temperatures) legTable {
	var table legTable
	for _, k := range inverter.Phases {
		upper, lower := s.at(t[inverter.High(k)]), s.at(t[inverter.Low(k)])
		table[k] = [3]leg{legOf(false, false, &upper, &lower), legOf(true, false, &upper, &lower), legOf(false, true, &upper, &lower)}
	}
	return table
}

// of returns the characteristic of leg p under gates g.
func (t *legTable) of(p inverter.Phase, g inverter.Gates) *leg {
	switch {
	case g.Has(inverter.High(p)):
		return &t[p][1]
	case g.Has(inverter.Low(p)):
		return &t[p][2]
	}
	return &t[p][0]
}

// reverses reports whether a gated channel conducts in reverse: where it is ideal, or where it conducts both ways
// and its threshold is no higher than the diode's. Otherwise reverse current takes the diode.
func (s *Switches) reverses() bool {
	return s.ideal() || s.BothWays && s.ChannelThreshold <= s.DiodeThreshold
}

// ideal reports whether the switches have no drops at all.
func (s *Switches) ideal() bool {
	return s.ChannelThreshold == 0 && s.ChannelResistance == 0 && s.DiodeThreshold == 0 && s.DiodeResistance == 0
}

// cutLeg is the characteristic of a terminal that is connected to nothing.
var cutLeg = leg{source: branch{offset: math.Inf(-1)}, sink: branch{up: 1, offset: math.Inf(1)}}

// axes are the directions of the phases in the stationary frame, as they should be wired.
var axes = [3]inverter.Vector{
	{Alpha: 1},
	{Alpha: -0.5, Beta: math.Sqrt(3) / 2},
	{Alpha: -0.5, Beta: -math.Sqrt(3) / 2},
}

func dot(a, b inverter.Vector) float64 { return a.Alpha*b.Alpha + a.Beta*b.Beta }

// A network is the circuit that the legs' present branches make, seen from the windings as
//
//	u = (2/3) g·link + offset - M i
//
// with u what is left for the flux to change by, g the sum of the axes of the legs by the positive rail
// (so that g·i is the current drawn from the link), and M the resistances of windings, legs and the link's
// feed as a symmetric 2 x 2 matrix.
type network struct {
	sign       [3]int8   // of the current in each leg: +1 source, -1 sink, 0 idle
	on         [3]branch // what each leg that is not idle is on
	tied       int       // how many legs are not idle
	idle       inverter.Phase
	free       inverter.Vector // tied == 2: the one direction left to the current
	g          inverter.Vector
	push       inverter.Vector // offset, and (2/3) g times what of the link is no state
	aa, ab, bb float64
	way        [3]inverter.Way
	guarded    [3]bool // legs whose branch ends where their current does
	anyGuard   bool
	offset     inverter.Vector
}

// wire makes the network of legs on the branches that sign selects.
func (n *network) wire(legs *[3]leg, sign [3]int8, p *plant) {
	*n = network{sign: sign}
	for k, s := range sign {
		if s == 0 {
			n.idle = inverter.Phase(k)
			continue
		}
		b := &legs[k].source
		if s < 0 {
			b = &legs[k].sink
		}
		n.tied++
		n.on[k], n.way[k] = *b, b.way
		n.guarded[k] = !legs[k].plain
		n.anyGuard = n.anyGuard || n.guarded[k]
		a := p.axes[k]
		n.g.Alpha += b.up * a.Alpha
		n.g.Beta += b.up * a.Beta
		n.offset.Alpha += 2. / 3 * b.offset * a.Alpha
		n.offset.Beta += 2. / 3 * b.offset * a.Beta
		r := 2. / 3 * (b.resistance + p.resistance[k])
		n.aa += r * a.Alpha * a.Alpha
		n.ab += r * a.Alpha * a.Beta
		n.bb += r * a.Beta * a.Beta
	}
	n.push = n.offset
	if f := &p.feed; f.give != 0 || f.resistance != 0 {
		r := 2. / 3 * f.resistance
		n.aa += r * n.g.Alpha * n.g.Alpha
		n.ab += r * n.g.Alpha * n.g.Beta
		n.bb += r * n.g.Beta * n.g.Beta
		n.push.Alpha += 2. / 3 * n.g.Alpha * f.give
		n.push.Beta += 2. / 3 * n.g.Beta * f.give
	}
	switch n.tied {
	case 2:
		a := p.axes[n.idle]
		n.free = inverter.Vector{Alpha: -a.Beta, Beta: a.Alpha}
	case 0, 1:
		n.anyGuard = false
	}
}
