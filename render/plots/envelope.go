package plots

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"sextant/render"
)

// An Envelope is the limits of torque of a drive by speed with its efficiency between them, and beside them the
// plane of the currents that it takes.
type Envelope struct {
	Title    string
	Subtitle []string // lines
	Theme    render.Theme

	Speed      []float64   // rpm, rising
	Torque     [][]float64 // N m, by speed, rising from the braking limit to the motoring one
	Efficiency [][]float64 // per cent, of the same
	Marks      []SpeedMark
	Plane      CurrentPlane
}

// A SpeedMark is a speed worth a name.
type SpeedMark struct {
	Speed float64 // rpm
	Name  string
	Warns bool // beyond it there is danger
}

// A CurrentPlane is lines in the plane of i_d and i_q, in A.
type CurrentPlane struct {
	Limit    float64    // radius of the circle that no current leaves
	Ellipses []DQLine   // voltage limits
	Courses  []DQLine   // of the limits of torque by speed
	Marks    []DQMarked // points worth a name
}

// A DQLine is a line of the plane, written at its first point where it has a name.
type DQLine struct {
	Name string
	D, Q []float64
}

// A DQMarked is a point of the plane worth a name.
type DQMarked struct {
	Name string
	D, Q float64
}

// levels are the efficiencies that lines are drawn at, in per cent.
var levels = []float64{50, 70, 80, 85, 90, 92, 94, 95, 96, 97, 98, 99}

// Draw draws e within area.
func (e *Envelope) Draw(c vg.Canvas, area vg.Rectangle) {
	unit := unitOf(area)
	sh := newSheet(&Figure{Theme: e.Theme}, c, area, unit)
	left, top := sh.heading(e.Title, e.Subtitle)
	top -= 4.4 * sh.size
	foot := area.Min.Y + 4.6*sh.size
	if tall(area) {
		split := foot + 0.42*(top-foot)
		e.efficiency(sh, vg.Rectangle{Min: vg.Point{X: left + 6*unit, Y: split + 4.6*sh.size}, Max: vg.Point{X: area.Max.X - 2*unit, Y: top}})
		e.Plane.draw(sh, vg.Rectangle{Min: vg.Point{X: left + 6*unit, Y: foot}, Max: vg.Point{X: area.Max.X - 2*unit, Y: split - 4.4*sh.size}})
		return
	}
	split := area.Min.X + 0.62*area.Size().X
	e.efficiency(sh, vg.Rectangle{Min: vg.Point{X: left + 6*unit, Y: foot}, Max: vg.Point{X: split, Y: top}})
	e.Plane.draw(sh, vg.Rectangle{Min: vg.Point{X: split + 9*unit, Y: foot}, Max: vg.Point{X: area.Max.X - 2*unit, Y: top}})
}

// An axes is a panel with both its axes drawn.
type axes struct {
	at                  vg.Rectangle
	x0, x1, y0, y1      float64
	across, up, caption string
}

func (a *axes) x(v float64) vg.Length {
	return a.at.Min.X + a.at.Size().X*vg.Length((v-a.x0)/(a.x1-a.x0))
}

func (a *axes) y(v float64) vg.Length {
	return a.at.Min.Y + a.at.Size().Y*vg.Length((v-a.y0)/(a.y1-a.y0))
}

// draw draws grid, numbers and names.
func (a *axes) draw(sh *sheet) {
	grid := draw.LineStyle{Color: sh.Theme.Rule(), Width: 0.07 * sh.unit}
	text := sh.Theme.Text()
	for _, t := range marks(a.x0, a.x1, int(a.at.Size().X/(6*sh.size))) {
		sh.c.StrokeLine2(grid, a.x(t.Value), a.at.Min.Y, a.x(t.Value), a.at.Max.Y)
		sh.text(regular, sh.size, text, a.x(t.Value), a.at.Min.Y-1.5*sh.size, 0.5, t.Label)
	}
	for _, t := range marks(a.y0, a.y1, max(2, int(a.at.Size().Y/(3*sh.size)))) {
		sh.c.StrokeLine2(grid, a.at.Min.X, a.y(t.Value), a.at.Max.X, a.y(t.Value))
		sh.text(regular, sh.size, text, a.at.Min.X-0.8*sh.unit, a.y(t.Value)-render.CapHeight*sh.size/2, 1, t.Label)
	}
	axis := draw.LineStyle{Color: sh.Theme.Muted(), Width: 0.15 * sh.unit}
	sh.c.StrokeLine2(axis, a.at.Min.X, a.at.Min.Y, a.at.Min.X, a.at.Max.Y)
	sh.c.StrokeLine2(axis, a.at.Min.X, a.at.Min.Y, a.at.Max.X, a.at.Min.Y)
	sh.text(regular, sh.size, text, (a.at.Min.X+a.at.Max.X)/2, a.at.Min.Y-3.2*sh.size, 0.5, a.across)
	sh.text(bold, sh.size, text, a.at.Min.X-5*sh.unit, a.at.Max.Y+2.3*sh.size, 0, a.caption)
	sh.text(regular, sh.size, text, a.at.Min.X-5*sh.unit, a.at.Max.Y+0.9*sh.size, 0, a.up)
}

