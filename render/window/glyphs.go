package window

import (
	"image"
	"image/draw"

	"github.com/hajimehoshi/ebiten/v2"
	"golang.org/x/image/math/fixed"
)

// A page is a picture that holds the letters in use beside each other, with clear pixels between, and a patch of white
// for what has none. So shapes and text go to the hardware in one call.
type page struct {
	image   *ebiten.Image
	x, y    int // where the next letter goes
	tallest int // of this row
}

const (
	pageSize = 2048 // pixels; all the letters of a picture of 3840 by 2160 pixels fit in
	patch    = 3    // pixels: wide enough for mesh.Plain to have white neighbours
)

// open makes the page, or clears it of all letters.
func (p *page) open() {
	if p.image == nil {
		p.image = ebiten.NewImageWithOptions(image.Rect(0, 0, pageSize, pageSize), &ebiten.NewImageOptions{Unmanaged: true})
	}
	p.x, p.y, p.tallest = 0, 0, 0
	white := image.NewRGBA(image.Rect(0, 0, patch, patch))
	draw.Draw(white, white.Rect, image.White, image.Point{}, draw.Src)
	p.put(white)
}

// put copies a picture onto the page and returns where it lies, or false where there is no room.
func (p *page) put(img *image.RGBA) (at image.Point, ok bool) {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	if p.x+w > pageSize {
		p.x, p.y, p.tallest = 0, p.y+p.tallest, 0
	}
	if w > pageSize || p.y+h > pageSize {
		return at, false
	}
	at = image.Pt(p.x, p.y)
	p.image.SubImage(img.Rect.Add(at)).(*ebiten.Image).WritePixels(img.Pix)
	p.x += w
	p.tallest = max(p.tallest, h)
	return at, true
}

type glyphKey struct {
	r    rune
	part fixed.Int26_6 // of a pixel, by which its left edge lies to the right of one's
}

// A glyph is where the picture of a letter lies on the page, its size in pixels; without a size, nothing is to be seen.
type glyph struct{ x, y, w, h int }

// glyph returns the picture of r with its left edge at a part of a pixel.
func (c *Canvas) glyph(fc *face, r rune, part fixed.Int26_6, bounds fixed.Rectangle26_6) glyph {
	key := glyphKey{r, part}
	if g, ok := fc.glyphs[key]; ok {
		return g
	}
	w, h := (bounds.Max.X - bounds.Min.X).Ceil(), (bounds.Max.Y - bounds.Min.Y).Ceil()
	if w == 0 || h == 0 {
		fc.glyphs[key] = glyph{}
		return glyph{}
	}
	// One pixel more for the parts of pixels, and a clear one all round for what is smoothed.
	img := image.NewRGBA(image.Rect(0, 0, w+3, h+3))
	dot := fixed.Point26_6{
		X: fixed.I(1) + part - bounds.Min.X,
		Y: fixed.I(1) + bounds.Min.Y&63 - bounds.Min.Y,
	}
	if to, mask, from, _, ok := fc.Glyph(dot, r); ok {
		draw.DrawMask(img, to, image.White, image.Point{}, mask, from, draw.Over)
	}
	at, ok := c.page.put(img)
	if !ok {
		c.Flush() // what waits for the letters that are there
		for _, f := range c.faces {
			clear(f.glyphs)
		}
		c.page.open()
		if at, ok = c.page.put(img); !ok {
			return glyph{}
		}
	}
	g := glyph{at.X + 1, at.Y + 1, w + 1, h + 1}
	fc.glyphs[key] = g
	return g
}
