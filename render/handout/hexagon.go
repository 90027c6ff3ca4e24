package handout

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/vg"

	"sextant/inverter"
)

// hexagon is the hexagon of a bridge's voltage vectors, in which vectors are to be drawn.
type hexagon struct {
	supply  float64 // V
	vectors []arrow
}

// An arrow is a vector to be drawn.
type arrow struct {
	name   string
	length float64 // V
	angle  float64 // rad
}

func (h *hexagon) Size(room vg.Length, solved bool) (width, height vg.Length) {
	side := vg.Length(204)
	if solved {
		side = 116
	}
	side = min(side, room)
	return side, side + ringLine
}

// ringLine is the height of the line below the hexagon that says what the rings are.
const ringLine = vg.Length(10)

func (h *hexagon) Draw(c vg.Canvas, area vg.Rectangle, solved bool) {
	p := pen{c}
	o := vg.Point{X: (area.Min.X + area.Max.X) / 2, Y: (area.Min.Y + ringLine + area.Max.Y) / 2}
	corner := area.Size().X/2 - 25 // 2/3 of the supply
	for k := range 24 {
		weight := vg.Length(0.3)
		if k%2 == 0 {
			weight = 0.6
		}
		angle := float64(k) * math.Pi / 12
		p.line(weight, theme.Rule(), o, polar(o, corner, angle))
		if k%2 == 0 {
			at := polar(o, corner+11, angle)
			plain(figureText).place(c, centre, at.X, at.Y, fmt.Sprintf("%d°", k*15))
		}
	}
	for k := 1; k <= 4; k++ {
		p.circle(0.4, theme.Rule(), o, corner*vg.Length(k)/4)
	}
	var rim []vg.Point
	for k := range 7 {
		rim = append(rim, polar(o, corner, float64(k)*math.Pi/3))
	}
	p.line(0.9, theme.Text(), rim...)
	for _, ph := range inverter.Phases {
		p.dashed(0.9, theme.Phase(ph), []float64{1, 0.7}, o, polar(o, corner, ph.Axis()))
		at := polar(o, corner+22, ph.Axis())
		s := bold(figureHead)
		s.ink = theme.Phase(ph)
		s.place(c, centre, at.X, at.Y, ph.String())
	}
	muted(figureText).place(c, left, area.Min.X, area.Min.Y+5, "rings every "+h.ring())
	if !solved {
		return
	}
	scale := corner / vg.Length(2*h.supply/3)
	for _, v := range h.vectors {
		tip := polar(o, scale*vg.Length(v.length), v.angle)
		if v.length == 0 {
			p.circle(1.4, theme.Accent(), o, 4)
			bold(figureHead).place(c, left, o.X+6, o.Y-7, v.name)
			continue
		}
		p.arrow(1.6, theme.Accent(), o, tip)
		at := polar(tip, -11, v.angle+0.0).Add(polar(vg.Point{}, 9, v.angle+math.Pi/2))
		bold(figureHead).place(c, centre, at.X, at.Y, v.name)
	}
}

// ring returns how much voltage lies between two rings.
func (h *hexagon) ring() string { return written(h.supply/6, "V") }

func (h *hexagon) Tell(solved bool) string {
	said := fmt.Sprintf("The hexagon of voltage vectors for a supply of %s, with lines every 15 degrees and rings every %s.", Given{Value: h.supply, Unit: "V"}.text(), h.ring())
	if solved {
		for _, v := range h.vectors {
			said += fmt.Sprintf(" Vector %s: %s at %s deg.", v.name, written(v.length, "V"), significant(v.angle*180/math.Pi))
		}
	}
	return said
}
