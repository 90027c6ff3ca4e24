package raster

import (
	"cmp"
	"encoding/binary"
	"image"
	"image/draw"
	"math"
	"slices"

	"sextant/render/canvas"
)

// A piece is a polygon to be filled: its corners, from one index to another, and how far they reach.
type piece struct {
	from, end int
	low, high canvas.Point
}

// begin forgets the polygons.
func (c *Canvas) begin() { c.corners, c.pieces = c.corners[:0], c.pieces[:0] }

// polygon adds a polygon to those to be filled.
func (c *Canvas) polygon(pts ...canvas.Point) {
	from := len(c.corners)
	c.corners = append(c.corners, pts...)
	c.add(from)
}

// add makes a polygon of the corners from an index on.
func (c *Canvas) add(from int) {
	p := piece{from, len(c.corners), canvas.Point{X: math.Inf(1), Y: math.Inf(1)}, canvas.Point{X: math.Inf(-1), Y: math.Inf(-1)}}
	for _, q := range c.corners[from:] {
		p.reach(q, q)
	}
	c.pieces = append(c.pieces, p)
}

// reach lets p reach to two corners too.
func (p *piece) reach(low, high canvas.Point) {
	p.low.X, p.low.Y = min(p.low.X, low.X), min(p.low.Y, low.Y)
	p.high.X, p.high.Y = max(p.high.X, high.X), max(p.high.Y, high.Y)
}

// few polygons may lie far apart, as marks on an axis do; then each column's worth of them is filled by itself.
const few = 256

// paint fills the polygons with the colour in force.
func (c *Canvas) paint() {
	all := c.pieces
	if len(all) <= few {
		slices.SortStableFunc(all, func(a, b piece) int { return cmp.Compare(a.low.X, b.low.X) })
	}
	for len(all) > 0 {
		n, whole := 1, all[0]
		for ; n < len(all) && (len(all) > few || math.Floor(all[n].low.X) < math.Ceil(whole.high.X)); n++ {
			whole.reach(all[n].low, all[n].high)
		}
		c.paintTogether(all[:n], whole)
		all = all[n:]
	}
}

// paintTogether fills polygons that may overlap, all of which reach as far as whole.
func (c *Canvas) paintTogether(all []piece, whole piece) {
	box, ok := c.box(whole.low, whole.high)
	if !ok {
		return
	}
	c.sums.Reset(box.Dx(), box.Dy())
	x0, y0 := float64(box.Min.X), float64(box.Min.Y)
	for k := range all {
		for i, p := range c.corners[all[k].from:all[k].end] {
			if x, y := float32(p.X-x0), float32(p.Y-y0); i == 0 {
				c.sums.MoveTo(x, y)
			} else {
				c.sums.LineTo(x, y)
			}
		}
		c.sums.ClosePath()
	}
	c.blend(box)
}

// box returns the pixels between two corners that the image has.
func (c *Canvas) box(low, high canvas.Point) (image.Rectangle, bool) {
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
