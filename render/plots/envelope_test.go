package plots

import (
	"math"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"

	"sextant/render"
	"sextant/render/golden"
)

// area returns that of closed polygons that turn counter-clockwise, by the shoelace formula.
func area(path vg.Path) float64 {
	var sum float64
	var first, last vg.Point
	for _, c := range path {
		switch c.Type {
		case vg.MoveComp:
			first, last = c.Pos, c.Pos
		case vg.LineComp:
			sum += float64(last.X*c.Pos.Y-c.Pos.X*last.Y) / 2
			last = c.Pos
		case vg.CloseComp:
			sum += float64(last.X*first.Y-first.X*last.Y) / 2
		}
	}
	return sum
}

// cone is a mesh of a height that falls evenly from the middle of a disc, on columns whose rows follow the
// disc's edge.
func cone(n int) *mesh {
	m := &mesh{}
	for i := range n + 1 {
		x := -1 + 2*float64(i)/float64(n)
		var ys []vg.Length
		var zs []float64
		for j := range n + 1 {
			y := math.Sqrt(1-x*x) * (-1 + 2*float64(j)/float64(n))
			ys, zs = append(ys, vg.Length(y)), append(zs, 1-math.Hypot(x, y))
		}
		m.x, m.y, m.z = append(m.x, vg.Length(x)), append(m.y, ys), append(m.z, zs)
	}
	return m
}

// Above a level z a cone is a disc of radius 1 - z, whose area and edge are known.
func TestMeshAbove(t *testing.T) {
	m := cone(200)
	for _, level := range []float64{0.2, 0.5, 0.9} {
		r := 1 - level
		if got := area(m.above(level)); math.Abs(got-math.Pi*r*r) > 2e-3 {
			t.Errorf("above %g: area %g, want %g", level, got, math.Pi*r*r)
		}
		length := 0.0
		for _, s := range m.line(level) {
			length += math.Hypot(float64(s.a.X-s.b.X), float64(s.a.Y-s.b.Y))
			if d := math.Hypot(float64(s.a.X), float64(s.a.Y)); math.Abs(d-r) > 2e-3 {
				t.Fatalf("the line of %g passes at a distance of %g", level, d)
			}
		}
		if math.Abs(length-2*math.Pi*r) > 1e-2 {
			t.Errorf("line of %g: length %g, want %g", level, length, 2*math.Pi*r)
		}
	}
	if p := m.above(2); len(p) != 0 {
		t.Errorf("above all: %v", p)
	}
}

// envelopeExample is not of any machine: a hill of efficiency between limits of torque that fall.
func envelopeExample(theme render.Theme) *Envelope {
	e := &Envelope{Title: "An example", Subtitle: []string{"supply 350 V"}, Theme: theme}
	for i := range 41 {
		x := 200 * float64(i)
		limit := 100 * math.Min(1, 4000/max(x, 1))
		var ts, zs []float64
		for j := range 41 {
			u := float64(j-20) / 20
			ts = append(ts, limit*u)
			zs = append(zs, 97*math.Abs(u)*x/(math.Abs(u)*x+300)-3*u*u)
		}
		e.Speed, e.Torque, e.Efficiency = append(e.Speed, x), append(e.Torque, ts), append(e.Efficiency, zs)
	}
	e.Marks = []SpeedMark{{Speed: 4000, Name: "corner 4000 rpm"}, {Speed: 6000, Name: "EMF exceeds the supply above 6000 rpm", Warns: true}, {Speed: 1e6, Name: "out of sight"}}
	circle := DQLine{Name: "4000 rpm"}
	for k := range 61 {
		sin, cos := math.Sincos(float64(k) * math.Pi / 30)
		circle.D, circle.Q = append(circle.D, -120+150*cos), append(circle.Q, 150*sin)
	}
	e.Plane = CurrentPlane{
		Limit: 200, Ellipses: []DQLine{circle},
		Courses: []DQLine{{D: []float64{0, 0, -120}, Q: []float64{0, 200, 160}}},
		Marks:   []DQMarked{{Name: "most torque per ampere", Q: 200}, {Name: "far away", D: -5000}},
	}
	return e
}

func courseExample(theme render.Theme) *Course {
	c := &Course{Title: "A cycle", Theme: theme, About: []string{"mean over the cycle"}}
	var speed, a, b []float64
	for k := range 200 {
		x := float64(k)
		c.Time = append(c.Time, 5*x)
		speed, a, b = append(speed, 30*math.Sin(x/30)), append(a, 400+300*math.Sin(x/15)), append(b, 150+100*math.Sin(x/15))
	}
	c.Panels = []CoursePanel{
		{Caption: "Road speed", Unit: "km/h", Weight: 1, Zero: true, Curves: []CourseCurve{{Values: speed}}},
		{Caption: "Heat of the bridge", Unit: "W", Weight: 1.5, Zero: true, Curves: []CourseCurve{{Name: "one", Rank: 1, Values: a}, {Name: "other", Rank: 2, Values: b}}},
	}
	c.Bars = []LossBar{
		{Name: "one", Note: "net 3 kWh", Parts: []LossPart{{"switch", 200}, {"diode", 150}}},
		{Name: "other", Note: "net 2 kWh", Parts: []LossPart{{"switch", 100}, {"diode", 20}}},
	}
	return c
}

// All that is said lies within the picture, in every theme and size; what is out of sight is not said.
func TestEnvelopeAndCourseStayWithin(t *testing.T) {
	for _, theme := range render.Themes {
		for _, size := range []vg.Point{{X: 1200, Y: 700}, {X: 300, Y: 300}, {X: 400, Y: 1000}} {
			texts := drawn(t, size, envelopeExample(theme).Draw)
			for _, want := range []string{"An example", "speed in rpm", "torque in N m", "id in A", "iq in A", "90"} {
				if !texts[want] {
					t.Errorf("%v, %v: nothing says %q", theme, size, want)
				}
			}
			if texts["out of sight"] || texts["far away"] {
				t.Error("what is out of sight is said")
			}
			texts = drawn(t, size, courseExample(theme).Draw)
			for _, want := range []string{"A cycle", "Road speed, in km/h", "time in s", "one", "other", "350 W"} {
				if !texts[want] {
					t.Errorf("%v, %v: nothing says %q", theme, size, want)
				}
			}
		}
	}
}

func TestGoldenEnvelopeAndCourse(t *testing.T) {
	golden.Matches(t, "envelope", 640, 360, envelopeExample(render.Print).Draw)
	golden.Matches(t, "envelope-dark", 640, 360, envelopeExample(render.Dark).Draw)
	golden.Matches(t, "course", 560, 360, courseExample(render.Print).Draw)
}

func BenchmarkEnvelopePicture(b *testing.B) {
	e := envelopeExample(render.Print)
	b.ReportAllocs()
	for range b.N {
		var c recorder.Canvas
		e.Draw(&c, vg.Rectangle{Max: vg.Point{X: 1200, Y: 700}})
	}
}
