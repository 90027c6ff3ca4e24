package show

import (
	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/vg"

	"sextant/render"
)

// Lay tells the show where the stage's parts lie.
func (s *Show) Lay(l *render.Layout) { s.parts, s.tapeTaste.shown = l.Parts(), l.Shown() }

// DrawExplanation explains on c the part that is pointed at, beside it, once the spectator has rested there.
func (s *Show) DrawExplanation(c vg.Canvas, f *Frame, l *render.Layout, v *render.View) {
	part, ok := l.Where(s.hover)
	if !ok || s.rest < pointsAtRest || s.help {
		return
	}
	e := render.Explain(s.hover, v)
	if e.Title == "" {
		return
	}
	room := f.Stage
	room.Min.Y = max(room.Min.Y, f.strip.Max.Y, f.panel.Max.Y)
	area := room.Size()
	size := max(min(area.X/72, area.Y/34), 12*f.cell/44) * vg.Length(s.TextScale())
	widest := min(area.X*0.94, 34*size)
	strong, plain := render.Face(xfont.WeightBold, size), render.Face(xfont.WeightNormal, size)
	title := wrap(e.Title, strong, widest-2*size)
	value, law := wrap(e.Value, plain, widest-2*size), wrap(e.Equation, plain, widest-2*size)
	longest := vg.Length(0)
	for _, line := range title {
		longest = max(longest, strong.Width(line))
	}
	for _, line := range append(append([]string(nil), value...), law...) {
		longest = max(longest, plain.Width(line))
	}
	// The box grows with what it says but does not shrink, so that numbers that run do not shake it.
	if s.boxed != s.hover || longest > s.boxWidth || s.boxSize != size {
		s.boxed, s.boxWidth, s.boxSize = s.hover, longest, size
	}
	lines := len(title) + len(value) + len(law)
	over := vg.Rectangle{} // bridge and wheel are explained over the tape, not over each other
	if s.hover.Kind != render.LanePart {
		over = l.Tape
	}
	if over == (vg.Rectangle{}) && part.Min.Y >= l.Wheel.Max.Y { // without a tape, the bridge over the wheel below it
		over = l.Wheel
	}
	box, ok := beside(part, over, room, vg.Point{X: min(s.boxWidth+2*size, widest), Y: size * (1.4*vg.Length(lines) + 0.8)}, size*0.7)
	if !ok {
		return
	}
	b := brush{c, s.theme}
	b.fill(box, s.theme.Panel())
	b.outline(box, size*0.12, s.theme.Accent())
	at := vg.Point{X: box.Min.X + size, Y: box.Max.Y - size*1.1}
	for k, text := range [3][]string{title, value, law} {
		for _, line := range text {
			ink, weight := s.theme.Text(), xfont.WeightNormal
			switch k {
			case 0:
				weight = xfont.WeightBold
			case 2:
				ink = s.theme.Muted()
			}
			b.from(line, at, size, ink, weight)
			at.Y -= size * 1.4
		}
	}
}

// beside returns a place for a box of the given size within room that does not cover part, at best at the top
// of over; false where there is none.
func beside(part, over, room vg.Rectangle, size vg.Point, gap vg.Length) (vg.Rectangle, bool) {
	mid := part.Min.Add(part.Max).Scale(0.5)
	x := min(max(mid.X-size.X/2, room.Min.X+gap), room.Max.X-gap-size.X)
	y := min(max(mid.Y-size.Y/2, room.Min.Y+gap), room.Max.Y-gap-size.Y)
	for k, at := range []vg.Point{
		{X: x, Y: over.Max.Y - gap/2 - size.Y},
		{X: x, Y: part.Max.Y + gap},
		{X: x, Y: part.Min.Y - gap - size.Y},
		{X: part.Max.X + gap, Y: y},
		{X: part.Min.X - gap - size.X, Y: y},
	} {
		if k == 0 && over == (vg.Rectangle{}) {
			continue
		}
		if at.X >= room.Min.X && at.Y >= room.Min.Y && at.X+size.X <= room.Max.X && at.Y+size.Y <= room.Max.Y {
			return vg.Rectangle{Min: at, Max: at.Add(size)}, true
		}
	}
	return vg.Rectangle{}, false
}
