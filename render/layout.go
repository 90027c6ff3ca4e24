package render

import "gonum.org/v1/plot/vg"

// A Layout is where the parts of the stage lie. Y points up, as on every vg.Canvas.
type Layout struct {
	Area     vg.Rectangle // all of it
	Sentence vg.Rectangle
	Bridge   vg.Rectangle
	Wheel    vg.Rectangle
	Tape     vg.Rectangle
	Ledger   vg.Rectangle
	Trace    vg.Rectangle // within Tape: where waveforms run
	Now      vg.Length    // within Trace: x of the now-line

	unit vg.Length // of text and spaces between parts
	text float64   // scale of all text
}

// Arrange lays the stage out in area: side by side where it is wide, one above the other where it is
// narrow. textScale enlarges all text; 0 means 1.
func Arrange(area vg.Rectangle, textScale float64) Layout {
	if !(textScale > 0) {
		textScale = 1
	}
	l := Layout{Area: area, text: textScale}
	if s := area.Size(); s.X < s.Y {
		l.stack()
	} else {
		l.spread()
	}
	return l
}

// spread puts bridge and wheel above the tape and the ledger beside all three. It counts in 160ths of the
// width; what height there is beyond 16:9 goes to the tape.
func (l *Layout) spread() {
	a, s := l.Area, l.Area.Size()
	u := min(s.X/160, s.Y/90)
	l.unit = u
	foot := a.Max.Y - 11*u
	middle := foot - 42*u
	side := a.Max.X - 26*u
	split := a.Min.X + (side-a.Min.X)*0.58
	l.Sentence = vg.Rectangle{Min: vg.Point{X: a.Min.X, Y: foot}, Max: a.Max}
	l.Bridge = vg.Rectangle{Min: vg.Point{X: a.Min.X, Y: middle}, Max: vg.Point{X: split, Y: foot}}
	l.Wheel = vg.Rectangle{Min: vg.Point{X: split, Y: middle}, Max: vg.Point{X: side, Y: foot}}
	l.Tape = vg.Rectangle{Min: a.Min, Max: vg.Point{X: side, Y: middle}}
	l.Ledger = vg.Rectangle{Min: vg.Point{X: side, Y: a.Min.Y}, Max: vg.Point{X: a.Max.X, Y: foot}}
	l.rule()
}

// stack puts the parts one below the other, for a phone held upright.
func (l *Layout) stack() {
	a, s := l.Area, l.Area.Size()
	l.unit = min(s.X/64, s.Y/138)
	y := a.Max.Y
	next := func(share vg.Length) vg.Rectangle {
		top := y
		y -= share * s.Y
		return vg.Rectangle{Min: vg.Point{X: a.Min.X, Y: y}, Max: vg.Point{X: a.Max.X, Y: top}}
	}
	l.Sentence = next(0.12)
	l.Bridge = next(0.25)
	l.Wheel = next(0.26)
	l.Tape = next(0.25)
	l.Ledger = next(0.12)
	l.rule()
}

// rule lays the lanes out within the tape.
func (l *Layout) rule() {
	u := l.unit
	l.Trace = l.Tape
	l.Trace.Min.X += 11 * u
	l.Trace.Max.X -= 15 * u
	l.Trace.Min.Y += 4 * u
	l.Now = l.Trace.Max.X - 4*u
}

// At returns what lies at p.
func (l *Layout) At(p vg.Point) Part {
	for _, r := range []struct {
		in   vg.Rectangle
		kind PartKind
	}{
		{l.Sentence, SentencePart}, {l.Bridge, BridgePart}, {l.Wheel, WheelPart},
		{l.Tape, TapePart}, {l.Ledger, LedgerPart},
	} {
		if inside(r.in, p) {
			return Part{Kind: r.kind}
		}
	}
	return Part{}
}

// Seconds returns how many seconds of tape a length of it holds when the view shows span seconds left of
// the now-line; a hand that drags the tape by dx turns time back by as much.
func (l *Layout) Seconds(dx vg.Length, span float64) float64 {
	return span * float64(dx/(l.Now-l.Trace.Min.X))
}

func inside(r vg.Rectangle, p vg.Point) bool {
	return p.X >= r.Min.X && p.X < r.Max.X && p.Y >= r.Min.Y && p.Y < r.Max.Y
}
