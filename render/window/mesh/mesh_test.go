package mesh

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sextant/render/canvas"
)

// ink returns the integral of the opacity over the mesh. Triangles are cut where the clamp of coverage bends; within
// a piece opacity is the product of two linear functions, whose mean is that of its values half-way along the sides.
func ink(m *Mesh) float64 {
	sum := 0.0
	for i := 0; i < len(m.Indices); i += 3 {
		sum += inkOf([3]Vertex{m.Vertices[m.Indices[i]], m.Vertices[m.Indices[i+1]], m.Vertices[m.Indices[i+2]]})
	}
	return sum
}

func inkOf(t [3]Vertex) float64 {
	bends := []func(Vertex) float64{
		func(v Vertex) float64 { return float64(v.Across) },
		func(v Vertex) float64 { return float64(v.Across - v.Reach) },
		func(v Vertex) float64 { return float64(v.Across + v.Reach) },
		func(v Vertex) float64 { return float64(v.Across - v.Reach + 1) },
		func(v Vertex) float64 { return float64(v.Across + v.Reach - 1) },
	}
	for _, at := range bends {
		for k := range t {
			a, b, c := t[k], t[(k+1)%3], t[(k+2)%3]
			fa, fb := at(a), at(b)
			const touching = 1e-4
			if min(fa, fb) < -touching && max(fa, fb) > touching {
				cut := between(a, b, fa/(fa-fb))
				return inkOf([3]Vertex{a, cut, c}) + inkOf([3]Vertex{cut, b, c})
			}
		}
	}
	area := math.Abs(float64((t[1].X-t[0].X)*(t[2].Y-t[0].Y)-(t[2].X-t[0].X)*(t[1].Y-t[0].Y))) / 2
	mean := 0.0
	for k := range t {
		v := between(t[k], t[(k+1)%3], 0.5)
		mean += float64(v.Color[3]) * min(max(float64(v.Reach)-math.Abs(float64(v.Across)), 0), 1) / 3
	}
	return area * mean
}

// between returns the vertex a share of the way from a to b.
func between(a, b Vertex, share float64) Vertex {
	s := float32(share)
	a.X += s * (b.X - a.X)
	a.Y += s * (b.Y - a.Y)
	a.Across += s * (b.Across - a.Across)
	a.Reach += s * (b.Reach - a.Reach)
	a.Color[3] += s * (b.Color[3] - a.Color[3])
	return a
}

var black = Color{0, 0, 0, 1}

// through returns the points whose x and y are listed one after the other.
func through(xy ...float64) (pts []canvas.Point) {
	for i := 0; i < len(xy); i += 2 {
		pts = append(pts, canvas.Point{X: xy[i], Y: xy[i+1]})
	}
	return pts
}

// A soft edge one pixel wide is the mean of outlines moved by t from -1/2 to 1/2. Moving adds t times the
// perimeter, which averages out, and t² times the sum of tan(half the turn) at the corners, whose mean is
// a twelfth of that sum.
func TestFillInk(t *testing.T) {
	tests := []struct {
		name    string
		outline []canvas.Point
		area    float64
		corners float64 // sum of tan(turn/2), negative at hollow corners
	}{
		{"square", through(0, 0, 10, 0, 10, 10, 0, 10), 100, 4},
		{"square the other way round", through(0, 10, 10, 10, 10, 0, 0, 0), 100, 4},
		{"closed by hand", through(0, 0, 10, 0, 10, 10, 0, 10, 0, 0), 100, 4},
		{"right triangle", through(0, 0, 30, 0, 0, 30), 450, 1 + 2*math.Tan(math.Pi*3/8)},
		{"square on its corner", through(10, 0, 20, 10, 10, 20, 0, 10), 200, 4},
		{"L", through(0, 0, 20, 0, 20, 10, 10, 10, 10, 20, 0, 20), 300, 5 - 1},
	}
	for _, tt := range tests {
		var m Mesh
		if !m.Fill(tt.outline, black) {
			t.Errorf("%s: not filled", tt.name)
			continue
		}
		want := tt.area + tt.corners/12
		if got := ink(&m); !scalar.EqualWithinRel(got, want, 1e-5) {
			t.Errorf("%s: ink %.4f, want %.4f", tt.name, got, want)
		}
	}
}

