package pattern

import (
	"math"

	"sextant/inverter"
)

// A Turn is a pattern's steady repetition: the gates at its start and all edges from there to its end, in
// s from 0, where the fundamental's angle is the pattern's phase.
type Turn struct {
	Length float64 // s
	Turns  int     // of the fundamental
	Start  inverter.Gates
	Edges  []Edge
}

// longest is the most turns of the fundamental after which a carrier may come round, and most carrier
// periods the most in all that time.
const (
	longest     = 100
	mostPeriods = 1e6
)

// Repeat returns the turn after which s repeats itself, with dead time as it is after long running: one turn
// of the fundamental if the carrier's ratio is a whole number, q of them if it is p/q with q up to 100. It
// fails as [Settings.Validate] does, at frequency 0, for patterns that follow no frequency, and where no
// such p/q is met to 1e-9 or p is beyond a million.
func (s Settings) Repeat() (Turn, error) {
	x, err := New(s)
	if err != nil {
		return Turn{}, err
	}
	if !s.Kind.Stepped() && !s.Kind.Compares() {
		return Turn{}, wrong("pattern", "%v has no fundamental", s.Kind)
	}
	if s.Frequency == 0 {
		return Turn{}, wrong("frequency", "at 0 Hz there is no turn; give another")
	}
	turns := 1
	if s.Kind.At(s.Modulation).Compares() {
		ratio := s.carrierFrequency() / math.Abs(s.Frequency)
		if turns = comesRound(ratio); turns == 0 {
			return Turn{}, wrong("carrier_ratio", "%.9g carrier periods a turn do not come round within %d turns; give a whole number or a simple fraction", ratio, longest)
		}
		if n := ratio * float64(turns); n > mostPeriods {
			return Turn{}, wrong("carrier_ratio", "%.9g carrier periods before the pattern repeats are too many; the most is %g", n, mostPeriods)
		}
	}
	turn := Turn{Length: float64(turns) / math.Abs(s.Frequency), Turns: turns}
	from := 0.0
	if s.DeadTime > 0 { // the first turn only brings the waiting turn-ons into step
		from = turn.Length
		for x.Peek() <= from {
			x.Next()
		}
	}
	turn.Start = x.Gates()
	before := turn.Start
	for x.Peek() < from+turn.Length {
		t, g := x.Next()
		if g != before {
			turn.Edges = append(turn.Edges, Edge{t - from, g})
			before = g
		}
	}
	return turn, nil
}

// comesRound returns the least number of turns that hold a whole number of carrier periods; 0 if more than
// longest.
func comesRound(ratio float64) int {
	for q := 1; q <= longest; q++ {
		n := ratio * float64(q)
		if p := math.Round(n); p > 0 && math.Abs(n-p) <= 1e-9*p {
			return q
		}
	}
	return 0
}
