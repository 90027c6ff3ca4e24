package render

import (
	"image/color"
	"math"
	"sync"

	"gonum.org/v1/plot/vg"

	"sextant/inverter"
)

// A pen draws one picture: a canvas, its layout, its colours, and buffers that outlive it.
type pen struct {
	vg.Canvas
	l      *Layout
	v      *View
	ink    *inks
	scales Scales

	path   vg.Path
	beads  vg.Path
	lines  []string
	spans  []span
	digit  []byte
	places []place
	sums   []inverter.Vector
	dash   [2]vg.Length

	moments [2]moment // of the cursors
}

var pens = sync.Pool{New: func() any { return new(pen) }}

// newPen returns a pen to be put back by [pen.lift].
func newPen(c vg.Canvas, l *Layout, v *View) *pen {
	p := pens.Get().(*pen)
	p.Canvas, p.l, p.v, p.ink = c, l, v, v.Theme.inks()
	c.SetLineDash(nil, 0)
	return p
}

func (p *pen) lift() {
	p.Canvas, p.l, p.v = nil, nil, nil
	pens.Put(p)
}

// start forgets the path drawn so far.
func (p *pen) start() { p.path = p.path[:0] }

func (p *pen) stroke(width vg.Length, c color.Color) {
	p.SetLineWidth(width)
	p.SetColor(c)
	p.Stroke(p.path)
}

func (p *pen) fill(c color.Color) {
	p.SetColor(c)
	p.Fill(p.path)
}

// trail adds the line through pts to the path.
func (p *pen) trail(pts ...vg.Point) {
	p.path.Move(pts[0])
	for _, pt := range pts[1:] {
		p.path.Line(pt)
	}
}

// line strokes the line through pts.
func (p *pen) line(width vg.Length, c color.Color, pts ...vg.Point) {
	p.start()
	p.trail(pts...)
	p.stroke(width, c)
}

// shape fills the polygon of pts.
func (p *pen) shape(c color.Color, pts ...vg.Point) {
	p.start()
	p.polygon(pts...)
	p.fill(c)
}

// polygon adds the closed polygon of pts to the path.
func (p *pen) polygon(pts ...vg.Point) {
	p.trail(pts...)
	p.path.Close()
}

// ring adds a circle to the path.
func (p *pen) ring(at vg.Point, r vg.Length) {
	p.path.Move(vg.Point{X: at.X + r, Y: at.Y})
	p.path.Arc(at, r, 0, 2*math.Pi)
	p.path.Close()
}

func (p *pen) disc(at vg.Point, r vg.Length, c color.Color) {
	p.start()
	p.ring(at, r)
	p.fill(c)
}

func (p *pen) circle(at vg.Point, r, width vg.Length, c color.Color) {
	p.start()
	p.ring(at, r)
	p.stroke(width, c)
}

// box adds a rectangle to the path.
func (p *pen) box(r vg.Rectangle) {
	p.polygon(r.Min, vg.Point{X: r.Max.X, Y: r.Min.Y}, r.Max, vg.Point{X: r.Min.X, Y: r.Max.Y})
}

// rounded adds a rectangle with rounded corners to the path.
func (p *pen) rounded(r vg.Rectangle, radius vg.Length) {
	p.path.Move(vg.Point{X: r.Max.X, Y: r.Min.Y + radius})
	for k, at := range [4]vg.Point{
		{X: r.Max.X - radius, Y: r.Max.Y - radius}, {X: r.Min.X + radius, Y: r.Max.Y - radius},
		{X: r.Min.X + radius, Y: r.Min.Y + radius}, {X: r.Max.X - radius, Y: r.Min.Y + radius},
	} {
		p.path.Line(polar(at, radius, float64(k)*math.Pi/2))
		p.path.Arc(at, radius, float64(k)*math.Pi/2, math.Pi/2)
	}
	p.path.Close()
}

func (p *pen) fillRect(r vg.Rectangle, c color.Color) {
	p.start()
	p.box(r)
	p.fill(c)
}

