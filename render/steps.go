package render

import (
	"math"

	"gonum.org/v1/plot/vg"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor/drive"
)

// A step is the direction of the voltage vector that a state of the bridge commands, in twelfths of a turn; none
// where the state makes no vector.
type step int8

const none step = -1

// stepOf returns the step that gates command.
func stepOf(g inverter.Gates) step {
	var v inverter.Vector
	for _, ph := range inverter.Phases {
		s, c := math.Sincos(ph.Axis())
		switch high, low := g.Has(inverter.High(ph)), g.Has(inverter.Low(ph)); {
		case high && !low:
			v.Alpha, v.Beta = v.Alpha+c, v.Beta+s
		case low && !high:
			v.Alpha, v.Beta = v.Alpha-c, v.Beta-s
		}
	}
	if v.Abs() < 0.5 {
		return none
	}
	return step(int(math.Round(v.Angle()/(math.Pi/6))+12) % 12)
}

// stepTable holds the steps of all states.
var stepTable = func() (t [64]step) {
	for g := range t {
		t[g] = stepOf(inverter.Gates(g))
	}
	return t
}()

// A stepper tells the steps of a pattern apart as its states go by.
type stepper struct {
	twelve bool           // steps of 30 degrees follow one another
	sector bool           // a step is a sixth of a turn, between two active states that take turns
	held   inverter.Gates // the state that the step is of, all of whose gates were on at once
	at     step           // of a sector, where it begins
	seen   step           // the active state before, while no sector is known
}

// next returns the step that holds from state g on. What only takes gates off, dead time or chopping, goes on with
// the step it is in.
func (s *stepper) next(g inverter.Gates) step {
	switch k := stepTable[g&63]; {
	case s.sector:
		s.turn(k)
	case !s.twelve && g&s.held == g && g != s.held:
	default:
		s.held, s.at = g, k
	}
	return s.at
}

// turn takes up the sector that state k bounds: with the state before, where none is known yet, else the nearest.
func (s *stepper) turn(k step) {
	switch {
	case k == none || k%2 == 1: // no active state
	case s.at == none && k == (s.seen+2)%12:
		s.at = s.seen
	case s.at == none && s.seen == (k+2)%12:
		s.at = k
	case s.at == none:
		s.seen = k
	case k == (s.at+4)%12:
		s.at = (s.at + 2) % 12
	case k != s.at && k != (s.at+2)%12:
		s.at = k
	}
}

// dark reports whether a step is one of those that are shaded: every other.
func (s *stepper) dark(k step) bool {
	switch {
	case k == none:
		return false
	case s.twelve:
		return k%2 == 1
	}
	return k/2%2 == 1
}

// stepper returns what tells the steps of the view's pattern apart; false where it has none.
func (p *pen) stepper(w window) (s stepper, ok bool) {
	if p.v.Scenario == nil {
		return s, false
	}
	s.at, s.seen = none, none
	g := &p.v.Scenario.Gating
	switch k := g.Kind; {
	case k == pattern.TwelveStep150:
		s.twelve = true
	case k.Compares() || g.Follow == drive.Current:
		s.sector = w.span > fewPeriods*p.carrierPeriod()
	}
	return s, g.Kind < pattern.AllOff || g.Kind == pattern.ByHand
}

// steps shades every other step of the gates, over all lanes.
func (p *pen) steps(w window) {
	s, ok := p.stepper(w)
	if !ok {
		return
	}
	p.start()
	band := func(from, to float64) {
		from, to = max(from, w.from), min(to, w.to)
		if from < to {
			p.box(vg.Rectangle{Min: vg.Point{X: w.x(from), Y: p.l.Trace.Min.Y}, Max: vg.Point{X: w.x(to), Y: p.l.Trace.Max.Y}})
		}
	}
	last, since, until := none, 0.0, 0.0
	for _, c := range p.spans {
		for i := c.from; i < c.to; i++ {
			now := &p.v.Tape[i]
			until = now.Time
			if k := s.next(now.Gates); k != last {
				if s.dark(last) {
					band(since, until)
				}
				last, since = k, until
			}
		}
	}
	if s.dark(last) {
		band(since, until)
	}
	if len(p.path) > 0 {
		p.fill(p.ink.step)
	}
}
