package window

import (
	"math"

	xfont "golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"

	"sextant/render/canvas"
)

// faces keeps the faces of text in use.
type faces map[faceKey]*face

type faceKey struct {
	font font.Font // its Size is zero
	size float64   // pixels
}

// A face is a font at a size, with what has been asked of it remembered.
type face struct {
	xfont.Face
	font    *opentype.Font
	buf     sfnt.Buffer
	size    fixed.Int26_6
	grain   fixed.Int26_6 // to what parts of a pixel letters are set
	letters map[rune]letter
	kerns   map[[2]rune]fixed.Int26_6
	glyphs  map[glyphKey]glyph
}

// A letter is a rune's measures.
type letter struct {
	bounds  fixed.Rectangle26_6
	advance fixed.Int26_6
}

// face returns f at size pixels.
func (fs *faces) face(f font.Face, size float64) *face {
	key := faceKey{f.Font, size}
	key.font.Size = 0
	if face := (*fs)[key]; face != nil {
		return face
	}
	const most = 64 // a window that is resized leaves sizes behind that are not used again
	if *fs == nil || len(*fs) >= most {
		*fs = make(faces)
	}
	sized, err := opentype.NewFace(f.Face, &opentype.FaceOptions{Size: size, DPI: 72})
	if err != nil {
		panic(err) // only for a size or resolution that is not positive
	}
	(*fs)[key] = &face{
		Face: sized, font: f.Face, size: fixed.Int26_6(math.Round(size * 64)), grain: grain(size),
		letters: map[rune]letter{}, kerns: map[[2]rune]fixed.Int26_6{}, glyphs: map[glyphKey]glyph{},
	}
	return (*fs)[key]
}

// grain returns to what parts of a pixel letters of a size are set: the smaller, the more an even spacing needs.
func grain(size float64) fixed.Int26_6 {
	switch {
	case size < 18:
		return 8
	case size < 36:
		return 16
	case size < 72:
		return 32
	}
	return 64
}

// letter returns the measures of r.
func (fc *face) letter(r rune) letter {
	l, ok := fc.letters[r]
	if !ok {
		l.bounds, l.advance, _ = fc.GlyphBounds(r)
		fc.letters[r] = l
	}
	return l
}

// kern returns how much further b stands from a than their widths say, in pixels. The face that this one is made of says so
// for letters of 32 pixels, whatever its size.
func (fc *face) kern(a, b rune) fixed.Int26_6 {
	pair := [2]rune{a, b}
	x, ok := fc.kerns[pair]
	if !ok {
		left, err1 := fc.font.GlyphIndex(&fc.buf, a)
		right, err2 := fc.font.GlyphIndex(&fc.buf, b)
		if err1 == nil && err2 == nil {
			x, _ = fc.font.Kern(&fc.buf, left, right, fc.size, xfont.HintingNone) // 0 beside an error
		}
		fc.kerns[pair] = x
	}
	return x
}

// largest is the size in pixels of the largest letters that are kept as pictures; larger ones are these stretched.
const largest = 400

// write draws s from pt on. Text that stands upright is set to whole pixels, which keeps it crisp; turned text
// is not.
func (c *Canvas) write(f font.Face, size float64, pt vg.Point, s string) {
	face := c.faces.face(f, min(size, largest))
	at, m := c.Place.Apply(pt), &c.Place
	// The way of a pixel to the right and of one down in a glyph's picture.
	scale := m.Magnification() / max(1, size/largest)
	right := canvas.Point{X: m.A, Y: m.B}.Scale(1 / scale)
	down := canvas.Point{X: -m.C, Y: -m.D}.Scale(1 / scale)
	upright := size <= largest && m.B == 0 && m.C == 0 && m.A > 0 && m.D < 0
	if upright {
		at = canvas.Point{X: math.Round(at.X), Y: math.Round(at.Y)}
		right, down = canvas.Point{X: 1}, canvas.Point{Y: 1}
	}
	c.smooth(!upright)

	var pen fixed.Int26_6
	last := rune(-1)
	for _, r := range s {
		if last >= 0 {
			pen += face.kern(last, r)
		}
		last = r
		l := face.letter(r)
		left := pen/face.grain*face.grain + l.bounds.Min.X
		if g := c.glyph(face, r, left&63, l.bounds); g.w > 0 {
			x, y := float64(left.Floor()), float64(l.bounds.Min.Y.Floor())
			w, h := float64(g.w), float64(g.h)
			corner := func(x, y float64) canvas.Point {
				return canvas.Point{X: at.X + right.X*x + down.X*y, Y: at.Y + right.Y*x + down.Y*y}
			}
			c.mesh.Picture([4]canvas.Point{corner(x, y), corner(x+w, y), corner(x+w, y+h), corner(x, y+h)},
				float32(g.x), float32(g.y), float32(g.x+g.w), float32(g.y+g.h), c.color)
		}
		pen += l.advance
	}
	c.smooth(false)
}

// smooth says whether the letters drawn from now on are turned or stretched, and so to be smoothed.
func (c *Canvas) smooth(on bool) {
	if on != c.smoothed {
		c.Flush()
		c.smoothed = on
	}
}
