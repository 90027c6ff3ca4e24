package raster

import (
	"math"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"

	"sextant/render/canvas"
)

// A face keeps the outlines of a typeface's letters that were used, in ems, y pointing up.
type face struct {
	font    *sfnt.Font
	buf     sfnt.Buffer
	glyphs  map[rune][]segment
	spacing *canvas.Spacing
}

// A segment is a piece of an outline; the last of its points is where it ends.
type segment struct {
	kind sfnt.SegmentOp
	at   [3]canvas.Point
}

// face returns what is kept of f.
func (c *Canvas) face(f font.Face) *face {
	key := f.Font
	key.Size = 0
	k := c.faces[key]
	if k == nil || k.font != f.Face {
		k = &face{font: f.Face, glyphs: map[rune][]segment{}, spacing: canvas.SpacingOf(f.Face)}
		c.faces[key] = k
	}
	return k
}

// glyph returns the outline of a letter; one that the font has not is its sign for what is missing.
func (k *face) glyph(r rune) []segment {
	outline, ok := k.glyphs[r]
	if ok {
		return outline
	}
	em := fixed.Int26_6(k.font.UnitsPerEm()) // at this size a unit of the font is 1/64
	if index, err := k.font.GlyphIndex(&k.buf, r); err == nil {
		segments, _ := k.font.LoadGlyph(&k.buf, index, em, nil) // none beside an error
		for _, s := range segments {
			own := segment{kind: s.Op}
			for i, p := range s.Args {
				own.at[i] = canvas.Point{X: float64(p.X) / float64(em), Y: -float64(p.Y) / float64(em)}
			}
			outline = append(outline, own)
		}
	}
	k.glyphs[r] = outline
	return outline
}

// FillString writes text, its baseline starting at pt.
func (c *Canvas) FillString(f font.Face, pt vg.Point, text string) {
	size := f.Font.Size.Points()
	if !(size > 0) || text == "" || c.color.A == 0 {
		return
	}
	k := c.face(f)
	letters := c.Place.After(canvas.Place{A: size, D: size, E: pt.X.Points(), F: pt.Y.Points()})
	low, high := canvas.Point{X: math.Inf(1), Y: math.Inf(1)}, canvas.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	k.each(text, letters, func(_ sfnt.SegmentOp, at []canvas.Point) {
		for _, p := range at {
			low.X, low.Y = min(low.X, p.X), min(low.Y, p.Y)
			high.X, high.Y = max(high.X, p.X), max(high.Y, p.Y)
		}
	})
	box, ok := c.box(low, high)
	if !ok {
		return
	}
	z := &c.sums
	z.Reset(box.Dx(), box.Dy())
	x0, y0 := float64(box.Min.X), float64(box.Min.Y)
	k.each(text, letters, func(kind sfnt.SegmentOp, at []canvas.Point) {
		var x, y [3]float32
		for i, p := range at {
			x[i], y[i] = float32(p.X-x0), float32(p.Y-y0)
		}
		switch kind {
		case sfnt.SegmentOpMoveTo:
			z.ClosePath()
			z.MoveTo(x[0], y[0])
		case sfnt.SegmentOpLineTo:
			z.LineTo(x[0], y[0])
		case sfnt.SegmentOpQuadTo:
			z.QuadTo(x[0], y[0], x[1], y[1])
		case sfnt.SegmentOpCubeTo:
			z.CubeTo(x[0], y[0], x[1], y[1], x[2], y[2])
		}
	})
	z.ClosePath()
	c.blend(box)
}

// each calls do with the pieces of all letters' outlines, in pixels.
func (k *face) each(text string, letters canvas.Place, do func(kind sfnt.SegmentOp, at []canvas.Point)) {
	x, last := 0.0, rune(0)
	var at [3]canvas.Point
	for _, r := range text {
		if last != 0 {
			x += k.spacing.Kern(last, r)
		}
		outline := k.glyph(r)
		for i := range outline {
			s := &outline[i]
			n := 1
			switch s.kind {
			case sfnt.SegmentOpQuadTo:
				n = 2
			case sfnt.SegmentOpCubeTo:
				n = 3
			}
			for j := range n {
				at[j] = letters.Apply(vg.Point{X: vg.Length(x + s.at[j].X), Y: vg.Length(s.at[j].Y)})
			}
			do(s.kind, at[:n])
		}
		x += k.spacing.Advance(r)
		last = r
	}
}
