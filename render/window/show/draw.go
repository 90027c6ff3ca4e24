package show

import (
	"image/color"
	"strings"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"

	"sextant/render"
)

// A brush draws in the colours of a theme.
type brush struct {
	vg.Canvas
	theme render.Theme
}

func (b brush) fill(r vg.Rectangle, c color.Color) {
	b.SetColor(c)
	b.Fill(r.Path())
}

func (b brush) outline(r vg.Rectangle, width vg.Length, c color.Color) {
	b.SetColor(c)
	b.SetLineWidth(width)
	b.SetLineDash(nil, 0)
	b.Stroke(r.Path())
}

// write writes s centred at p, smaller if it would be longer than room.
func (b brush) write(s string, p vg.Point, size, room vg.Length, c color.Color, weight xfont.Weight) {
	s = render.Typeset(s)
	f := render.Face(weight, size)
	w := f.Width(s)
	if w > room {
		f = render.Face(weight, size*room/w)
		w = room
	}
	b.SetColor(c)
	b.FillString(f, vg.Point{X: p.X - w/2, Y: p.Y - f.Font.Size*render.CapHeight/2}, s)
}

func inset(r vg.Rectangle, by vg.Length) vg.Rectangle {
	d := vg.Point{X: by, Y: by}
	return vg.Rectangle{Min: r.Min.Add(d), Max: r.Max.Sub(d)}
}

// Draw draws the strip of buttons, the message and the help on c, over the stage. pointed is the button
// pointed at.
func (s *Show) Draw(c vg.Canvas, f *Frame, pointed Wish) {
	b := brush{c, s.theme}
	b.fill(f.strip, s.theme.Panel())
	if f.panel != (vg.Rectangle{}) {
		b.fill(f.panel, s.theme.Panel())
		b.outline(f.panel, f.cell*0.05, s.theme.Accent())
	}
	for i := range f.cells {
		b.cell(&f.cells[i], pointed)
	}
	switch {
	case f.chart == (vg.Rectangle{}):
	case f.words != nil:
		for _, p := range f.words.prose {
			render.DrawProse(b.Canvas, p.area, f.words.size, b.theme, p.words)
		}
	default:
		b.bars(&s.heating, s.numbering, f.chart)
	}
	if s.message != "" {
		b.message(s.message, f, s.TextScale())
	}
	if s.help {
		b.help(f, s.page)
	}
}

func (b brush) cell(c *cell, pointed Wish) {
	if c.set != nil {
		b.choice(c, pointed)
		return
	}
	h := c.box.Max.Y - c.box.Min.Y
	mid := c.box.Min.Add(c.box.Max).Scale(0.5)
	room := c.box.Max.X - c.box.Min.X - h*0.16
	ink, muted := b.theme.Text(), b.theme.Muted()
	if c.wish != None {
		key := inset(c.box, h*pad)
		ground := b.theme.Ground()
		if c.on {
			ground, ink, muted = b.theme.Accent(), b.theme.Ground(), b.theme.Ground()
		}
		b.fill(key, ground)
		if c.wish == pointed && !c.on {
			b.outline(key, h*0.05, b.theme.Accent())
		}
	}
	switch {
	case c.caption != "":
		b.write(c.caption, vg.Point{X: mid.X, Y: mid.Y + h*0.22}, h*0.24, room, muted, xfont.WeightNormal)
		b.write(c.text, vg.Point{X: mid.X, Y: mid.Y - h*0.14}, h*0.36, room, ink, xfont.WeightBold)
	case c.text != "":
		b.write(c.text, mid, h*0.36, room, ink, xfont.WeightBold)
	default:
		b.icon(c, mid, h*0.5, ink)
	}
}

// message shows a text over the foot of the stage.
func (b brush) message(text string, frame *Frame, scale float64) {
	area := frame.Stage.Size()
	size := max(min(area.X/60, area.Y/34), 13*frame.cell/44) * vg.Length(scale)
	width := min(area.X*0.92, 46*size)
	f := render.Face(xfont.WeightNormal, size)
	lines := wrap(text, f, width-2*size)
	longest := vg.Length(0)
	for _, line := range lines {
		longest = max(longest, f.Width(line))
	}
	width = min(width, longest+2*size)
	tall := size * (1.35*vg.Length(len(lines)) + 0.9)
	x, y := frame.Stage.Min.X+(area.X-width)/2, max(frame.strip.Max.Y, frame.panel.Max.Y)+size*0.6
	box := vg.Rectangle{Min: vg.Point{X: x, Y: y}, Max: vg.Point{X: x + width, Y: y + tall}}
	b.fill(box, b.theme.Panel())
	b.outline(box, size*0.12, b.theme.Accent())
	for i, line := range lines {
		y := box.Max.Y - size*(1.1+1.35*vg.Length(i))
		b.write(line, vg.Point{X: (box.Min.X + box.Max.X) / 2, Y: y}, size, width-2*size, b.theme.Text(), xfont.WeightNormal)
	}
}

// wrap breaks text between words into lines of at most room, and at its line ends.
func wrap(text string, f font.Face, room vg.Length) (lines []string) {
	for paragraph := range strings.SplitSeq(text, "\n") {
		line := ""
		for _, word := range strings.Fields(paragraph) {
			longer := strings.TrimSpace(line + " " + word)
			if line != "" && f.Width(longer) > room {
				lines = append(lines, line)
				longer = word
			}
			line = longer
		}
		lines = append(lines, line)
	}
	return lines
}

// start writes s from p on to the right, smaller if it would be longer than room.
func (b brush) start(s string, p vg.Point, size, room vg.Length, c color.Color) {
	f := render.Face(xfont.WeightNormal, size)
	w := min(f.Width(s), room)
	b.write(s, vg.Point{X: p.X + w/2, Y: p.Y}, size, room, c, xfont.WeightNormal)
}

// from writes s from p on to the right.
func (b brush) from(s string, p vg.Point, size vg.Length, c color.Color, weight xfont.Weight) {
	f := render.Face(weight, size)
	w := f.Width(render.Typeset(s))
	b.write(s, vg.Point{X: p.X + w/2, Y: p.Y}, size, w, c, weight)
}
