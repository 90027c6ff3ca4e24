package render

import (
	"math"
	"sort"
	"strconv"

	"gonum.org/v1/plot/vg"

	"sextant/motor/drive"
)

// TimeAt returns the time, in s, that lies at x on v's tape.
func (l *Layout) TimeAt(x vg.Length, v *View) float64 {
	w := l.window(v)
	return w.now + float64((x-l.Now)/(l.Now-l.Trace.Min.X))*w.span
}

// XAt returns where a time, in s, lies on v's tape; it may be beyond its ends.
func (l *Layout) XAt(time float64, v *View) vg.Length {
	w := l.window(v)
	return w.x(time)
}

// CursorAt returns which of v's cursors, by its index, can be taken hold of at pt: the nearest.
func (l *Layout) CursorAt(pt vg.Point, v *View) (k int, ok bool) {
	if !inside(l.Tape, pt) {
		return 0, false
	}
	near := max(1.2*l.unit, 6)
	for i, time := range v.cursors() {
		if d := vg.Length(math.Abs(float64(l.XAt(time, v) - pt.X))); d <= near {
			k, ok, near = i, true, d
		}
	}
	return k, ok
}

// cursors returns the cursors that are drawn.
func (v *View) cursors() []float64 { return v.Cursors[:min(len(v.Cursors), 2)] }

// A column of the tape's readings is of an instant, or of the difference between the cursors.
type column uint8

const (
	ofNow column = iota
	ofA
	ofB
	ofDifference
)

var columnNames = [...]string{ofNow: "now", ofA: "A", ofB: "B", ofDifference: "B–A"}

// columnSets are the columns by the number of cursors; a narrow tape has room for fewer.
var (
	columnSets = [...][]column{{ofNow}, {ofNow, ofA}, {ofNow, ofA, ofB, ofDifference}}
	narrowSets = [...][]column{{ofNow}, {ofA}, {ofA, ofB}}
)

const headLines = 2.6 // height of the columns' heads, in small text

func (l *Layout) columns() []column {
	if l.narrow {
		return narrowSets[l.cursors]
	}
	return columnSets[l.cursors]
}

// column returns how wide a column is.
func (l *Layout) column() vg.Length {
	return min(4.2*l.small, 0.4*(l.Tape.Max.X-l.Tape.Min.X)/vg.Length(len(l.columns())))
}

// A moment is a time on the tape between two of its instants, or on one.
type moment struct {
	a, b  *drive.Instant
	share float64 // of the way from a to b
	known bool
}

// moment finds a time on the tape; at an event, the instant behind it.
func (p *pen) moment(time float64) moment {
	tape := p.v.Tape
	k := sort.Search(len(tape), func(i int) bool { return tape[i].Time > time })
	switch {
	case k == 0 || math.IsNaN(time):
		return moment{}
	case k < len(tape):
		a, b := &tape[k-1], &tape[k]
		return moment{a, b, (time - a.Time) / (b.Time - a.Time), true}
	case tape[k-1].Time == time:
		return moment{&tape[k-1], &tape[k-1], 0, true}
	}
	return moment{}
}

// value returns a strip's value, taken to run straight between instants; NaN where it is not known.
func (m *moment) value(of func(*drive.Instant) float64) float64 {
	if !m.known {
		return math.NaN()
	}
	x := of(m.a)
	return x + m.share*(of(m.b)-x)
}

// cursorMarks draws the cursors, each with its letter at the top, and the heads of the readings' columns.
func (p *pen) cursorMarks(w window) {
	l, u := p.l, p.l.unit
	if l.cursors == 0 {
		return
	}
	times := p.v.cursors()
	for k, time := range times {
		x := w.x(time)
		if !(x >= l.Trace.Min.X && x <= l.Trace.Max.X) {
			continue
		}
		top := l.Trace.Max.Y + 0.7*l.small
		p.line(0.22*u, p.ink.text, vg.Point{X: x, Y: l.Trace.Min.Y}, vg.Point{X: x, Y: top})
		at := vg.Point{X: x, Y: top + 0.6*l.small}
		p.disc(at, 0.75*l.small, p.ink.text)
		p.write(columnNames[ofA+column(k)], label{at: at, size: l.small, align: centre, color: p.ink.ground, bold: true})
	}
	for k, c := range l.columns() {
		edge := l.edge(k)
		a := label{at: vg.Point{X: edge, Y: l.Trace.Max.Y + 1.9*l.small}, size: l.small, align: right, color: p.ink.muted, bold: true, room: l.column()}
		p.write(columnNames[c], a)
		a.at.Y -= 1.15 * l.small
		a.size, a.bold, a.room = 0.85*l.small, false, l.column()-0.7*u
		switch {
		case c == ofNow:
			p.write(p.time(w.now, w.span), a)
		case c == ofDifference && len(times) == 2:
			p.write(p.time(times[1]-times[0], w.span), a)
		case c == ofA && len(times) > 0:
			p.write(p.time(times[0], w.span), a)
		case c == ofB && len(times) == 2:
			p.write(p.time(times[1], w.span), a)
		}
	}
	if len(times) < 2 || l.cursors < 2 || times[0] == times[1] {
		return
	}
	apart := "1/(B–A) = " + quantity(1/math.Abs(times[1]-times[0]), "Hz")
	if l.narrow {
		apart = "B–A " + p.time(times[1]-times[0], w.span) + ", " + quantity(1/math.Abs(times[1]-times[0]), "Hz")
	}
	p.write(apart, label{
		at:   vg.Point{X: l.edge(len(l.columns()) - 1), Y: l.Trace.Min.Y - 0.6*u - l.small*0.6},
		size: 0.9 * l.small, align: right, color: p.ink.text, bold: true, room: 2 * l.column(),
	})
}

// edge returns the right end of the k-th column of readings.
func (l *Layout) edge(k int) vg.Length {
	return l.Tape.Max.X - l.margin - l.column()*vg.Length(len(l.columns())-1-k)
}

// time writes a time in ms as finely as a tape of a span can show it, so that its width stays while it runs.
func (p *pen) time(t, span float64) string {
	if finite(t) != t {
		return "-"
	}
	scale, unit := 1e3, " ms"
	if span < 1e-4 && math.Abs(t) < 1e-3 {
		scale, unit = 1e6, " µs"
	}
	decimals := min(max(int(math.Ceil(-math.Log10(span*scale/1000))), 0), 6)
	p.digit = strconv.AppendFloat(p.digit[:0], t*scale, 'f', decimals, 64)
	p.digit = append(p.digit, unit...)
	return string(p.digit)
}

// reading returns what a column reads of a strip whose full scale is given.
func (p *pen) reading(c column, of func(*drive.Instant) float64, full float64) string {
	switch c {
	case ofA, ofB:
		return figures(p.moments[c-ofA].value(of), full)
	case ofDifference:
		return figures(p.moments[1].value(of)-p.moments[0].value(of), full)
	}
	return figures(of(&p.v.Now), full)
}

// gateReading returns whether a gate is on in a column; known tells whether the column can say.
func (p *pen) gateReading(c column, on func(*drive.Instant) bool) (is, known bool) {
	switch c {
	case ofNow:
		return on(&p.v.Now), true
	case ofA, ofB:
		if m := &p.moments[c-ofA]; m.known {
			return on(m.a), true
		}
	}
	return false, false
}
