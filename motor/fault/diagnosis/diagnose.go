package diagnosis

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"sextant/inverter"
	"sextant/motor/fault/capture"
	"sextant/motor/fault/signature"
)

const (
	// longTurns is how many turns are weighed as one; a longer capture is weighed by stretches.
	longTurns = 14
	// stretchTurns is how many turns a stretch has, and mostStretches how many stretches are taken, evenly
	// spread.
	stretchTurns  = 10
	mostStretches = 24
	// shortTurns is how many turns a stretch has at least, where a capture is too short for stretches but not
	// of a piece.
	shortTurns = 2.3
	// noisy is the standard error, over the fundamental, from which on nothing is to be said.
	noisy = 0.2
	// still is how many times a fundamental the mean current has where the field stands rather than turns.
	still = 12
	// seldom is how many samples a turn is too few to know the turn by.
	seldom = 8
	// coarse is how many of a recorder's steps the fundamental's peak must have.
	coarse = 3
)

// A verdict is what one stretch of a capture says.
type verdict struct {
	Suspect
	score  float64
	ranked []Ranked
	signs  signs
	err    error // why it says nothing
	still  bool  // currents flow and do not alternate
	// compared holds the faults that were told apart by simulating the drive's own scenario.
	compared  map[Fault]bool
	otherLoad bool // the currents are of another size than the scenario's
}

// Diagnose says which fault explains a capture best, or that none does clearly. With expected signatures, of
// the very drive under each fault, the ranking is sharpened by them.
func Diagnose(c *capture.Capture, expected *Expected) Report {
	r := Report{File: c.File, Samples: c.Len(), Notes: slices.Clone(c.Notes), Cautions: cautions}
	part, paused := c.Unbroken()
	if paused {
		r.note("the record pauses; only its longest unbroken part is used, from %.6g s to %.6g s", part.Time[0], part.Time[part.Len()-1])
	}
	v := verdict{Suspect: Suspect{Fault: Unclear}, err: misplaced(&part)}
	if v.err == nil {
		r.clipped(&part)
		part = r.upright(&part)
		v = clampSettled(r.weigh(&part, expected), &part, expected)
	}
	v.still = v.still || errors.Is(v.err, signature.ErrStill) && part.Current[0] != inverter.ABC{}
	if expected != nil {
		expected.standing(&v)
	}
	r.take(v, expected)
	return r
}

// weigh weighs the capture, by stretches where it is long or where its turns do not agree.
func (r *Report) weigh(c *capture.Capture, expected *Expected) verdict {
	near, err := signature.Near(c)
	if err != nil {
		return verdict{Suspect: Suspect{Fault: Unclear}, err: err}
	}
	span := c.Time[c.Len()-1] - c.Time[0]
	if turns := span * near; turns > longTurns {
		n := int(min(turns/stretchTurns, mostStretches))
		length := min(stretchTurns/near, span/float64(n))
		return r.agree(stretches(c, n, length, expected))
	}
	v := one(c, near, expected)
	if n := int(span * near / shortTurns); n > 1 && v.Fault != Healthy {
		// A fault that begins within the capture leaves its first turns healthy.
		first := c.Between(c.Time[0], c.Time[0]+span/float64(n))
		if one(&first, near, expected).Fault == Healthy {
			if all := stretches(c, n, span/float64(n), expected); all[n-1].Fault != Healthy && all[n-1].Fault != Unclear {
				return r.agree(all)
			}
		}
	}
	return v
}

// stretches weighs n stretches of so many seconds, evenly spread.
func stretches(c *capture.Capture, n int, length float64, expected *Expected) []verdict {
	first, last := c.Time[0], c.Time[c.Len()-1]
	all := make([]verdict, 0, n)
	for k := range n {
		from := first + (last-first-length)*float64(k)/float64(max(n-1, 1))
		part := c.Between(from, from+length)
		near, err := signature.Near(&part)
		if err != nil {
			all = append(all, verdict{Suspect: Suspect{Fault: Unclear}, err: err})
			continue
		}
		all = append(all, one(&part, near, expected))
	}
	return all
}

