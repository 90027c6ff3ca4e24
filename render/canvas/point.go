package canvas

import "math"

// A Point is a place in pixels; y may point either way.
type Point struct{ X, Y float64 }

// Add returns p + q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Sub returns p - q.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Scale returns s p.
func (p Point) Scale(s float64) Point { return Point{p.X * s, p.Y * s} }

// Dot returns the product of the lengths of p and q and the cosine of the angle between them.
func (p Point) Dot(q Point) float64 { return p.X*q.X + p.Y*q.Y }

// Cross returns the product of the lengths of p and q and the sine of the angle from p to q.
func (p Point) Cross(q Point) float64 { return p.X*q.Y - p.Y*q.X }

// Left returns p turned by a quarter from x towards y.
func (p Point) Left() Point { return Point{-p.Y, p.X} }

// Abs returns p's length.
func (p Point) Abs() float64 { return math.Sqrt(p.X*p.X + p.Y*p.Y) } // not Hypot: pixels neither overflow nor vanish
