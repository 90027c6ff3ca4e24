package mesh

import (
	"math"

	"sextant/render/canvas"
)

// A pen is the profile of a stroke across its width: full in the middle, fading to nothing at outer.
type pen struct {
	outer    float64
	coverage float64
	color    Color
}

// newPen returns the profile whose integral is the width: a hair-line keeps its share of ink.
func newPen(width float64, c Color) pen {
	return pen{outer: max(width, 1)/2 + 0.5, coverage: min(width, 1), color: c}
}

// Outer radii in pixels below which corners up to a right angle, as in square waves, are pointed, since a rounded one is
// hardly seen, and below which it is not seen either where such corners are nearer to each other than the line is wide.
const (
	thin = 4.5
	fine = 2
)

// A section is a cut through the stroke: its right edge and its left.
type section [2]uint32

// edge adds a vertex at the stroke's edge, across from p, whose left edge is at n; n may be longer than 1 to mitre a corner.
func (m *Mesh) edge(p, n canvas.Point, k *pen, across, coverage float64) uint32 {
	c := k.color
	c[3] *= float32(coverage)
	m.Vertices = append(m.Vertices, Vertex{
		X: float32(p.X + n.X*across), Y: float32(p.Y + n.Y*across),
		Across: float32(across), Reach: float32(k.outer), U: Plain, V: Plain, Color: c,
	})
	return uint32(len(m.Vertices) - 1)
}

// cut adds a section at p across the direction whose left is n.
func (m *Mesh) cut(p, n canvas.Point, k *pen, coverage float64) section {
	return section{m.edge(p, n, k, -k.outer, coverage), m.edge(p, n, k, k.outer, coverage)}
}

func (m *Mesh) join(a, b section) { m.quad(a[0], b[0], b[1], a[1]) }

// Stroke adds a line of the given width, in pixels, along pts; closed joins its end to its start. Ends are
// cut square at the end points, corners are rounded. Fewer than two distinct points, or no width, add
// nothing.
func (m *Mesh) Stroke(pts []canvas.Point, closed bool, width float64, c Color) {
	pts = m.distinct(pts, closed)
	n := len(pts)
	if n < 2 || !(width > 0) {
		return
	}
	closed = closed && n > 2
	k := newPen(width, c)

	var first, last section
	a := from(pts[0], pts[1])
	if closed {
		last, first = m.corner(pts[0], from(pts[n-1], pts[0]), a, &k)
	} else {
		first = m.end(pts[0], a, &k, 1)
	}
	at := first
	for i := 1; i < n; i++ {
		if i == n-1 && !closed {
			last = m.end(pts[i], a, &k, -1)
			break
		}
		b := from(pts[i], pts[(i+1)%n])
		in, out := m.corner(pts[i], a, b, &k)
		m.join(at, in)
		at, a = out, b
	}
	m.join(at, last)
}

// A side is the direction of a stretch between two points, and its length.
type side struct {
	canvas.Point
	length float64
}

func from(p, q canvas.Point) side {
	d := q.Sub(p)
	l := d.Abs()
	return side{d.Scale(1 / l), l}
}

// end adds the faded end of an open stroke at p and returns the section at which it is full. sign is 1 at
// the start and -1 at the end; the fade is over before t is.
func (m *Mesh) end(p canvas.Point, t side, k *pen, sign float64) section {
	fade := min(0.5, t.length/2)
	nothing := m.cut(p.Add(t.Point.Scale(-sign*fade)), t.Left(), k, 0)
	full := m.cut(p.Add(t.Point.Scale(sign*fade)), t.Left(), k, k.coverage)
	m.join(nothing, full)
	return full
}

// corner adds what turns the stroke from a to b at p, and returns the section that ends the one and the section
// that starts the other.
func (m *Mesh) corner(p canvas.Point, a, b side, k *pen) (in, out section) {
	const (
		slight = 0.8  // cosine of a turn that is mitred; the mitre is at most 5 % longer than the pen is wide
		middle = 0.5  // of one that a thin line may have, 15 % longer
		square = 0.05 // at most that of a right angle
	)
	cos, sin := a.Dot(b.Point), a.Cross(b.Point)
	pointed := k.outer < thin && (cos > middle || math.Abs(cos) < square)
	mitre := a.Add(b.Point).Left().Scale(1 / (1 + cos))
	// On the inside, a mitre takes of both stretches as much as its point goes beyond them on the outside. Of a fine line,
	// too much of that is less than is seen.
	fits := k.outer < fine || k.outer*math.Abs(sin)/(1+cos) <= min(a.length, b.length)/2
	if cos > slight || pointed && fits {
		s := m.cut(p, mitre, k, k.coverage)
		return s, s
	}
	in = m.cut(p, a.Left(), k, k.coverage)
	out = m.cut(p, b.Left(), k, k.coverage)

	// The outside of the turn is a fan between the two.
	outside, across := 0, -k.outer // a turn to the left has its outside on the right
	if sin < 0 {
		outside, across = 1, k.outer
	}
	hub, rim := m.edge(p, canvas.Point{}, k, 0, k.coverage), in[outside]
	if pointed {
		tip := m.edge(p, mitre, k, across, k.coverage)
		m.quad(hub, rim, tip, out[outside])
		return in, out
	}
	turn := math.Atan2(sin, cos)
	steps := int(math.Ceil(math.Abs(turn) / arcStep(k.outer)))
	left := a.Left()
	for i := 1; i < steps; i++ {
		s, c := math.Sincos(turn * float64(i) / float64(steps))
		next := m.edge(p, canvas.Point{X: c*left.X - s*left.Y, Y: s*left.X + c*left.Y}, k, across, k.coverage)
		m.triangle(hub, rim, next)
		rim = next
	}
	m.triangle(hub, rim, out[outside])
	return in, out
}

// arcStep returns the angle in radians that one chord of a circle of radius r pixels may span before it
// departs from the circle by a quarter of a pixel, half of which is in the faded edge.
func arcStep(r float64) float64 {
	const departure = 0.25
	return 2 * math.Acos(1-min(departure/max(r, departure), 0.5))
}
