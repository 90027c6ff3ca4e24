package render

import (
	"cmp"
	"slices"

	"gonum.org/v1/plot/vg"
)

// A Layout is where the parts of the stage lie. Y points up, as on every vg.Canvas.
type Layout struct {
	Area     vg.Rectangle // all of it
	Sentence vg.Rectangle // those below are empty where the focus leaves them out
	Bridge   vg.Rectangle
	Wheel    vg.Rectangle
	Tape     vg.Rectangle
	Ledger   vg.Rectangle
	Trace    vg.Rectangle        // within Tape: where waveforms run
	Lanes    [lanes]vg.Rectangle // within Trace; those left out are empty
	Now      vg.Length           // within Trace: x of the now-line

	stacked            bool      // one below the other
	narrow             bool      // and as narrow as a phone
	cursors            int       // that the tape has columns for
	unit               vg.Length // a small length that everything is counted in
	margin             vg.Length
	small, body, large vg.Length // sizes of text
}

// Arrange lays the parts that f is on out in area: side by side where it is wide, one above the other where it is
// narrow. textScale enlarges what text there is room for; 0 means 1. The tape shows the given lanes, from the
// top; if none are given, the most telling that there is room for.
func Arrange(f Focus, area vg.Rectangle, textScale float64, show ...Lane) Layout {
	if !(textScale > 0) {
		textScale = 1
	}
	l := Layout{Area: area}
	s := area.Size()
	l.stacked, l.narrow = s.X < 1.1*s.Y, s.X < 0.6*s.Y
	if l.stacked {
		l.stack(f, vg.Length(textScale))
	} else {
		l.spread(f, vg.Length(textScale))
	}
	l.look(f)
	if !empty(l.Tape) {
		l.lanes(show)
	}
	return l
}

// spread puts bridge and wheel above the tape and the ledger beside all three. It counts in 160ths of the
// width; what height there is beyond 16:9 goes to the tape, what width there is makes bridge and wheel larger.
func (l *Layout) spread(f Focus, text vg.Length) {
	a, s := l.Area, l.Area.Size()
	u := min(s.X/160, s.Y/90)
	l.unit, l.margin = u, 1.6*u
	wide := min(1.25, max(1, s.X/s.Y*9/16)) // where width is left over, letters can be larger
	text *= wide
	if f != Everything { // or height
		text *= min(1.25, max(1, s.Y/s.X*16/9))
	}
	l.small, l.body, l.large = 1.75*u*text, 2.2*u*text, 3.1*u*text
	foot := a.Max.Y - 2*l.margin - 1.35*l.body - 2.44*l.large // the title and two lines
	middle := foot - 39*u*min(1.1, max(1, s.X/s.Y*9/16))
	if extra := s.Y - 90*u; extra > 0 {
		middle -= extra * 0.35
	}
	side := a.Max.X - 26*u*wide
	split := a.Min.X + (side-a.Min.X)*0.56
	l.Sentence = vg.Rectangle{Min: vg.Point{X: a.Min.X, Y: foot}, Max: a.Max}
	l.Bridge = vg.Rectangle{Min: vg.Point{X: a.Min.X, Y: middle}, Max: vg.Point{X: split, Y: foot}}
	l.Wheel = vg.Rectangle{Min: vg.Point{X: split, Y: middle}, Max: vg.Point{X: side, Y: foot}}
	l.Tape = vg.Rectangle{Min: a.Min, Max: vg.Point{X: side, Y: middle}}
	l.Ledger = vg.Rectangle{Min: vg.Point{X: side, Y: a.Min.Y}, Max: vg.Point{X: a.Max.X, Y: foot}}
}

