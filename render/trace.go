package render

import (
	"math"
	"sort"

	"gonum.org/v1/plot/vg"

	"sextant/inverter"
)

// A window is the stretch of time that the tape shows and where it lies.
type window struct {
	from, to float64 // s
	now      float64
	span     float64
	l        *Layout
}

// window returns the stretch that a view shows.
func (l *Layout) window(v *View) window {
	w := window{now: v.Now.Time, span: v.Span, l: l}
	if !(w.span > 0) && len(v.Tape) > 0 {
		w.span = w.now - v.Tape[0].Time
	}
	if !(w.span > 0) || math.IsInf(w.span, 0) {
		w.span = 1e-3
	}
	w.from = w.now - w.span
	w.to = w.now + l.Seconds(l.Trace.Max.X-l.Now, w.span)
	return w
}

// x returns where a time lies.
func (w *window) x(t float64) vg.Length {
	return w.l.Now + vg.Length((t-w.now)/w.span)*(w.l.Now-w.l.Trace.Min.X)
}

// A span is the instants that fall on one column of the picture: indices into the tape.
type span struct{ from, to int }

// columns is how many columns the trace is divided into for drawing: finer than any screen shows at
// arm's length. Only how a line is drawn depends on it.
const columns = 600

// fewEnough instants in a column are all drawn, so that steps are upright.
const fewEnough = 6

// sample sorts the tape's instants within the window, and one on either side of it, into columns.
func (p *pen) sample(w window) {
	tape := p.v.Tape
	p.spans = p.spans[:0]
	first := sort.Search(len(tape), func(i int) bool { return tape[i].Time >= w.from })
	last := sort.Search(len(tape), func(i int) bool { return tape[i].Time > w.to })
	first, last = max(0, first-1), min(len(tape), last+1)
	perColumn := (w.to - w.from) / columns
	for i := first; i < last; {
		end := i + 1
		column := math.Floor((tape[i].Time - w.from) / perColumn)
		for end < last && math.Floor((tape[end].Time-w.from)/perColumn) == column {
			end++
		}
		p.spans = append(p.spans, span{i, end})
		i = end
	}
}

// waves draws a lane's waveforms.
func (p *pen) waves(w window, lane Lane) {
	k := &laneKinds[lane]
	full := k.scale(&p.scales)
	width := 0.3 * p.l.unit
	if lane == CurrentLane {
		width = 0.38 * p.l.unit
	}
	for n := range k.strips {
		s := &k.strips[n]
		r := p.l.Lanes[lane]
		if !k.shared {
			r = p.l.row(lane, n)
		}
		var dash []float64
		if k.shared {
			dash = s.dash()
		}
		p.start()
		p.wave(w, k, s, r, full, dash)
		p.lookRow(lane, n)
		p.stroke(width, p.inkOf(s))
	}
}

// wave adds a waveform to the path. Of a column with many instants only the first, the least, the greatest
// and the last are kept, in their order: the line covers the same pixels.
func (p *pen) wave(w window, k *laneKind, s *strip, r vg.Rectangle, full float64, dash []float64) {
	t := tracer{p: p, w: w, dash: dash}
	tape := p.v.Tape
	for _, c := range p.spans {
		if c.to-c.from <= fewEnough {
			for i := c.from; i < c.to; i++ {
				t.to(tape[i].Time, level(k, r, s.value(&tape[i]), full))
			}
			continue
		}
		lo, hi := c.from, c.from
		least, greatest := s.value(&tape[lo]), s.value(&tape[hi])
		for i := c.from + 1; i < c.to; i++ {
			switch x := s.value(&tape[i]); {
			case x < least:
				lo, least = i, x
			case x > greatest:
				hi, greatest = i, x
			}
		}
		last := -1
		for _, i := range [4]int{c.from, min(lo, hi), max(lo, hi), c.to - 1} {
			if i != last {
				t.to(tape[i].Time, level(k, r, s.value(&tape[i]), full))
			}
			last = i
		}
	}
}

// A tracer draws a line through points of time and height, cut to the window and dashed by time: dashes
// that are fixed to the wave run with it. Points that lie on one straight, as near as can be told, are one piece.
type tracer struct {
	p     *pen
	w     window
	dash  []float64
	begun bool
	t     float64
	y     vg.Length
	down  bool // the pen is on the paper at (t, y)

	// The last piece may go on as long as its slope stays between these, and so near all points that it replaces.
	start       vg.Point
	least, most vg.Length
}

