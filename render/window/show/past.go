package show

import (
	"slices"
	"sort"

	"sextant/motor/drive"
)

const (
	// markEvery is how many s of the drive lie between two marks.
	markEvery = 0.05
	// reach is how many s of the drive one can go back at least, but for mostMarks.
	reach = 32
	// mostMarks bounds the marks, each of some kilobytes, where a hand makes many changes in a moment.
	mostMarks = 2000
	// mostAgain bounds what is run again, in instants: more than fifty turns of most drives hold. Of a drive that turns slowly and
	// switches fast, half a minute would hold millions; then the oldest are left out.
	mostAgain = 200_000
)

// A past holds the drive as it was at marks, so that what has left the tape can be run again: exactly the same, since
// a drive's results do not depend on how its running is cut up. It has a mark behind every change, so that
// between two marks the drive runs by itself.
type past struct {
	marks []*drive.Drive // oldest first
	tape  *drive.Tape    // of what is run again
	again []drive.Instant
	from  float64 // s; again tells of the time from from to to
	to    float64
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
	drop := 0
	for drop+1 < len(p.marks) && (p.marks[drop+1].Time() <= d.Time()-reach || len(p.marks)-drop > mostMarks) {
		drop++
	}
	p.marks = slices.Delete(p.marks, 0, drop)
}

// begins returns the earliest time that can be shown, in s.
func (p *past) begins() float64 { return p.marks[0].Time() }

// between returns the instants from t0 to t1, oldest first, samples at most gap s apart; the next call overwrites them.
func (p *past) between(t0, t1, gap float64) []drive.Instant {
	t0 = max(t0, p.begins())
	if p.again == nil || t0 < p.from || t1 > p.to {
		p.run(t0, t1, gap)
	}
	first := sort.Search(len(p.again), func(i int) bool { return p.again[i].Time >= t0 })
	last := sort.Search(len(p.again), func(i int) bool { return p.again[i].Time > t1 })
	return p.again[first:last]
}

// run runs again what happened from t0 to t1, and a little more on either side, where the hand may go next.
func (p *past) run(t0, t1, gap float64) {
	if p.tape == nil {
		p.tape = drive.NewTape(tapeLength, gap)
	}
	p.tape.SetGap(gap)
	const more = markEvery / 2
	k := len(p.marks) - 1
	for k > 0 && p.marks[k].Time() > t0-more {
		k--
	}
	p.again = p.again[:0]
	p.from, p.to = p.marks[k].Time(), t1+more
	for ; k < len(p.marks) && p.marks[k].Time() <= p.to; k++ {
		d := p.marks[k].Clone()
		begun, end := d.Time(), p.to
		if k+1 < len(p.marks) {
			end = min(end, p.marks[k+1].Time())
		}
		p.tape.Clear()
		d.Watch(p.tape)
		p.again = append(p.again, d.Now())
		err := d.Advance(end - begun) // a drive that failed then fails again, at the same time
		p.again = p.tape.AppendBetween(p.again, begun, end)
		if err == nil {
			p.again = append(p.again, d.Now())
		}
		if len(p.again) > mostAgain+mostAgain/4 { // not each time, since it moves them all
			p.again = slices.Delete(p.again, 0, len(p.again)-mostAgain)
		}
	}
	p.again = slices.Delete(p.again, 0, max(0, len(p.again)-mostAgain))
}
