package render

import (
	"image/color"

	"gonum.org/v1/plot/vg"
)

// A pen draws one picture: a canvas, its layout and its colours.
type pen struct {
	vg.Canvas
	l   *Layout
	v   *View
	ink *inks
}

func newPen(c vg.Canvas, l Layout, v *View) *pen {
	return &pen{Canvas: c, l: &l, v: v, ink: v.Theme.inks()}
}

func (p *pen) fillRect(r vg.Rectangle, c color.Color) {
	p.SetColor(c)
	p.Fill(r.Path())
}
