package loss

import (
	"math"

	"sextant/inverter/device"
	"sextant/inverter/heat"
)

// A solver finds what one leg's two positions, upper and lower, turn to heat and how warm they get.
type solver struct {
	*Point
	d      *device.Device
	bends  [2]float64
	pieces []piece // none at standstill
	nodes  []node
	edges  []edge
	still  bool
}

// newSolver returns a solver of a leg over a turn.
func newSolver(d *device.Device, p *Point) solver {
	s := solver{Point: p, d: d, edges: p.edges()}
	s.bend([2]float64{math.Inf(1), math.Inf(1)})
	return s
}

// newStill returns a solver of a leg that stands at an angle of its voltage.
func newStill(d *device.Device, p *Point, theta float64) solver {
	return solver{Point: p, d: d, still: true, nodes: []node{{p.gating(theta), p.current(theta), 1}}}
}

// bend divides the turn anew where the characteristics have bends within the current.
func (s *solver) bend(bends [2]float64) {
	for i := range bends {
		if bends[i] >= s.Current {
			bends[i] = math.Inf(1)
		}
	}
	if !s.still && (s.pieces == nil || bends != s.bends) {
		s.bends, s.pieces = bends, s.Point.pieces(bends)
		s.nodes = s.Point.nodes(s.pieces, fine)
	}
}

// legAt returns the leg with its junctions at temperatures.
func (s *solver) legAt(t [2]pair) leg {
	l := leg{at(s.d, s.Supply, t[0]), at(s.d, s.Supply, t[1]), s.Carrier}
	s.bend([2]float64{l.upper.knee(), l.lower.knee()})
	return l
}

// mean returns the heat of both positions, over a turn.
func (s *solver) mean(l *leg) [2]Losses {
	var sum [2]Losses
	for i := range s.nodes {
		n := &s.nodes[i]
		upper, lower := l.heat(n.gating, n.current)
		sum[0].add(n.weight, upper)
		sum[1].add(n.weight, lower)
	}
	for _, e := range s.edges {
		x := s.Frequency * l.of(e)
		to := &sum[e.position()]
		switch e.event {
		case device.TurnOn:
			to.TurnOn += x
		case device.TurnOff:
			to.TurnOff += x
		case device.Recovery:
			to.Recovery += x
		}
	}
	return sum
}

// position is the index of the position that e heats.
func (e edge) position() int {
	if e.upper {
		return 0
	}
	return 1
}

// of returns what an edge costs, in J.
func (l *leg) of(e edge) float64 {
	if e.upper {
		return l.upper.energy[e.event].Of(e.current)
	}
	return l.lower.energy[e.event].Of(e.current)
}

// Temperatures returns the steady temperatures, in °C, that the heat of a position makes over a sink: of the
// junctions of its switch and its diode.
func Temperatures(d *device.Device, sink float64, l Losses) (channel, diode float64) {
	t, _ := warm(d, sink, l)
	return t.channel, t.diode
}

// warm returns the steady temperatures that the heat of a position makes, in °C.
func warm(d *device.Device, sink float64, l Losses) (t pair, atCase float64) {
	h := &d.Heat
	atCase = sink + h.Case.Resistance()*l.Sum()
	if h.Diode == nil {
		chip := atCase + h.Switch.Resistance()*l.Sum()
		return pair{chip, chip}, atCase
	}
	return pair{atCase + h.Switch.Resistance()*l.Switch(), atCase + h.Diode.Resistance()*l.Rectifier()}, atCase
}

// A Settling is how the temperatures were found.
type Settling struct {
	Rounds  int     `json:"rounds"`   // of heat from temperatures and temperatures from heat
	Change  float64 `json:"change_k"` // of any junction in the last round
	Runaway bool    `json:"runaway"`  // no temperature is steady unless the data are held beyond their hottest
}

const (
	mostRounds = 20_000 // that are taken
	settled    = 1e-9   // how little a junction may change in the last, in K
	melted     = 1e4    // K in one round, after which no more need be taken
)

