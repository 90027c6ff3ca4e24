package mesh

import "math"

// A pen is the profile of a stroke across its width: full out to inner, nothing from outer on.
type pen struct {
	inner, outer, coverage float64
	color                  Color
}

// newPen returns the profile whose integral is the width, so that a hair-line keeps its share of ink. That
// of a fine line is a ridge without a flat top, which takes a third fewer triangles.
func newPen(width float64, c Color) pen {
	const fine = 1.6
	half := width / 2
	if width < fine {
		return pen{outer: max(width, 1), coverage: min(width, 1), color: c}
	}
	return pen{
		inner:    half - 0.5,
		outer:    half + 0.5,
		coverage: 1,
		color:    c,
	}
}

// thin is the outer radius in pixels below which nobody sees whether a corner is round.
const thin = 2

// A section is a cut through the stroke: four vertices from its right edge to its left, of which the middle
// two are one on a ridge.
type section [4]uint32

// cut adds a section at p across the direction whose left is n; n may be longer than 1 to mitre a corner.
func (m *Mesh) cut(p, n Point, k *pen, coverage float64) section {
	if k.inner == 0 {
		ridge := m.vertex(p, k.color, coverage)
		return section{m.vertex(p.at(n, -k.outer), k.color, 0), ridge, ridge, m.vertex(p.at(n, k.outer), k.color, 0)}
	}
	return section{
		m.vertex(p.at(n, -k.outer), k.color, 0),
		m.vertex(p.at(n, -k.inner), k.color, coverage),
		m.vertex(p.at(n, k.inner), k.color, coverage),
		m.vertex(p.at(n, k.outer), k.color, 0),
	}
}

func (m *Mesh) join(a, b section) {
	for i := range 3 {
		if a[i] != a[i+1] {
			m.quad(a[i], b[i], b[i+1], a[i+1])
		}
	}
}

// Stroke adds a line of the given width, in pixels, along pts; closed joins its end to its start. Ends are
// cut square at the end points, corners are rounded. Fewer than two distinct points, or no width, add
// nothing.
func (m *Mesh) Stroke(pts []Point, closed bool, width float64, c Color) {
	pts = m.distinct(pts, closed)
	n := len(pts)
	if n < 2 || !(width > 0) {
		return
	}
	closed = closed && n > 2
	k := newPen(width, c)
	segments := n - 1
	if closed {
		segments = n
	}
	tangent := func(i int) Point { return pts[i%n].towards(pts[(i+1)%n]) }

	var first, last section
	if closed {
		first, last = m.corner(pts[0], tangent(n-1), tangent(0), &k)
		first, last = last, first // the corner is left by its second section and come back to by its first
	} else {
		first = m.end(pts[0], tangent(0), &k, 1, pts[1])
	}
	at := first
	for i := 1; i < segments; i++ {
		in, out := m.corner(pts[i], tangent(i-1), tangent(i), &k)
		m.join(at, in)
		at = out
	}
	if !closed {
		last = m.end(pts[n-1], tangent(n-2), &k, -1, pts[n-2])
	}
	m.join(at, last)
}

// end adds the faded end of an open stroke at p and returns the section at which it is full. sign is 1 at
// the start and -1 at the end; next is the neighbouring point, before which the fade must be over.
func (m *Mesh) end(p, t Point, k *pen, sign float64, next Point) section {
	fade := min(0.5, next.Sub(p).Abs()/2)
	nothing := m.cut(p.at(t, -sign*fade), t.Left(), k, 0)
	full := m.cut(p.at(t, sign*fade), t.Left(), k, k.coverage)
	m.join(nothing, full)
	return full
}

// corner adds what turns the stroke from direction a to direction b at p, and returns the section that
// ends the one side and the section that starts the other: the same one where a slight turn is mitred.
func (m *Mesh) corner(p, a, b Point, k *pen) (in, out section) {
	slight := 0.8 // cosine of the turn; the mitre is then at most 5 % longer than the pen is wide
	if k.outer < thin {
		slight = -0.05 // a right angle too, as in square waves: the tip of its mitre is part of a pixel
	}
	if cos := a.Dot(b); cos > slight {
		n := a.Add(b).Left().Scale(1 / (1 + cos))
		s := m.cut(p, n, k, k.coverage)
		return s, s
	}
	in = m.cut(p, a.Left(), k, k.coverage)
	out = m.cut(p, b.Left(), k, k.coverage)

	// The outside of the turn is a fan: full to the inner radius, faded to the outer.
	side := -1.0 // a turn to the left has its outside on the right
	if a.Cross(b) < 0 {
		side = 1
	}
	from := a.Left().Scale(side)
	turn := math.Atan2(a.Cross(b), a.Dot(b))
	steps := max(1, int(math.Ceil(math.Abs(turn)/arcStep(k.outer))))
	hub := m.vertex(p, k.color, k.coverage)
	var rim, edge uint32
	for i := range steps + 1 {
		sin, cos := math.Sincos(turn * float64(i) / float64(steps))
		n := Point{cos*from.X - sin*from.Y, sin*from.X + cos*from.Y}
		nextRim := m.vertex(p.at(n, k.inner), k.color, k.coverage)
		nextEdge := m.vertex(p.at(n, k.outer), k.color, 0)
		if i > 0 {
			m.triangle(hub, rim, nextRim)
			m.quad(rim, edge, nextEdge, nextRim)
		}
		rim, edge = nextRim, nextEdge
	}
	return in, out
}

// arcStep returns the angle in radians that one chord of a circle of radius r pixels may span before it
// departs from the circle by an eighth of a pixel.
func arcStep(r float64) float64 {
	const departure = 0.125
	return 2 * math.Acos(1-min(departure/max(r, departure), 0.5))
}