// sector adds the part of an annulus between two radii, from an angle on by a sweep, to the path.
func (p *pen) sector(at vg.Point, inner, outer vg.Length, from, sweep float64) {
	p.path.Move(polar(at, outer, from))
	p.path.Arc(at, outer, from, sweep)
	p.path.Line(polar(at, inner, from+sweep))
	if inner > 0 {
		p.path.Arc(at, inner, from+sweep, -sweep)
	}
	p.path.Close()
}

// arrow draws an arrow whose head is three widths wide. One shorter than its head is all head.
func (p *pen) arrow(from, to vg.Point, width vg.Length, c color.Color) {
	along := to.Sub(from)
	length := vg.Length(math.Hypot(float64(along.X), float64(along.Y)))
	if length <= 0 {
		return
	}
	along = along.Scale(1 / length)
	across := vg.Point{X: -along.Y, Y: along.X}
	head := min(4*width, length)
	half := head * 3 / 8
	neck := to.Sub(along.Scale(head))
	if length > head {
		p.line(width, c, from, neck.Add(along.Scale(head/8)))
	}
	p.shape(c, to, neck.Add(across.Scale(half)), neck.Sub(across.Scale(half)))
}

// dashed draws an arrow with a dashed shaft.
func (p *pen) dashed(from, to vg.Point, width vg.Length, c color.Color) {
	p.dash[0], p.dash[1] = 2*width, width
	p.SetLineDash(p.dash[:], 0)
	p.arrow(from, to, width, c)
	p.SetLineDash(nil, 0)
}

// polar returns the point at a distance from at in the direction of an angle.
func polar(at vg.Point, r vg.Length, angle float64) vg.Point {
	s, c := math.Sincos(finite(angle))
	return vg.Point{X: at.X + r*vg.Length(c), Y: at.Y + r*vg.Length(s)}
}

// An align says which point of a text its place gives.
type align uint8

// Texts are placed by the middle of their left end, of themselves, or of their right end.
const (
	left align = iota
	centre
	right
)

// A label is how and where a text is written; at is on the mid-height of its capitals.
type label struct {
	at    vg.Point
	size  vg.Length
	align align
	color color.Color
	bold  bool
	room  vg.Length // if positive, the text is written smaller to be no longer than this
}

// write writes s.
func (p *pen) write(s string, a label) {
	if s == "" {
		return
	}
	t := regular()
	if a.bold {
		t = bold()
	}
	s = Typeset(s)
	w := t.width(s, a.size)
	if a.room > 0 && w > a.room {
		a.size *= a.room / w
		w = a.room
	}
	switch a.align {
	case centre:
		a.at.X -= w / 2
	case right:
		a.at.X -= w
	}
	a.at.Y -= a.size * CapHeight / 2
	p.SetColor(a.color)
	p.FillString(t.sized(a.size), a.at, s)
}

// A frame is a part's own coordinates: its origin and the length of one unit.
type frame struct {
	origin vg.Point
	u      vg.Length
}

// within returns the frame that shows w by h units as large as r allows, in its middle; the origin is the
// lower left corner of them.
func within(r vg.Rectangle, w, h vg.Length) frame {
	s := r.Size()
	u := min(s.X/w, s.Y/h)
	return frame{
		origin: vg.Point{X: r.Min.X + (s.X-w*u)/2, Y: r.Min.Y + (s.Y-h*u)/2},
		u:      u,
	}
}

func (f frame) at(x, y vg.Length) vg.Point {
	return vg.Point{X: f.origin.X + x*f.u, Y: f.origin.Y + y*f.u}
}

// rect returns the rectangle between two corners.
func (f frame) rect(x0, y0, x1, y1 vg.Length) vg.Rectangle {
	return vg.Rectangle{Min: f.at(x0, y0), Max: f.at(x1, y1)}
}

// dashes is the phases' line styles: on and off in units, so that a phase is known without its colour.
var dashes = [3][]float64{inverter.U: nil, inverter.V: {3, 1.2}, inverter.W: {1.1, 0.9}}

// Dash returns the line style of a phase, lengths on and off in units of a small length; nil is a solid line.
func Dash(p inverter.Phase) []float64 { return dashes[p] }