// stack puts the parts one below the other, for a phone held upright; on a tablet the ledger stands beside the wheel. Of what
// a focus leaves out [Layout.look] gives the room away.
func (l *Layout) stack(f Focus, text vg.Length) {
	a, s := l.Area, l.Area.Size()
	u := min(s.X/64, s.Y/138)
	if f != Everything {
		u = min(s.X/64, s.Y/80)
	}
	l.unit, l.margin = u, 1.4*u
	l.small, l.body, l.large = 1.9*u*text, 2.3*u*text, 2.9*u*text
	y := a.Max.Y
	next := func(share vg.Length) vg.Rectangle {
		top := y
		y -= share * s.Y
		return vg.Rectangle{Min: vg.Point{X: a.Min.X, Y: y}, Max: vg.Point{X: a.Max.X, Y: top}}
	}
	if f != Everything {
		l.Sentence = next((2*l.margin + 2.65*l.body + 3.7*l.large) / s.Y) // title, time, three lines
		return
	}
	if l.narrow {
		l.Sentence = next(0.14)
		l.Bridge = next(0.235)
		l.Wheel = next(0.255)
		l.Tape = next(0.275)
		l.Ledger = next(0.095)
		return
	}
	l.Sentence = next(0.125)
	l.Bridge = next(0.285)
	l.Wheel = next(0.27)
	l.Tape = next(0.32)
	l.Ledger = l.Wheel
	l.Wheel.Max.X -= 0.38 * s.X
	l.Ledger.Min.X = l.Wheel.Max.X
	l.Ledger.Min.Y += l.margin
	l.Ledger.Max.Y = l.Ledger.Min.Y + min(l.Ledger.Max.Y-l.Ledger.Min.Y, 0.9*(l.Ledger.Max.X-l.Ledger.Min.X))
}

// Shown returns the lanes that the tape shows, from the top.
func (l *Layout) Shown() []Lane {
	var show []Lane
	for k := range lanes {
		if l.shows(k) {
			show = append(show, k)
		}
	}
	slices.SortFunc(show, func(a, b Lane) int { return cmp.Compare(l.Lanes[b].Max.Y, l.Lanes[a].Max.Y) })
	return show
}

// WithCursors returns l with room in the tape for the readings at so many cursors, at most two: a column each, and
// one for their difference.
func (l Layout) WithCursors(n int) Layout {
	if empty(l.Tape) {
		return l
	}
	show := l.Shown()
	l.cursors = min(max(n, 0), 2)
	l.lanes(show)
	return l
}

// usual returns the lanes shown where none are asked for: fewer where they would be too low for their text.
func (l *Layout) usual() []Lane {
	high := (l.Trace.Max.Y - l.Trace.Min.Y) / l.small
	switch {
	case empty(l.Bridge): // the tape has the stage for itself
		return []Lane{GateLane, PoleLane, LineLane, PhaseLane, CurrentLane, TorqueLane, LinkLane}
	case high < 15:
		return []Lane{GateLane, CurrentLane, TorqueLane}
	case l.stacked:
		return []Lane{GateLane, LineLane, CurrentLane, TorqueLane}
	}
	return []Lane{GateLane, PhaseLane, CurrentLane, TorqueLane, LinkLane}
}

// lanes divides the tape among the lanes to show, each once.
func (l *Layout) lanes(show []Lane) {
	u := l.unit
	l.Trace = l.Tape
	l.Trace.Min.X += l.margin + 5.6*u + 4.4*l.small
	l.Trace.Max.X -= l.margin + l.column()*vg.Length(len(l.columns()))
	l.Trace.Min.Y += l.small*1.5 + u
	l.Trace.Max.Y -= u
	if l.cursors > 0 {
		l.Trace.Max.Y -= headLines * l.small
	}
	l.Now = l.Trace.Max.X - 4*u
	if len(show) == 0 {
		show = l.usual()
	}
	const gap = 0.55
	sum := -gap
	var seen [lanes]bool
	for _, k := range show {
		if k < lanes && !seen[k] {
			seen[k] = true
			sum += laneKinds[k].share + gap
		}
	}
	l.Lanes = [lanes]vg.Rectangle{}
	y := l.Trace.Max.Y
	scale := (l.Trace.Max.Y - l.Trace.Min.Y) / vg.Length(sum)
	for _, k := range show {
		if k >= lanes || l.shows(k) {
			continue
		}
		r := l.Trace
		r.Max.Y = y
		y -= vg.Length(laneKinds[k].share) * scale
		r.Min.Y = y
		y -= gap * scale
		l.Lanes[k] = r
	}
}

// Seconds returns how many seconds of tape a length of it holds when the view shows span seconds left of
// the now-line; a hand that drags the tape by dx turns time back by as much.
func (l *Layout) Seconds(dx vg.Length, span float64) float64 {
	return span * float64(dx/(l.Now-l.Trace.Min.X))
}
