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

// legOf returns the characteristic of a leg with the given gates under drops s. A gated channel conducts
// in reverse where it is ideal, or where s says both ways and its threshold is no higher than the diode's;
// otherwise reverse current takes the diode.
func legOf(high, low bool, s *Switches) leg {
	forward := branch{offset: s.ChannelThreshold, resistance: s.ChannelResistance}
	diode := branch{offset: s.DiodeThreshold, resistance: s.DiodeResistance}
	reverse, byChannel := diode, s.ideal() || s.BothWays && s.ChannelThreshold <= s.DiodeThreshold
	if byChannel {
		reverse = forward
	}
	l := leg{
		source: branch{up: 0, offset: -diode.offset, resistance: diode.resistance, way: inverter.LowerDiode},
		sink:   branch{up: 1, offset: diode.offset, resistance: diode.resistance, way: inverter.UpperDiode},
	}
	switch {
	case high:
		l.source = branch{up: 1, offset: -forward.offset, resistance: forward.resistance, way: inverter.UpperChannel}
		l.sink.offset, l.sink.resistance = reverse.offset, reverse.resistance
		if byChannel {
			l.sink.way = inverter.UpperChannel
		}
	case low:
		l.sink = branch{up: 0, offset: forward.offset, resistance: forward.resistance, way: inverter.LowerChannel}
		l.source.offset, l.source.resistance = -reverse.offset, reverse.resistance
		if byChannel {
			l.source.way = inverter.LowerChannel
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

// A legTable has the characteristics of a leg by its gates: none, upper, lower on.
type legTable [3]leg

func newLegTable(s *Switches) legTable {
	return legTable{legOf(false, false, s), legOf(true, false, s), legOf(false, true, s)}
}

// of returns the characteristic of leg p under gates g.
func (t *legTable) of(p inverter.Phase, g inverter.Gates) *leg {
	switch {
	case g.Has(inverter.High(p)):
		return &t[1]
	case g.Has(inverter.Low(p)):
		return &t[2]
	}
	return &t[0]
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
// (so that g·i is the current drawn from the link), and M the resistances of windings, legs and a source
// without capacitor as a symmetric 2 x 2 matrix.
type network struct {
	sign       [3]int8   // of the current in each leg: +1 source, -1 sink, 0 idle
	on         [3]branch // what each leg that is not idle is on
	tied       int       // how many legs are not idle
	idle       inverter.Phase
	free       inverter.Vector // tied == 2: the one direction left to the current
	g          inverter.Vector
	push       inverter.Vector // (2/3) g·link + offset with a link that is not a state, else the offset
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
	if p.capacitance == 0 {
		r := 2. / 3 * p.source
		n.aa += r * n.g.Alpha * n.g.Alpha
		n.ab += r * n.g.Alpha * n.g.Beta
		n.bb += r * n.g.Beta * n.g.Beta
		n.push.Alpha += 2. / 3 * n.g.Alpha * p.voltage
		n.push.Beta += 2. / 3 * n.g.Beta * p.voltage
	}
	switch n.tied {
	case 2:
		a := p.axes[n.idle]
		n.free = inverter.Vector{Alpha: -a.Beta, Beta: a.Alpha}
	case 0, 1:
		n.anyGuard = false
	}
}
