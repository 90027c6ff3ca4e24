package show

import (
	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/vg"

	"sextant/render"
)

// A mark says what became of a choice.
type mark uint8

const (
	unmarked mark = iota
	right
	wrong // and was given
)

// A setChoice is a button that is as tall as its words: a choice of a question, or a lesson of the list.
type setChoice struct {
	number string
	words  render.Paragraph
	area   vg.Rectangle // of the words
	size   vg.Length    // of the letters
	mark   mark
	marked bool // Enter presses it
}

const (
	numberRoom = 1.9 // left of a choice's words, in sizes of its letters
	markRoom   = 1.5 // right of them
	choicePad  = 0.3 // above and below
	proseDrop  = 0.1 // by which a line of prose stands below the middle of its height
)

// choiceHeight returns how tall a choice of that width is, where a finger needs so much.
func choiceHeight(words render.Paragraph, width, size, finger vg.Length) vg.Length {
	return max(render.ProseHeight([]render.Paragraph{words}, width-(numberRoom+markRoom)*size, size)+2*choicePad*size, finger)
}

// width returns how wide a choice is with all its words in one line.
func (t *setChoice) width(size vg.Length) vg.Length {
	f := render.Face(xfont.WeightBold, size)
	return f.Width(render.Typeset(t.words.Text)) + (numberRoom+markRoom+0.2)*size
}

// fit gives the words their place in a cell, in letters of a size or smaller.
func (t *setChoice) fit(c *cell, size vg.Length) {
	words := []render.Paragraph{t.words}
	room := func() vg.Length { return c.box.Max.X - c.box.Min.X - (numberRoom+markRoom)*size }
	tall := c.box.Max.Y - c.box.Min.Y
	for render.ProseHeight(words, room(), size) > tall && size > 1 {
		size *= 0.95
	}
	t.size = size
	need := render.ProseHeight(words, room(), size)
	top := (c.box.Min.Y+c.box.Max.Y+need)/2 + proseDrop*size
	t.area = vg.Rectangle{
		Min: vg.Point{X: c.box.Min.X + numberRoom*size, Y: top - need*1.01},
		Max: vg.Point{X: c.box.Max.X - markRoom*size, Y: top},
	}
}

// choice draws a choice: its number, its words, and what became of it by a sign.
func (b brush) choice(c *cell, pointed Wish) {
	t := c.set
	key := inset(c.box, t.size*0.12)
	b.fill(key, b.theme.Ground())
	if c.wish == pointed || c.on || t.marked || t.mark == right {
		b.outline(key, t.size*0.12, b.theme.Accent())
	}
	middle := (c.box.Min.Y + c.box.Max.Y) / 2
	b.write(t.number, vg.Point{X: c.box.Min.X + numberRoom*t.size/2, Y: middle}, t.size, numberRoom*t.size, b.theme.Accent(), xfont.WeightBold)
	render.DrawProse(b.Canvas, t.area, t.size, b.theme, []render.Paragraph{t.words})
	r := t.size * 0.42
	at := func(x, y vg.Length) vg.Point {
		return vg.Point{X: c.box.Max.X - markRoom*t.size/2 + r*x, Y: middle + r*y}
	}
	b.SetColor(b.theme.Text())
	b.SetLineWidth(t.size * 0.16)
	b.SetLineDash(nil, 0)
	switch t.mark {
	case right:
		b.Stroke(trail(false, at(-0.9, 0), at(-0.25, -0.8), at(0.9, 0.9)))
	case wrong:
		b.Stroke(trail(false, at(-0.8, -0.8), at(0.8, 0.8)))
		b.Stroke(trail(false, at(-0.8, 0.8), at(0.8, -0.8)))
	}
}