// settle returns the temperatures at which the heat is what makes them. Each round takes the temperatures
// that the heat of the round before makes; that converges, because each degree more heat makes less than a
// degree, unless the junction runs away.
func (s *solver) settle() ([2]pair, Settling) {
	if s.Fixed {
		t := pair{s.Junction, s.Junction}
		return [2]pair{t, t}, Settling{}
	}
	t, how := s.rounds()
	if max(t[0].channel, t[0].diode, t[1].channel, t[1].diode) > s.d.Hottest() {
		goesOn := s.d.Continued()
		try := *s
		try.d = &goesOn
		goal, then := try.rounds()
		how.Runaway = then.Change > settled || max(goal[0].channel, goal[0].diode, goal[1].channel, goal[1].diode) > hottest
	}
	return t, how
}

func (s *solver) rounds() (t [2]pair, how Settling) {
	t = [2]pair{{s.Sink, s.Sink}, {s.Sink, s.Sink}}
	for how.Rounds = 1; how.Rounds <= mostRounds; how.Rounds++ {
		l := s.legAt(t)
		how.Change = 0
		for i, losses := range s.mean(&l) {
			next, _ := warm(s.d, s.Sink, losses)
			how.Change = max(how.Change, math.Abs(next.channel-t[i].channel), math.Abs(next.diode-t[i].diode))
			t[i] = next
		}
		if !(how.Change > settled) || how.Change > melted {
			return t, how
		}
	}
	return t, how
}

// swing returns how the temperatures of a position's junctions swing over a turn, in °C.
func (s *solver) swing(l *leg, which int) (channel, diode heat.Swing) {
	var cycles [2]heat.Cycle // of the switch and of the diode
	for _, q := range s.pieces {
		n := math.Ceil((q.to - q.from) / widest)
		for k := range int(n) {
			from, to := q.from+(q.to-q.from)*float64(k)/n, q.from+(q.to-q.from)*float64(k+1)/n
			first, last := s.power(l, which, from+inside), s.power(l, which, to-inside)
			length := (to - from) / (2 * math.Pi * s.Frequency)
			cycles[0] = append(cycles[0], heat.Cell{Length: length, From: first.Switch(), To: last.Switch()})
			cycles[1] = append(cycles[1], heat.Cell{Length: length, From: first.Rectifier(), To: last.Rectifier()})
		}
	}
	for _, e := range s.edges {
		if e.position() != which {
			continue
		}
		of := 0
		if e.event == device.Recovery {
			of = 1
		}
		cycles[of][s.cellAt(e.theta)].Jolt += l.of(e)
	}
	h := &s.d.Heat
	own := func(c heat.Chain, cycle heat.Cycle) heat.Swing {
		return shifted(heat.Steady(heat.Load{Chain: c, Cycle: cycle}, heat.Load{Chain: h.Case, Cycle: cycles[0]}, heat.Load{Chain: h.Case, Cycle: cycles[1]}), s.Sink)
	}
	if h.Diode == nil {
		both := shifted(heat.Steady(
			heat.Load{Chain: h.Switch, Cycle: cycles[0]}, heat.Load{Chain: h.Switch, Cycle: cycles[1]},
			heat.Load{Chain: h.Case, Cycle: cycles[0]}, heat.Load{Chain: h.Case, Cycle: cycles[1]},
		), s.Sink)
		return both, both
	}
	return own(h.Switch, cycles[0]), own(h.Diode, cycles[1])
}

// widest is the angle of a cell in which power is taken to change in a straight line, in rad: what a sine
// bends in it is 1e-5 of its peak.
const widest = math.Pi / 360

// power returns what a position turns to heat about an angle.
func (s *solver) power(l *leg, which int, theta float64) Losses {
	upper, lower := l.heat(s.gating(theta), s.current(theta))
	if which == 0 {
		return upper
	}
	return lower
}

// cellAt returns the index of the cell that starts nearest to an angle.
func (s *solver) cellAt(theta float64) int {
	best, nearest, i := 0, math.Inf(1), 0
	for _, q := range s.pieces {
		n := int(math.Ceil((q.to - q.from) / widest))
		if d := math.Abs(math.Remainder(q.from-theta, 2*math.Pi)); d < nearest {
			best, nearest = i, d
		}
		i += n
	}
	return best
}

func shifted(s heat.Swing, by float64) heat.Swing {
	return heat.Swing{Least: s.Least + by, Mean: s.Mean + by, Peak: s.Peak + by}
}
