package pattern

import (
	"math"

	"sextant/inverter"
)

// A sequence is a turn of steps: gates[i] holds from (i - lead)/n to (i + 1 - lead)/n of a turn, n being
// their number. It gates each switch for conduction, in rad.
type sequence struct {
	gates      []inverter.Gates
	lead       float64
	conduction float64
}

// Every pattern gives each switch one stretch a turn, centred where 180-degree conduction centres it: U+
// at 0, W- at 60, V+ at 120 degrees and so on.
//
// Conduction of 180 and 120 degrees: Rashid, Power Electronics, 3rd ed., ch. 6; of 150 degrees, three and
// two switches on by turns: common practice.
var sequences = [3]sequence{
	SixStep180:    newSequence(math.Pi, 6, 0.5),
	SixStep120:    newSequence(2*math.Pi/3, 6, 0),
	TwelveStep150: newSequence(5*math.Pi/6, 12, 0.5),
}

// newSequence returns n steps a turn in which each switch is on for conduction, in rad. A switch's share of a
// step is judged at the step's middle.
func newSequence(conduction float64, n int, lead float64) sequence {
	q := sequence{make([]inverter.Gates, n), lead, conduction}
	for i := range q.gates {
		middle := (float64(i) + 0.5 - lead) * 2 * math.Pi / float64(n)
		for _, s := range inverter.Switches {
			centre := s.Leg().Axis()
			if !s.High() {
				centre += math.Pi
			}
			if math.Abs(math.Remainder(middle-centre, 2*math.Pi)) < conduction/2 {
				q.gates[i] = q.gates[i].With(s)
			}
		}
	}
	return q
}

// nearly is the share of a step, or of a twelfth of a turn, within which a border counts as passed: it is
// wide against rounding and narrow against the 1e-12 of a turn that instants are good to.
const nearly = 1e-11

// at returns the index of the step that begins or is under way at an angle in turns, for turning forward
// or backward; it counts on past the end of a turn.
func (q sequence) at(turn float64, backward bool) int64 {
	x := turn*float64(len(q.gates)) + q.lead
	if backward {
		return int64(math.Ceil(x-nearly)) - 1
	}
	return int64(math.Floor(x + nearly))
}

// border returns the angle in turns at which step i begins.
func (q sequence) border(i int64) float64 { return (float64(i) - q.lead) / float64(len(q.gates)) }

// gate returns the gates of step i.
func (q sequence) gate(i int64) inverter.Gates {
	n := int64(len(q.gates))
	return q.gates[(i%n+n)%n]
}