// efficiency draws the map with the limits around it.
func (e *Envelope) efficiency(sh *sheet, at vg.Rectangle) {
	last := len(e.Speed) - 1
	low, high := 0.0, 0.0
	for _, column := range e.Torque {
		low, high = min(low, column[0]), max(high, column[len(column)-1])
	}
	a := axes{at: at, x0: e.Speed[0], x1: e.Speed[last], y0: 1.06 * low, y1: 1.06 * high,
		across: "speed in rpm", up: "torque in N m", caption: "Efficiency of machine and bridge, in %"}
	if a.y0 == a.y1 {
		a.y0, a.y1 = -1, 1
	}
	a.y1 += 0.11 * (a.y1 - a.y0) // room for the names of speeds
	a.draw(sh)
	m := mesh{z: e.Efficiency}
	for i, column := range e.Torque {
		m.x = append(m.x, a.x(e.Speed[i]))
		ys := make([]vg.Length, len(column))
		for j, t := range column {
			ys[j] = a.y(t)
		}
		m.y = append(m.y, ys)
	}
	most := 0.0
	for _, column := range e.Efficiency {
		for _, z := range column {
			most = max(most, z)
		}
	}
	var lines [][]segment
	var shown []float64
	for k, level := range levels {
		if level > most {
			break
		}
		sh.c.SetColor(heat(e.Theme, float64(k+1)/float64(len(levels))))
		sh.c.Fill(m.above(level))
		shown, lines = append(shown, level), append(lines, m.line(level))
	}
	sh.c.SetLineStyle(draw.LineStyle{Color: sh.Theme.Text(), Width: 0.08 * sh.unit})
	for _, segments := range lines {
		var path vg.Path
		for _, s := range segments {
			path.Move(s.a)
			path.Line(s.b)
		}
		sh.c.Stroke(path)
	}
	zero := draw.LineStyle{Color: sh.Theme.Text(), Width: 0.12 * sh.unit}
	sh.c.StrokeLine2(zero, at.Min.X, a.y(0), at.Max.X, a.y(0))
	e.speeds(sh, &a)
	e.edges(sh, &a)
	sh.numbers(at, a.y(0), shown, lines)
}

// heat returns the colour of a share of a scale that goes from the theme's ground to a blue.
func heat(t render.Theme, share float64) color.Color {
	blue := rgb(0, 114, 178)
	if r, g, b, _ := t.Ground().RGBA(); r+g+b < 0x18000 {
		return render.Mix(t.Ground(), rgb(86, 180, 233), 0.05+0.6*share)
	}
	return render.Mix(t.Ground(), blue, 0.04+0.66*share)
}

// edges draws the limits of torque.
func (e *Envelope) edges(sh *sheet, a *axes) {
	style := draw.LineStyle{Color: sh.Theme.Text(), Width: 0.35 * sh.unit}
	for _, row := range []func([]float64) float64{
		func(c []float64) float64 { return c[0] },
		func(c []float64) float64 { return c[len(c)-1] },
	} {
		points := make([]vg.Point, len(e.Speed))
		for i, v := range e.Speed {
			points[i] = vg.Point{X: a.x(v), Y: a.y(row(e.Torque[i]))}
		}
		sh.c.StrokeLines(style, points)
	}
}

// speeds draws the marks: all lines, then all names over them.
func (e *Envelope) speeds(sh *sheet, a *axes) {
	var seen []SpeedMark
	for _, mark := range e.Marks {
		if mark.Speed < a.x0 || mark.Speed > a.x1 {
			continue
		}
		seen = append(seen, mark)
		style := draw.LineStyle{Color: sh.Theme.Text(), Width: 0.14 * sh.unit, Dashes: []vg.Length{0.8 * sh.unit, 0.5 * sh.unit}}
		if mark.Warns {
			style.Color, style.Width = rgb(213, 94, 0), 0.3*sh.unit
		}
		sh.c.StrokeLine2(style, a.x(mark.Speed), a.at.Min.Y, a.x(mark.Speed), a.at.Max.Y)
	}
	size := 0.9 * sh.size
	for row, mark := range seen {
		x := a.x(mark.Speed) + 0.6*sh.unit
		if w := lengthOf(bold, size, mark.Name); x+w > a.at.Max.X {
			x -= w + 1.2*sh.unit
			if x < a.at.Min.X { // as long as the axis is wide
				x = max(a.at.Min.X, a.at.Max.X-w)
			}
		}
		sh.onGround(bold, size, x, a.at.Max.Y-(1.2+1.5*vg.Length(row))*size, 0, mark.Name)
	}
}

