package diagnosis

import (
	"math"

	"sextant/inverter"
	"sextant/motor/fault/capture"
)

const (
	// held is how many samples in a row at the very end of a recorder's range are more than chance, and
	// heldLong the least part of the time that must be spent there to speak of it.
	held     = 3
	heldLong = 0.03
	// natural is how many times as long as a sine whose top is one step of the recorder high.
	natural = 2
)

// clipped notes which currents stand still at their greatest value or their least, as where a recorder's range
// ends. A wave with a flat top may do so by itself, so that the note leaves it open.
func (r *Report) clipped(c *capture.Capture) {
	for _, p := range recorded(c) {
		step := stepOf(c, p)
		low, high := math.Inf(1), math.Inf(-1)
		for _, i := range c.Current {
			low, high = min(low, i[p]), max(high, i[p])
		}
		// Of a sine of this height, rounded to steps, the topmost step is held for this part of the time.
		sine := math.Acos(max(-1, 1-2*step/(high-low))) / math.Pi
		for _, end := range []float64{high, low} {
			if math.Abs(end) < max(high, -low)/2 {
				continue // the half-wave that a switch does not carry lies at zero
			}
			if part := heldAt(c, p, end); part > max(heldLong, natural*sine) {
				r.note("phase %v stands at %s for %.0f %% of the time: if that is where the recorder's range ends, its peaks are cut off and the signs are false; choose a larger range and record again", p, amperes(end), 100*part)
				break
			}
		}
	}
}

// heldAt returns the part of the samples that lie at a value several in a row.
func heldAt(c *capture.Capture, p inverter.Phase, value float64) float64 {
	sum, run := 0, 0
	for _, i := range c.Current {
		if i[p] != value {
			run = 0
			continue
		}
		if run++; run == held {
			sum += held
		} else if run > held {
			sum++
		}
	}
	return float64(sum) / float64(c.Len())
}

// stepOf returns the smallest step between two recorded values of a phase, in A.
func stepOf(c *capture.Capture, p inverter.Phase) float64 {
	least := math.Inf(1)
	for k := 1; k < c.Len(); k++ {
		if d := math.Abs(c.Current[k][p] - c.Current[k-1][p]); d > 1e-9*math.Abs(c.Current[k][p]) && d > 0 {
			least = min(least, d)
		}
	}
	return least
}