func TestFillThin(t *testing.T) {
	for _, width := range []float64{0.05, 0.3, 0.8} {
		var m Mesh
		m.Fill(through(0, 0, 200, 0, 200, width, 0, width), black)
		if got, want := ink(&m), 200*width; !scalar.EqualWithinRel(got, want, 0.02) {
			t.Errorf("bar %g pixels thin: ink %.3f, want about %.3f", width, got, want)
		}
	}
}

func TestFillRefusesCrossing(t *testing.T) {
	var m Mesh
	if m.Fill(through(0, 0, 10, 10, 10, 0, 0, 10), black) {
		t.Error("an outline in the shape of an hour-glass was filled")
	}
	if !m.Fill(through(1, 1, 1, 1, 5, 5), black) || len(m.Indices) != 0 {
		t.Error("two points enclose something")
	}
}

func TestStrokeInk(t *testing.T) {
	for _, width := range []float64{0.25, 1, 2.5, 9} {
		var m Mesh
		m.Stroke(through(0, 0, 30, 40), false, width, black)
		if got, want := ink(&m), 50*width; !scalar.EqualWithinRel(got, want, 1e-5) {
			t.Errorf("line 50 long, %g wide: ink %.4f, want %.4f", width, got, want)
		}
	}
	var m Mesh
	var circle []canvas.Point
	for i := range 400 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 400)
		circle = append(circle, canvas.Point{X: 100 * cos, Y: 100 * sin})
	}
	m.Stroke(circle, true, 6, black)
	if got, want := ink(&m), 2*math.Pi*100*6; !scalar.EqualWithinRel(got, want, 1e-3) {
		t.Errorf("ring: ink %.2f, want %.2f", got, want)
	}
}

// A square wave of thin lines has mitred corners, of thick ones rounded ones. What is drawn double on the inside of a
// rounded one is no more than a square of half the width, here in 18 corners.
func TestStrokeCorners(t *testing.T) {
	for _, width := range []float64{1.5, 4, 9} {
		var pts []canvas.Point
		for i := range 10 {
			y := float64(i % 2 * 40)
			pts = append(pts, through(float64(40*i), y, float64(40*(i+1)), y)...)
		}
		var m Mesh
		m.Stroke(pts, false, width, black)
		length := 10*40 + 9*40.0
		if got, want := ink(&m), length*width; !scalar.EqualWithinAbs(got, want, 18*width*width/4+1) {
			t.Errorf("square wave %g wide: ink %.2f, want about %.2f", width, got, want)
		}
	}
}

// A stroke takes two vertices and one pair of triangles a point: that is what a frame costs.
func TestStrokeIsLean(t *testing.T) {
	pts := make([]canvas.Point, 100)
	for i := range pts {
		pts[i] = canvas.Point{X: float64(10 * i), Y: float64(i % 2)}
	}
	var m Mesh
	m.Stroke(pts, false, 4, black)
	if v, i := len(m.Vertices), len(m.Indices); v > 2*100+4 || i > 6*101 {
		t.Errorf("%d vertices and %d indices for a line through 100 points", v, i)
	}
}

func TestPicture(t *testing.T) {
	var m Mesh
	m.Picture([4]canvas.Point(through(0, 0, 8, 0, 8, 5, 0, 5)), 10, 20, 18, 25, Color{0, 0, 0, 0.5})
	if got := ink(&m); got != 20 {
		t.Errorf("ink %g of a picture of 8 by 5 pixels at half opacity", got)
	}
	if v := m.Vertices[2]; v.U != 18 || v.V != 25 {
		t.Errorf("the corner at 8, 5 shows %g, %g of the picture", v.U, v.V)
	}
}

func TestStrokeNothing(t *testing.T) {
	var m Mesh
	m.Stroke(through(3, 3, 3, 3), true, 2, black)
	m.Stroke(through(0, 0, 9, 9), false, 0, black)
	if len(m.Indices) != 0 {
		t.Errorf("%d indices for a point and for a line without width", len(m.Indices))
	}
}

func BenchmarkStroke(b *testing.B) {
	pts := make([]canvas.Point, 1000)
	for i := range pts {
		pts[i] = canvas.Point{X: float64(i), Y: 50 * math.Sin(float64(i)/20)}
	}
	var m Mesh
	b.ReportAllocs()
	for b.Loop() {
		m.Reset()
		m.Stroke(pts, false, 1.5, black)
	}
}