// numbers writes the level of each line on it, above and below zero, clear of one another.
func (sh *sheet) numbers(at vg.Rectangle, zero vg.Length, shown []float64, lines [][]segment) {
	size := 0.85 * sh.size
	var taken []vg.Point
	place := func(segments []segment, want vg.Length, upper bool) (best vg.Point, ok bool) {
		nearest := vg.Length(math.Inf(1))
		for _, s := range segments {
			p := vg.Point{X: (s.a.X + s.b.X) / 2, Y: (s.a.Y + s.b.Y) / 2}
			if (p.Y > zero) != upper || p.X < at.Min.X+1.5*size || p.X > at.Max.X-1.5*size || math.Abs(float64(p.Y-zero)) < float64(0.9*size) {
				continue
			}
			clear := true
			for _, q := range taken {
				clear = clear && (math.Abs(float64(p.X-q.X)) > float64(2.2*size) || math.Abs(float64(p.Y-q.Y)) > float64(1.3*size))
			}
			if d := vg.Length(math.Abs(float64(p.X - want))); clear && d < nearest {
				best, nearest, ok = p, d, true
			}
		}
		return best, ok
	}
	for k, segments := range lines {
		share := 0.3 + 0.5*math.Mod(0.38*float64(k), 1) // scattered over the middle
		for _, upper := range []bool{true, false} {
			p, ok := place(segments, at.Min.X+vg.Length(share)*at.Size().X, upper)
			if !ok {
				continue
			}
			taken = append(taken, p)
			sh.onGround(regular, size, p.X, p.Y-render.CapHeight*size/2, 0.5, figures(shown[k]))
		}
	}
}

// draw draws the plane with one scale for both axes.
func (p *CurrentPlane) draw(sh *sheet, room vg.Rectangle) {
	width := room.Size().X
	high := room.Size().Y
	reach := 1.12 * p.Limit
	a := axes{x0: -reach, y0: -reach, y1: reach, across: "id in A", up: "iq in A", caption: "Currents at the limits of torque"}
	// The plane right of the middle tells little; it is cut where there is no room for it.
	scale := min(high/vg.Length(2*reach), width/vg.Length(1.35*reach))
	a.x1 = min(reach, float64(width/scale)-reach)
	size := vg.Point{X: scale * vg.Length(a.x1-a.x0), Y: scale * vg.Length(2*reach)}
	a.at = vg.Rectangle{Min: vg.Point{X: room.Min.X, Y: room.Max.Y - size.Y}, Max: vg.Point{X: room.Min.X + size.X, Y: room.Max.Y}}
	a.draw(sh)
	window := draw.Canvas{Canvas: sh.c.Canvas, Rectangle: a.at}
	stroke := func(style draw.LineStyle, d, q []float64) {
		points := make([]vg.Point, len(d))
		for k := range d {
			points[k] = vg.Point{X: a.x(d[k]), Y: a.y(q[k])}
		}
		sh.c.StrokeLines(style, window.ClipLinesXY(points)...)
	}
	zero := draw.LineStyle{Color: sh.Theme.Muted(), Width: 0.12 * sh.unit}
	sh.c.StrokeLine2(zero, a.x(0), a.at.Min.Y, a.x(0), a.at.Max.Y)
	sh.c.StrokeLine2(zero, a.at.Min.X, a.y(0), a.at.Max.X, a.y(0))
	var d, q []float64
	for k := range 181 {
		sin, cos := math.Sincos(float64(k) * math.Pi / 90)
		d, q = append(d, p.Limit*cos), append(q, p.Limit*sin)
	}
	stroke(draw.LineStyle{Color: sh.Theme.Text(), Width: 0.2 * sh.unit}, d, q)
	for _, l := range p.Ellipses {
		stroke(draw.LineStyle{Color: sh.Theme.Muted(), Width: 0.14 * sh.unit, Dashes: []vg.Length{0.9 * sh.unit, 0.5 * sh.unit}}, l.D, l.Q)
	}
	for _, l := range p.Courses {
		stroke(draw.LineStyle{Color: rgb(213, 94, 0), Width: 0.5 * sh.unit}, l.D, l.Q)
	}
	small := 0.85 * sh.size
	for _, l := range p.Ellipses {
		// Its name is where it is highest within most of the circle.
		best := -1
		for k := range l.D {
			in := math.Hypot(l.D[k], l.Q[k]) < 0.75*p.Limit && l.D[k] < 0.8*a.x1
			if in && (best < 0 || l.Q[k] > l.Q[best]) {
				best = k
			}
		}
		if best >= 0 {
			sh.onGround(regular, small, a.x(l.D[best]), a.y(l.Q[best])-render.CapHeight*small/2, 0.5, l.Name)
		}
	}
	for _, m := range p.Marks {
		if m.D < a.x0 || m.D > a.x1 || math.Abs(m.Q) > reach {
			continue
		}
		at := vg.Point{X: a.x(m.D), Y: a.y(m.Q)}
		sh.c.SetColor(sh.Theme.Text())
		var dot vg.Path
		dot.Move(vg.Point{X: at.X + 0.5*sh.unit, Y: at.Y})
		dot.Arc(at, 0.5*sh.unit, 0, 2*math.Pi)
		sh.c.Fill(dot)
		sh.onGround(bold, small, at.X+0.9*sh.unit, at.Y+0.4*small, 0, m.Name)
	}
}
