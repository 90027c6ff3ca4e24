package plots

import (
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// A trace is a curve as the plotting library draws it. Dashes are counted along the axis of time, so that
// ripple does not stretch them.
type trace struct {
	points []point
	scale  float64 // values are drawn times this
	tscale float64 // and times times this
	style  draw.LineStyle
	dash   []float64 // on and off along time
	unit   vg.Length // of dash
}

// Plot draws the curve.
func (tr *trace) Plot(c draw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&c)
	var path vg.Path
	down := false
	piece := func(a, b vg.Point) {
		if !down {
			path.Move(a)
			down = true
		}
		path.Line(b)
	}
	var last vg.Point
	for i, q := range tr.points {
		at := vg.Point{X: x(q.t * tr.tscale), Y: y(q.y * tr.scale)}
		if i > 0 {
			tr.dashed(last, at, piece, func() { down = false })
		}
		last = at
	}
	c.SetLineStyle(tr.style)
	c.Stroke(path)
}

// dashed hands on the pieces of a straight line that its dashes leave.
func (tr *trace) dashed(a, b vg.Point, piece func(a, b vg.Point), lift func()) {
	on, period := vg.Length(math.Inf(1)), vg.Length(1)
	if tr.dash != nil {
		on, period = vg.Length(tr.dash[0])*tr.unit, vg.Length(tr.dash[0]+tr.dash[1])*tr.unit
	}
	phase := func(x vg.Length) vg.Length { return vg.Length(math.Mod(float64(x), float64(period))) }
	switch {
	case tr.dash == nil:
		piece(a, b)
		return
	case b.X <= a.X:
		if phase(a.X) <= on {
			piece(a, b)
		} else {
			lift()
		}
		return
	}
	at := func(x vg.Length) vg.Point { return vg.Point{X: x, Y: a.Y + (b.Y-a.Y)*(x-a.X)/(b.X-a.X)} }
	for start := a.X - phase(a.X); start < b.X; start += period {
		from, to := max(a.X, start), min(b.X, start+on)
		if from < to {
			piece(at(from), at(to))
		}
		if to < b.X {
			lift()
		}
	}
}
