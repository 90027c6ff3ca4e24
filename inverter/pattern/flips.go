package pattern

import "sextant/inverter"

// narrow is the width in slopes within which two crossings are one, and within which a crossing at a
// slope's end is left to the next slope: a hundredth part of what instants must be good to, and far above
// rounding. So a reference that touches the carrier's peak makes no pulse of rounding's width.
const narrow = 1e-13

const both inverter.Gates = 0b11 // the two switches of leg U

// A flip is a leg changing over at a position within a slope.
type flip struct {
	p   float64
	leg inverter.Phase
}

// flips are the gates at the start of a piece of a slope and all changes in it.
type flips struct {
	start inverter.Gates
	n     int
	all   [15]flip
}

// lead sets the leg's state at the start.
func (f *flips) lead(leg inverter.Phase, high bool) {
	s := inverter.Low(leg)
	if high {
		s = inverter.High(leg)
	}
	f.start = f.start.With(s)
}

func (f *flips) add(leg inverter.Phase, p float64) {
	f.all[f.n] = flip{p, leg}
	f.n++
}

// sort puts the flips in order of position; there are seldom more than three.
func (f *flips) sort() {
	for i := 1; i < f.n; i++ {
		for j := i; j > 0 && f.all[j].p < f.all[j-1].p; j-- {
			f.all[j], f.all[j-1] = f.all[j-1], f.all[j]
		}
	}
}
