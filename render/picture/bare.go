package picture

import "gonum.org/v1/plot/vg"

// Bare returns a canvas that draws on c all but fills of the whole area: what is drawn has no ground then, and what lies
// below shows through.
func Bare(c vg.Canvas, area vg.Rectangle) vg.Canvas { return groundless{c, area} }

type groundless struct {
	vg.Canvas
	area vg.Rectangle
}

// Fill fills p, unless that is all of the area.
func (g groundless) Fill(p vg.Path) {
	if len(p) == 0 {
		return
	}
	low, high := p[0].Pos, p[0].Pos
	for _, comp := range p {
		switch comp.Type {
		case vg.MoveComp, vg.LineComp:
			low.X, low.Y = min(low.X, comp.Pos.X), min(low.Y, comp.Pos.Y)
			high.X, high.Y = max(high.X, comp.Pos.X), max(high.Y, comp.Pos.Y)
		case vg.CloseComp:
		default:
			g.Canvas.Fill(p)
			return
		}
	}
	if low.X > g.area.Min.X || low.Y > g.area.Min.Y || high.X < g.area.Max.X || high.Y < g.area.Max.Y {
		g.Canvas.Fill(p)
	}
}
