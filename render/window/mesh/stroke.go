package mesh

import "math"

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

// thin is the outer radius in pixels below which nobody sees whether a corner is round.
const thin = 3

// A section is a cut through the stroke: its right edge and its left.
type section [2]uint32

// edge adds a vertex at the stroke's edge, across from p, whose left edge is at n; n may be longer than 1 to mitre a corner.
func (m *Mesh) edge(p, n Point, k *pen, across, coverage float64) uint32 {
	c := k.color
	c[3] *= float32(coverage)
	m.Vertices = append(m.Vertices, Vertex{
		X: float32(p.X + n.X*across), Y: float32(p.Y + n.Y*across),
		Across: float32(across), Reach: float32(k.outer), U: Plain, V: Plain, Color: c,
	})
	return uint32(len(m.Vertices) - 1)
}

// cut adds a section at p across the direction whose left is n.
func (m *Mesh) cut(p, n Point, k *pen, coverage float64) section {
	return section{m.edge(p, n, k, -k.outer, coverage), m.edge(p, n, k, k.outer, coverage)}
}

func (m *Mesh) join(a, b section) { m.quad(a[0], b[0], b[1], a[1]) }

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

	var first, at, last section
	start := pts[0].towards(pts[1])
	along := start // the direction of the segment that at starts
	if closed {
		last, first = m.corner(pts[0], pts[n-1].towards(pts[0]), start, &k)
	} else {
		first = m.end(pts[0], start, &k, 1, pts[1])
	}
	at = first
	for i := 1; i < n; i++ {
		if i == n-1 && !closed {
			last = m.end(pts[i], along, &k, -1, pts[i-1])
			break
		}
		next := pts[i].towards(pts[(i+1)%n])
		in, out := m.corner(pts[i], along, next, &k)
		m.join(at, in)
		at, along = out, next
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
		slight = -0.05 // a right angle too, as in square waves: the tip of its mitre is a pixel or two
	}
	cos := a.Dot(b)
	if cos > slight {
		n := a.Add(b).Left().Scale(1 / (1 + cos))
		s := m.cut(p, n, k, k.coverage)
		return s, s
	}
	in = m.cut(p, a.Left(), k, k.coverage)
	out = m.cut(p, b.Left(), k, k.coverage)

	// The outside of the turn is a fan between the two.
	sin := a.Cross(b)
	side, across := 0, -k.outer // a turn to the left has its outside on the right
	if sin < 0 {
		side, across = 1, k.outer
	}
	turn := math.Atan2(sin, cos)
	steps := int(math.Ceil(math.Abs(turn) / arcStep(k.outer)))
	hub := m.edge(p, Point{}, k, 0, k.coverage)
	left, rim := a.Left(), in[side]
	for i := 1; i < steps; i++ {
		s, c := math.Sincos(turn * float64(i) / float64(steps))
		next := m.edge(p, Point{c*left.X - s*left.Y, s*left.X + c*left.Y}, k, across, k.coverage)
		m.triangle(hub, rim, next)
		rim = next
	}
	m.triangle(hub, rim, out[side])
	return in, out
}

// arcStep returns the angle in radians that one chord of a circle of radius r pixels may span before it
// departs from the circle by a quarter of a pixel, half of which is in the faded edge.
func arcStep(r float64) float64 {
	const departure = 0.25
	return 2 * math.Acos(1-min(departure/max(r, departure), 0.5))
}
