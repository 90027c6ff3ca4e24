package raster

import (
	"encoding/binary"
	"image"
	"image/draw"
	"math"

	"sextant/render/window/mesh"
)

// begin forgets the polygons.
func (c *Canvas) begin() { c.pieces, c.ends = c.pieces[:0], c.ends[:0] }

// polygon adds a polygon to those to be filled.
func (c *Canvas) polygon(pts ...mesh.Point) {
	c.pieces = append(c.pieces, pts...)
	c.ends = append(c.ends, len(c.pieces))
}

// paint fills the polygons with the colour in force.
func (c *Canvas) paint() {
	low, high := mesh.Point{X: math.Inf(1), Y: math.Inf(1)}, mesh.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, p := range c.pieces {
		low.X, low.Y = min(low.X, p.X), min(low.Y, p.Y)
		high.X, high.Y = max(high.X, p.X), max(high.Y, p.Y)
	}
	box, ok := c.box(low, high)
	if !ok {
		return
	}
	c.sums.Reset(box.Dx(), box.Dy())
	x0, y0 := float64(box.Min.X), float64(box.Min.Y)
	from := 0
	for _, end := range c.ends {
		for i, p := range c.pieces[from:end] {
			if x, y := float32(p.X-x0), float32(p.Y-y0); i == 0 {
				c.sums.MoveTo(x, y)
			} else {
				c.sums.LineTo(x, y)
			}
		}
		c.sums.ClosePath()
		from = end
	}
	c.blend(box)
}

// box returns the pixels between two corners that the image has.
func (c *Canvas) box(low, high mesh.Point) (image.Rectangle, bool) {
	const far = 1 << 24 // beyond it, pixels cannot be told apart
	if !(low.X < far && low.Y < far && high.X > -far && high.Y > -far) {
		return image.Rectangle{}, false
	}
	bound := func(x float64) int { return int(max(-far, min(x, far))) }
	box := image.Rect(
		bound(math.Floor(low.X)), bound(math.Floor(low.Y)), bound(math.Ceil(high.X)), bound(math.Ceil(high.Y)),
	).Intersect(c.img.Rect)
	return box, !box.Empty()
}

// blend lays the colour in force over the image's box, as far as it is covered.
func (c *Canvas) blend(box image.Rectangle) {
	w, h := box.Dx(), box.Dy()
	if n := w * h; n > cap(c.mask.Pix) {
		c.mask.Pix = make([]uint8, n)
	} else {
		c.mask.Pix = c.mask.Pix[:n]
	}
	c.mask.Stride, c.mask.Rect = w, image.Rect(0, 0, w, h)
	c.sums.DrawOp = draw.Src
	c.sums.Draw(&c.mask, c.mask.Rect, image.Opaque, image.Point{})
	for y := range h {
		i := c.img.PixOffset(box.Min.X, box.Min.Y+y)
		c.blendRow(c.img.Pix[i:i+4*w], c.mask.Pix[y*w:(y+1)*w])
	}
}

// blendRow lays the colour in force over a row of pixels of a certain coverage.
func (c *Canvas) blendRow(row, coverage []uint8) {
	r, g, b, a := uint32(c.color.R), uint32(c.color.G), uint32(c.color.B), uint32(c.color.A)
	for x := 0; x < len(coverage); {
		m := uint32(coverage[x])
		if m == 0 {
			if x+8 <= len(coverage) && binary.LittleEndian.Uint64(coverage[x:]) == 0 { // most of a box is bare
				x += 8
			} else {
				x++
			}
			continue
		}
		p := row[4*x : 4*x+4 : 4*x+4]
		if x++; m == 255 && a == 255 {
			p[0], p[1], p[2], p[3] = uint8(r), uint8(g), uint8(b), 255
			continue
		}
		rest := 255*255 - a*m
		p[0] = uint8((r*m*255 + uint32(p[0])*rest + 255*255/2) / (255 * 255))
		p[1] = uint8((g*m*255 + uint32(p[1])*rest + 255*255/2) / (255 * 255))
		p[2] = uint8((b*m*255 + uint32(p[2])*rest + 255*255/2) / (255 * 255))
		p[3] = uint8((a*m*255 + uint32(p[3])*rest + 255*255/2) / (255 * 255))
	}
}