// one weighs a stretch.
func one(c *capture.Capture, near float64, expected *Expected) verdict {
	v := verdict{Suspect: Suspect{Fault: Unclear}}
	s, err := signature.Of(c, near)
	if err != nil {
		v.err = err
		return v
	}
	a := s.Amplitude()
	length, _ := s.MeanVector()
	per := float64(s.Samples-1) / float64(s.Turns)
	switch {
	case !(a > 0):
		v.err = signature.ErrStill
		return v
	case length > still:
		v.err = fmt.Errorf("the currents stand still: a mean of %.3g A and next to nothing that alternates; the shaft is blocked, or the drive holds it", length*a)
		v.still = true
		return v
	case per < seldom:
		v.err = fmt.Errorf("with %.2g samples a turn the frequency of %.4g Hz may be a false one, that a slow recorder makes of a higher: record faster, 50 samples a turn or more; the electrical frequency is the speed in rpm times the pole pairs over 60", per, s.Hz)
		return v
	case s.Doubt() > noisy:
		v.err = fmt.Errorf("noise of %.2g A hides a fundamental of %.2g A; record more current, more turns or more samples", s.Noise, a)
		return v
	case a < coarse*s.Step:
		v.err = fmt.Errorf("the fundamental of %.2g A has less than %d of the recorder's steps of %.2g A; choose a smaller range", a, coarse, s.Step)
		return v
	}
	v.signs = read(&s)
	v.ranked = v.signs.weigh()
	if expected != nil {
		expected.sharpen(&v)
	}
	v.score = v.ranked[0].Score
	if v.score >= certain {
		v.Suspect = v.ranked[0].Suspect
	}
	return v
}

// agree makes one verdict of those of stretches in their order of time: what all say that say anything; or a
// fault that all say from some time on, being healthy before.
func (r *Report) agree(all []verdict) verdict {
	var says []verdict
	for _, v := range all {
		if v.Fault != Unclear {
			says = append(says, v)
		}
	}
	if len(says) == 0 {
		return best(all)
	}
	last := says[len(says)-1].Suspect
	onset := len(says)
	for onset > 0 && says[onset-1].Suspect == last {
		onset--
	}
	before := says[:onset]
	healthyBefore := !slices.ContainsFunc(before, func(v verdict) bool { return v.Fault != Healthy })
	unsure := len(all) - len(says)
	switch {
	case onset > 0 && !(healthyBefore && last.Fault != Healthy):
		v := best(all)
		v.Suspect = Suspect{Fault: Unclear}
		v.err = errors.New("stretches of the capture do not agree: " + listed(says))
		return v
	case 2*len(says) < len(all):
		v := best(all)
		v.Suspect = Suspect{Fault: Unclear}
		v.err = fmt.Errorf("most stretches of the capture, %d of %d, say nothing clearly", unsure, len(all))
		return v
	}
	if onset > 0 {
		r.note("the currents are healthy until about %.4g s, and show the fault from about %.4g s on; the signs are of the faulty part", before[onset-1].signs.To, says[onset].signs.From)
	} else if unsure > 0 {
		r.note("%d of %d stretches of the capture say so, the others nothing clearly", len(says), len(all))
	} else {
		r.note("all %d stretches of the capture say so; the signs are of the one that says it most clearly", len(all))
	}
	v := best(says[onset:])
	v.score = 0
	for _, o := range says[onset:] {
		v.score += o.score / float64(len(says)-onset)
	}
	return v
}

// best returns the surest verdict, the first of those that are equally sure.
func best(all []verdict) verdict {
	return slices.MaxFunc(all, func(a, b verdict) int { return cmp.Compare(a.score, b.score) })
}

// listed names the different suspects in their order.
func listed(all []verdict) string {
	text, before := "", Suspect{}
	for _, v := range all {
		if v.Suspect == before {
			continue
		}
		if text != "" {
			text += ", then "
		}
		text += v.String()
		before = v.Suspect
	}
	return text
}

// degrees returns an angle in degrees from 0 to 360.
func degrees(rad float64) float64 {
	d := math.Mod(rad*180/pi, 360)
	if d < 0 {
		d += 360
	}
	return d
}
