package canvas

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// A Pen is what a canvas knows of drawing but for the colour. Its methods are a [vg.Canvas]'s.
type Pen struct {
	Place  Place     // from the drawing's points to pixels
	Width  float64   // of lines, in points
	Dashes []float64 // on, off, on ... in points, or nil for solid lines; never written to, only replaced
	Offset float64   // into the dashes, in points
}

// SetLineWidth sets the width of lines.
func (p *Pen) SetLineWidth(w vg.Length) { p.Width = w.Points() }

// SetLineDash sets the dashes of lines: on, off, on ... from offset on; no lengths make lines solid.
func (p *Pen) SetLineDash(pattern []vg.Length, offset vg.Length) {
	p.Dashes, p.Offset = nil, offset.Points()
	sum := 0.0
	for _, x := range pattern {
		p.Dashes = append(p.Dashes, x.Points())
		sum += x.Points()
	}
	if !(sum > 0) {
		p.Dashes = nil
	}
}

// Rotate turns what is drawn from now on by rad radians.
func (p *Pen) Rotate(rad float64) {
	sin, cos := math.Sincos(rad)
	p.Place = p.Place.After(Place{A: cos, B: sin, C: -sin, D: cos})
}

// Translate moves what is drawn from now on by pt.
func (p *Pen) Translate(pt vg.Point) {
	p.Place = p.Place.After(Place{A: 1, D: 1, E: pt.X.Points(), F: pt.Y.Points()})
}

// Scale scales what is drawn from now on, widths of lines by the geometric mean of both.
func (p *Pen) Scale(x, y float64) { p.Place = p.Place.After(Place{A: x, D: y}) }
