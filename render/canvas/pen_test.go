package canvas

import (
	"math"
	"testing"

	"gonum.org/v1/plot/vg"
)

// What is said last happens first: a drawing that is to be moved, then turned, then scaled is scaled first, then turned by
// the matrix of a rotation, then moved.
func TestPlaceOfPen(t *testing.T) {
	p := Pen{Place: Place{A: 1, D: -1, F: 100}} // 100 pixels tall, y down
	p.Translate(vg.Point{X: 10, Y: 20})
	p.Rotate(math.Pi / 6)
	p.Scale(2, 3)
	const x, y = 4, 5
	sin, cos := math.Sincos(math.Pi / 6)
	want := Point{10 + cos*2*x - sin*3*y, 100 - (20 + sin*2*x + cos*3*y)}
	if got := p.Place.Apply(vg.Point{X: x, Y: y}); got.Sub(want).Abs() > 1e-12 {
		t.Errorf("the point lies at %v, want %v", got, want)
	}
	if got, want := p.Place.Magnification(), math.Sqrt(6); math.Abs(got-want) > 1e-12 {
		t.Errorf("a point is %g pixels long, want %g", got, want)
	}
}

// Dashes that are all empty would never end.
func TestPenWithoutDashes(t *testing.T) {
	var p Pen
	p.SetLineDash([]vg.Length{2, 1}, 3)
	if p.Dashes == nil || p.Offset != 3 {
		t.Errorf("dashes %v from %g", p.Dashes, p.Offset)
	}
	for _, none := range [][]vg.Length{nil, {}, {0, 0}} {
		if p.SetLineDash(none, 0); p.Dashes != nil {
			t.Errorf("dashes %v of lengths %v", p.Dashes, none)
		}
	}
}
