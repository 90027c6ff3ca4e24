package canvas

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// A Place maps points of a drawing to pixels: x' = A x + C y + E, y' = B x + D y + F.
type Place struct{ A, B, C, D, E, F float64 }

// Apply returns where a point of the drawing lies.
func (m *Place) Apply(p vg.Point) Point {
	x, y := p.X.Points(), p.Y.Points()
	return Point{m.A*x + m.C*y + m.E, m.B*x + m.D*y + m.F}
}

// After returns the map that does n, then m.
func (m *Place) After(n Place) Place {
	return Place{
		m.A*n.A + m.C*n.B, m.B*n.A + m.D*n.B,
		m.A*n.C + m.C*n.D, m.B*n.C + m.D*n.D,
		m.A*n.E + m.C*n.F + m.E, m.B*n.E + m.D*n.F + m.F,
	}
}

// Magnification returns how many pixels a point of the drawing is long, the geometric mean where directions differ.
func (m *Place) Magnification() float64 { return math.Sqrt(math.Abs(m.A*m.D - m.B*m.C)) }
