package render

import (
	"math"

	"sextant/motor/drive"
)

// Beads is how far along the beads are that show current flowing in each wire. The zero value is good;
// [Beads.Advance] moves them.
type Beads struct {
	offset [wires]float64 // in bead spacings, 0 to beadCycle
	peak   float64        // A, largest current of late; it moves at full speed
}

const (
	beadCycle = 4   // beads differ within as many
	beadSpeed = 3.4 // bead spacings a second at the peak current
	peakFade  = 8.0 // s in which a past peak is forgotten by 1/e
)

// Advance moves the beads by wall seconds of the spectator's time at the currents of now.
func (b *Beads) Advance(now drive.Instant, wall float64) {
	if !(wall > 0) {
		return
	}
	b.peak *= math.Exp(-wall / peakFade)
	for _, i := range now.Current {
		b.peak = max(b.peak, math.Abs(i))
	}
	if !(b.peak > 0) {
		return
	}
	for w := range b.offset {
		step := beadSpeed * wall * wireCurrent(wire(w), &now) / b.peak
		b.offset[w] += step
		b.offset[w] -= beadCycle * math.Floor(b.offset[w]/beadCycle)
	}
}
