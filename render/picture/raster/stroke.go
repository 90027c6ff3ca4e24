package raster

import (
	"math"

	"sextant/render/canvas"
)

const (
	// same is the distance in pixels of points that are taken for one.
	same = 1e-2
	// slight is how far in pixels the outside of a turn may gape before it is rounded.
	slight = 0.05
)

// line adds a line along pts to the polygons, to both sides as wide as half, its ends cut square and its corners
// round; closed joins its end to its start. All polygons turn the same way, so that where two overlap nothing is hollow.
func (c *Canvas) line(pts []canvas.Point, closed bool, half float64) {
	var first, last canvas.Point // directions
	at := pts[0]
	begun := false
	to := func(p canvas.Point) {
		d := p.Sub(at)
		length := d.Abs()
		if length < same {
			return
		}
		d = d.Scale(1 / length)
		n := d.Left().Scale(half)
		c.polygon(at.Add(n), p.Add(n), p.Sub(n), at.Sub(n))
		if begun {
			c.corner(at, last, d, half)
		} else {
			begun, first = true, d
		}
		at, last = p, d
	}
	for _, p := range pts[1:] {
		to(p)
	}
	if closed && begun {
		to(pts[0])
		c.corner(at, last, first, half)
	}
}

// corner fills the outside of a turn at p from direction a to direction b.
func (c *Canvas) corner(p, a, b canvas.Point, half float64) {
	cross := a.Cross(b)
	turn := math.Abs(math.Atan2(cross, a.Dot(b)))
	if half*turn < slight {
		return
	}
	from, to := a.Left().Scale(half), b.Left().Scale(half)
	if cross > 0 { // the outside is on the other hand, and its arc is run through backwards
		from, to = to.Scale(-1), from.Scale(-1)
	}
	begin := len(c.corners)
	c.corners = append(c.corners, p, p.Add(from))
	steps := max(1, int(math.Ceil(turn*math.Sqrt(half)/1.2))) // off the circle by less than a fifth of a pixel
	for k := 1; k < steps; k++ {
		sin, cos := math.Sincos(-turn * float64(k) / float64(steps))
		c.corners = append(c.corners, p.Add(canvas.Point{X: from.X*cos - from.Y*sin, Y: from.X*sin + from.Y*cos}))
	}
	c.corners = append(c.corners, p.Add(to))
	c.add(begin)
}
