package handout

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"

	"sextant/render"
)

// A Figure is drawn on paper twice: as it is given, and solved.
type Figure interface {
	// Size returns how large the figure is where there is so much room across.
	Size(room vg.Length, solved bool) (width, height vg.Length)
	// Draw draws the figure within area, which has its size.
	Draw(c vg.Canvas, area vg.Rectangle, solved bool)
	// Tell says in words what the figure shows.
	Tell(solved bool) string
}

const theme = render.Print

// Sizes of text within figures and tables.
const (
	figureText = vg.Length(8)
	figureHead = vg.Length(8.5)
)

func plain(size vg.Length) style { return style{size, false, theme.Text()} }
func bold(size vg.Length) style  { return style{size, true, theme.Text()} }
func muted(size vg.Length) style { return style{size, false, theme.Muted()} }

// A pen strokes and fills on a canvas.
type pen struct{ vg.Canvas }

func (p pen) line(width vg.Length, ink color.Color, points ...vg.Point) {
	p.SetColor(ink)
	p.SetLineWidth(width)
	p.Stroke(through(points))
}

// through returns the path through points.
func through(points []vg.Point) (path vg.Path) {
	for i, pt := range points {
		if i == 0 {
			path.Move(pt)
		} else {
			path.Line(pt)
		}
	}
	return path
}

// dashed strokes a line in a style of [render.Dash].
func (p pen) dashed(width vg.Length, ink color.Color, dash []float64, points ...vg.Point) {
	var lengths []vg.Length
	for _, d := range dash {
		lengths = append(lengths, 3*vg.Length(d))
	}
	p.SetLineDash(lengths, 0)
	p.line(width, ink, points...)
	p.SetLineDash(nil, 0)
}

func (p pen) fill(ink color.Color, points ...vg.Point) {
	path := through(points)
	path.Close()
	p.SetColor(ink)
	p.Fill(path)
}

func (p pen) fillBox(ink color.Color, r vg.Rectangle) {
	p.fill(ink, r.Min, vg.Point{X: r.Max.X, Y: r.Min.Y}, r.Max, vg.Point{X: r.Min.X, Y: r.Max.Y})
}

func (p pen) box(width vg.Length, ink color.Color, r vg.Rectangle) {
	p.line(width, ink, r.Min, vg.Point{X: r.Max.X, Y: r.Min.Y}, r.Max, vg.Point{X: r.Min.X, Y: r.Max.Y}, r.Min)
}

func (p pen) circle(width vg.Length, ink color.Color, at vg.Point, r vg.Length) {
	var path vg.Path
	path.Move(vg.Point{X: at.X + r, Y: at.Y})
	path.Arc(at, r, 0, 2*math.Pi)
	path.Close()
	p.SetColor(ink)
	p.SetLineWidth(width)
	p.Stroke(path)
}

// arrow draws an arrow whose head is within its length.
func (p pen) arrow(width vg.Length, ink color.Color, from, to vg.Point) {
	d := to.Sub(from)
	length := vg.Length(math.Hypot(float64(d.X), float64(d.Y)))
	if length <= 0 {
		return
	}
	d = d.Scale(1 / length)
	head := min(5*width, length)
	neck := to.Sub(d.Scale(head))
	side := vg.Point{X: -d.Y, Y: d.X}.Scale(0.35 * head)
	p.line(width, ink, from, neck)
	p.fill(ink, to, neck.Add(side), neck.Sub(side))
}

// polar returns the point at a distance from at in a direction.
func polar(at vg.Point, r vg.Length, angle float64) vg.Point {
	sin, cos := math.Sincos(angle)
	return vg.Point{X: at.X + r*vg.Length(cos), Y: at.Y + r*vg.Length(sin)}
}

// A stage is the picture of a drive.
type stage struct {
	view  *render.View
	focus render.Focus
}

func (s *stage) Size(room vg.Length, _ bool) (width, height vg.Length) {
	switch s.shown() {
	case render.OnBridgeAndWheel:
		return 0.8 * room, 0.31 * room
	case render.OnTape:
		return room, 0.33 * room
	}
	return 0.6 * room, 0.36 * room
}

// shown returns the parts that are drawn: not all of them, which would be too small to read on paper.
func (s *stage) shown() render.Focus {
	if s.focus == render.Everything {
		return render.OnBridgeAndWheel
	}
	return s.focus
}

// taped are the lanes that are drawn where the tape is.
var taped = []render.Lane{render.PoleLane, render.LineLane, render.PhaseLane, render.CurrentLane}

func (s *stage) Draw(c vg.Canvas, area vg.Rectangle, _ bool) {
	render.Draw(c, render.Arrange(s.shown(), area, 1.3, taped...), s.view)
	pen{c}.box(0.5, theme.Rule(), area)
}

func (s *stage) Tell(bool) string {
	return "The drive: " + render.Sentence(&s.view.Now, s.view.Scenario)
}