// to draws on to a point.
func (tr *tracer) to(t float64, y vg.Length) {
	if !tr.begun {
		tr.begun, tr.t, tr.y = true, t, y
		return
	}
	t0, y0 := tr.t, tr.y
	tr.t, tr.y = t, y
	if t < tr.w.from || t0 > tr.w.to {
		return
	}
	at := func(s float64) vg.Length {
		if t == t0 {
			return y
		}
		return y0 + (y-y0)*vg.Length((s-t0)/(t-t0))
	}
	from, to := max(t0, tr.w.from), min(t, tr.w.to)
	if tr.dash == nil || t == t0 {
		if t == t0 {
			tr.piece(from, y0, to, y)
		} else {
			tr.piece(from, at(from), to, at(to))
		}
		return
	}
	l := tr.p.l
	dash := max(0.7*l.unit, (l.Trace.Max.X-l.Trace.Min.X)/1000) // a picture of a few pixels' height has hardly any unit
	unit := l.Seconds(dash, tr.w.span)                          // styles look alike at every zoom
	if !(unit > 0) {                                            // there is no room for a trace
		return
	}
	on, period := tr.dash[0]*unit, (tr.dash[0]+tr.dash[1])*unit
	for k := math.Floor(from / period); k*period < to; k++ {
		a, b := max(from, k*period), min(to, k*period+on)
		if a < b {
			tr.piece(a, at(a), b, at(b))
		}
		if b < to {
			tr.down = false
		}
	}
}

// piece adds a straight piece to the path; one that goes on straight lengthens the last.
func (tr *tracer) piece(t0 float64, y0 vg.Length, t1 float64, y1 vg.Length) {
	near := 0.006 * tr.p.l.unit // a fiftieth of the line's width
	path := &tr.p.path
	if !tr.down {
		path.Move(vg.Point{X: tr.w.x(t0), Y: y0})
		tr.least, tr.most = 1, -1
	}
	tr.down = true
	last := &(*path)[len(*path)-1].Pos
	end := vg.Point{X: tr.w.x(t1), Y: y1}
	along, up := end.X-tr.start.X, end.Y-tr.start.Y
	if slope := up / along; along > 0 && tr.least <= slope && slope <= tr.most {
		*last = end
	} else {
		tr.start = *last
		tr.least, tr.most = vg.Length(math.Inf(-1)), vg.Length(math.Inf(1))
		along, up = end.X-tr.start.X, end.Y-tr.start.Y
		path.Line(end)
	}
	if along > 0 {
		tr.least, tr.most = max(tr.least, (up-near)/along), min(tr.most, (up+near)/along)
	} else {
		tr.least, tr.most = 1, -1 // no slope goes on from a step
	}
}

// gateBars adds a rectangle for every time that s is on. In a column with many instants it is one, as long as all of
// the column's together: the shade is the same.
func (p *pen) gateBars(w window, s inverter.Switch, r vg.Rectangle) {
	var from, to float64 // of the bar that may yet go on
	end := func() {
		if from, to := max(from, w.from), min(to, w.to); from < to {
			p.box(vg.Rectangle{Min: vg.Point{X: w.x(from), Y: r.Min.Y}, Max: vg.Point{X: w.x(to), Y: r.Max.Y}})
		}
	}
	bar := func(a, b float64) {
		if a != to {
			end()
			from = a
		}
		to = b
	}
	tape := p.v.Tape
	for _, c := range p.spans {
		begin, until := tape[c.from].Time, tape[min(c.to, len(tape)-1)].Time
		many, on := c.to-c.from > fewEnough, 0.0
		for i := c.from; i < c.to; i++ {
			if next := tape[min(i+1, len(tape)-1)].Time; tape[i].Gates.Has(s) && next > tape[i].Time {
				on += next - tape[i].Time
				if !many {
					bar(tape[i].Time, next)
				}
			}
		}
		switch {
		case !many || on == 0:
		case on > (until-begin)*(1-1e-9):
			bar(begin, until)
		case tape[c.from].Gates.Has(s):
			bar(begin, begin+on)
		case tape[c.to-1].Gates.Has(s):
			bar(until-on, until)
		default:
			bar((begin+until-on)/2, (begin+until+on)/2)
		}
	}
	end()
}
