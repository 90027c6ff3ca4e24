package show

import (
	"slices"

	"sextant/motor/drive"
)

const (
	// markEvery is how many s of the drive lie between two marks.
	markEvery = 0.05
	// reach is how many s of the drive one can go back at least, but for mostMarks.
	reach = 32
	// mostMarks bounds the marks, each of some kilobytes, where a hand makes many changes in a moment.
	mostMarks = 2000
	// mostShown is how many instants the tape may show at its widest.
	mostShown = 80_000
)

// A past holds the drive as it was at marks, so that what has left the tape can be run again: exactly the same, since
// a drive's results do not depend on how its running is cut up. It has a mark behind every change, so that
// between two marks the drive runs by itself.
type past struct {
	marks []*drive.Drive // oldest first
	tape  *drive.Tape    // of what is run again:
	from  float64        // s; of the time from from
	to    float64        // to to
}

// mark keeps d as it is, if it is time for that or it must be.
func (p *past) mark(d *drive.Drive, must bool) {
	n := len(p.marks)
	switch {
	case n > 0 && !must && d.Time() < p.marks[n-1].Time()+markEvery:
		return
	case n > 0 && d.Time() == p.marks[n-1].Time():
		p.marks = p.marks[:n-1] // nothing happened between
	}
	p.marks = append(p.marks, d.Clone())
	if must { // what was run again beyond this time did not know of the change
		p.to = min(p.to, d.Time())
	}
	drop := 0
	for drop+1 < len(p.marks) && (p.marks[drop+1].Time() <= d.Time()-reach || len(p.marks)-drop > mostMarks) {
		drop++
	}
	p.marks = slices.Delete(p.marks, 0, drop)
}

// begins returns the earliest time that can be shown, in s.
func (p *past) begins() float64 { return p.marks[0].Time() }

// appendBetween appends to dst the instants from t0 to t1, oldest first, samples at most gap s apart, and returns it.
func (p *past) appendBetween(dst []drive.Instant, t0, t1, gap float64) []drive.Instant {
	t0 = max(t0, p.begins())
	if t0 < p.from || t1 >= p.to {
		p.run(t0, t1, gap)
	}
	return p.tape.AppendBetween(dst, t0, t1)
}

// run runs again what happened from t0 to t1, and a little more on either side, where the hand may go next.
func (p *past) run(t0, t1, gap float64) {
	if p.tape == nil {
		p.tape = drive.NewTape(mostShown+mostShown/4, gap)
	}
	p.tape.Clear()
	p.tape.SetGap(gap)
	more := min(markEvery/2, (t1-t0)/8)
	p.from, p.to = max(t0-more, p.begins()), t1+more
	k := len(p.marks) - 1
	for k > 0 && p.marks[k].Time() > p.from {
		k--
	}
	for ; k < len(p.marks) && p.marks[k].Time() <= p.to; k++ {
		d, end := p.marks[k].Clone(), p.to
		if k+1 < len(p.marks) {
			end = min(end, p.marks[k+1].Time())
		}
		// A drive that failed then fails again, at the same time.
		if d.Advance(max(p.from-d.Time(), 0)) != nil {
			continue
		}
		d.Watch(p.tape)
		_ = d.Advance(end - d.Time())
	}
}
