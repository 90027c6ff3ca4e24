package show

import (
	"image/color"
	"math"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/vg"
)

// icon draws the sign of a button, about size large, centred at p.
func (b brush) icon(c *cell, p vg.Point, size vg.Length, ink color.Color) {
	r := size / 2
	at := func(x, y float64) vg.Point { return vg.Point{X: p.X + r*vg.Length(x), Y: p.Y + r*vg.Length(y)} }
	b.SetColor(ink)
	b.SetLineWidth(size * 0.12)
	b.SetLineDash(nil, 0)
	solid := func(pts ...vg.Point) { b.Fill(trail(true, pts...)) }
	line := func(pts ...vg.Point) { b.Stroke(trail(false, pts...)) }
	bar := func(x0, y0, x1, y1 float64) { b.Fill(vg.Rectangle{Min: at(x0, y0), Max: at(x1, y1)}.Path()) }
	switch c.wish {
	case PlayPause:
		if c.on {
			bar(-0.7, -0.85, -0.2, 0.85)
			bar(0.2, -0.85, 0.7, 0.85)
		} else {
			solid(at(-0.65, -0.9), at(0.9, 0), at(-0.65, 0.9))
		}
	case NextEvent: // to an edge
		solid(at(-0.8, -0.6), at(0.2, 0), at(-0.8, 0.6))
		line(at(0, -0.85), at(0.45, -0.85), at(0.45, 0.85), at(0.9, 0.85))
	case PreviousEvent:
		solid(at(0.8, -0.6), at(-0.2, 0), at(0.8, 0.6))
		line(at(-0.9, -0.85), at(-0.45, -0.85), at(-0.45, 0.85), at(0, 0.85))
	case Restart:
		var arc vg.Path
		arc.Arc(p, r*0.7, math.Pi*0.75, -math.Pi*1.5)
		b.Stroke(arc)
		tip := math.Pi * 0.75
		x, y := 0.7*math.Cos(tip), 0.7*math.Sin(tip)
		solid(at(x-0.45, y-0.15), at(x+0.2, y+0.45), at(x+0.25, y-0.35))
	case Faster, FrequencyUp, ModulationUp, SupplyUp, CarrierUp, DeadTimeUp, SpeedUp, LoadUp, CommandUp, FluxUp, AdvanceUp, DutyUp, LongerTape:
		line(at(-0.7, 0), at(0.7, 0))
		line(at(0, -0.7), at(0, 0.7))
	case Slower, FrequencyDown, ModulationDown, SupplyDown, CarrierDown, DeadTimeDown, SpeedDown, LoadDown, CommandDown, FluxDown, AdvanceDown, DutyDown, ShorterTape:
		line(at(-0.7, 0), at(0.7, 0))
	case NextPattern, NextScenario, NextDeviceA, NextDeviceB, NextDevice, NextLesson, NextScene, RotorOn, CursorOn, LookForward:
		line(at(-0.35, -0.75), at(0.4, 0), at(-0.35, 0.75))
	case PreviousPattern, PreviousScenario, PreviousDeviceA, PreviousDeviceB, PreviousDevice, PreviousLesson, PreviousScene, RotorBack, CursorBack, LookBack:
		line(at(0.35, -0.75), at(-0.4, 0), at(0.35, 0.75))
	case Undo, Redo: // an arrow that bends back, or on
		side := 1.0
		if c.wish == Redo {
			side = -1
		}
		line(at(-0.3*side, 0.45), at(0.35*side, 0.45), at(0.75*side, 0.1), at(0.75*side, -0.3), at(0.35*side, -0.65), at(-0.5*side, -0.65))
		solid(at(-0.9*side, 0.45), at(-0.25*side, 0.95), at(-0.25*side, -0.05))
	case NextFocus: // a part within the whole
		line(at(-0.9, -0.7), at(0.9, -0.7), at(0.9, 0.7), at(-0.9, 0.7), at(-0.9, -0.7))
		bar(-0.6, -0.05, 0.1, 0.45)
	case NextTheme: // half dark, half light
		var ring, half vg.Path
		ring.Move(at(0.8, 0))
		ring.Arc(p, r*0.8, 0, 2*math.Pi)
		ring.Close()
		b.Stroke(ring)
		half.Move(at(0, -0.8))
		half.Arc(p, r*0.8, -math.Pi/2, math.Pi)
		half.Close()
		b.Fill(half)
	case NextTextSize:
		b.write("A", at(-0.45, -0.1), size*0.7, size, ink, xfont.WeightBold)
		b.write("A", at(0.4, 0), size*1.1, size, ink, xfont.WeightBold)
	case Fullscreen:
		for _, k := range [4][2]float64{{-1, -1}, {-1, 1}, {1, -1}, {1, 1}} {
			x, y := k[0]*0.8, k[1]*0.7
			line(at(x-0.5*k[0], y), at(x, y), at(x, y-0.5*k[1]))
		}
	case Dismiss:
		line(at(-0.6, -0.6), at(0.6, 0.6))
		line(at(-0.6, 0.6), at(0.6, -0.6))
	case Help:
		b.write("?", p, size*1.1, size, ink, xfont.WeightBold)
	case More:
		for _, x := range [3]float64{-0.7, 0, 0.7} {
			bar(x-0.18, -0.18, x+0.18, 0.18)
		}
	}
}

func trail(closed bool, pts ...vg.Point) (p vg.Path) {
	p.Move(pts[0])
	for _, pt := range pts[1:] {
		p.Line(pt)
	}
	if closed {
		p.Close()
	}
	return p
}
