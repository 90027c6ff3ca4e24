package diagnosis

import (
	"fmt"
	"math"

	"sextant/inverter"
	"sextant/motor/fault/capture"
)

const (
	// gross is the least part of the currents' mean square that their sum has where a clamp sits wrong: one the
	// wrong way round makes it 4 for even currents, twice what that phase carries.
	gross = 0.5
	// cleared is the part of the sum's mean square that may be left once that clamp's sign is turned.
	cleared = 1.0 / 25
	// twin is the part of a current's mean square in which two clamps on one lead may differ.
	twin = 1.0 / 400
	// oneSign is how far below zero, over the largest current, noise takes what an instrument has rectified.
	oneSign = 0.03
)

// recorded lists the phases that a capture's file holds.
func recorded(c *capture.Capture) []inverter.Phase {
	var all []inverter.Phase
	for _, p := range inverter.Phases {
		if !c.Derived || p != c.Third {
			all = append(all, p)
		}
	}
	return all
}

// mean returns the mean of what of makes of the samples of c.
func mean(c *capture.Capture, of func(inverter.ABC) float64) float64 {
	sum := 0.0
	for _, i := range c.Current {
		sum += of(i)
	}
	return sum / float64(max(c.Len(), 1))
}

func square(x float64) float64 { return x * x }

func total(i inverter.ABC) float64 { return i[0] + i[1] + i[2] }

// turned returns c with the sign of a phase's recorded current turned.
func turned(c *capture.Capture, p inverter.Phase) capture.Capture {
	t := *c
	t.Current = make([]inverter.ABC, c.Len())
	for k, i := range c.Current {
		i[p] = -i[p]
		if c.Derived {
			i[c.Third] = -i[c.Third.Next()] - i[c.Third.Next().Next()]
		}
		t.Current[k] = i
	}
	return t
}

// backward finds a clamp that sits the wrong way round: the three currents of three wires sum to none, and with
// the sign of that one they do. Where two do so, as with an open phase, the first is taken.
func backward(c *capture.Capture) (p inverter.Phase, found bool) {
	if c.Derived {
		return 0, false // the sum says nothing
	}
	each := mean(c, func(i inverter.ABC) float64 { return (square(i[0]) + square(i[1]) + square(i[2])) / 3 })
	sum := mean(c, func(i inverter.ABC) float64 { return square(total(i)) })
	if !(sum > gross*each) {
		return 0, false
	}
	for _, p := range inverter.Phases {
		if mean(c, func(i inverter.ABC) float64 { return square(total(i) - 2*i[p]) }) < cleared*sum {
			return p, true
		}
	}
	return 0, false
}

// upright returns the capture with the clamp that sits the wrong way round, if one does, turned, and notes it.
func (r *Report) upright(c *capture.Capture) capture.Capture {
	p, found := backward(c)
	if !found {
		return *c
	}
	r.reversed = p.String()
	r.note("the clamp of phase %v sits the wrong way round, or its channel is inverted: the currents sum to none only with its sign turned, as it is here. Should the other two be the wrong way round instead, + and - of every switch change places.", p)
	return turned(c, p)
}

// misplaced says what is wrong with a record that shows no three currents of a drive, whatever its fault.
func misplaced(c *capture.Capture) error {
	if _, found := backward(c); found {
		return nil // of an open phase the other two, one turned, are the same
	}
	also := ""
	if c.Derived {
		also = fmt.Sprintf(", or one sits the wrong way round and phase %v is open", c.Third)
	}
	phases := recorded(c)
	for i, p := range phases {
		for _, q := range phases[i+1:] {
			own := mean(c, func(x inverter.ABC) float64 { return square(x[p]) })
			if mean(c, func(x inverter.ABC) float64 { return square(x[p] - x[q]) }) < twin*own {
				return fmt.Errorf("phases %v and %v show one and the same current: both clamps are on the same lead, or a channel was exported twice%s", p, q, also)
			}
		}
	}
	least, most := math.Inf(1), 0.0
	for _, i := range c.Current {
		least, most = min(least, i[0], i[1], i[2]), max(most, i[0], i[1], i[2])
	}
	if !c.Derived && most > 0 && least > -oneSign*most {
		return fmt.Errorf("none of the three currents is ever below zero, which three wires cannot carry: the instrument recorded rms or rectified values; record the waveform itself, signed, with its direct part")
	}
	return nil
}

// clampSettled returns the verdict, or unclear where but two currents were recorded and all would be well if one of
// their clamps sat the wrong way round: nothing in two currents tells that from the fault.
func clampSettled(v verdict, c *capture.Capture, expected *Expected) verdict {
	if !c.Derived || v.Fault == Healthy || v.err != nil {
		return v
	}
	phases := recorded(c)
	other := turned(c, phases[0])
	var scratch Report
	if w := scratch.weigh(&other, expected); w.Fault == Healthy {
		v.Suspect = Suspect{Fault: Unclear}
		v.err = fmt.Errorf("with the sign of %v or %v turned the currents are those of a healthy drive: see whether one of the two clamps sits the wrong way round, or record the third current, which settles it", phases[0], phases[1])
	}
	return v
}
