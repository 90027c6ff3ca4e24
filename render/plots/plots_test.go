package plots

import (
	"image/color"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"

	"sextant/motor/drive"
	"sextant/motor/scenario"
	"sextant/render"
)

func TestCurveKeepsExtremes(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	var c curve
	least, most := map[float64]float64{}, map[float64]float64{}
	const columns, each = 50, 1000
	for k := range columns * each {
		column := float64(k / each)
		y := random.NormFloat64()
		if k%each == 0 {
			least[column], most[column] = y, y
		}
		least[column], most[column] = min(least[column], y), max(most[column], y)
		c.add(column, point{float64(k) / each, y})
	}
	if len(c.points) > columns*(4*fewEnough+1) {
		t.Errorf("%d points kept of %d columns", len(c.points), columns)
	}
	got := map[float64][2]float64{}
	for i, p := range c.points {
		if i > 0 && p.t < c.points[i-1].t {
			t.Fatalf("time runs back at %g", p.t)
		}
		column := math.Floor(p.t)
		b, ok := got[column]
		if !ok {
			b = [2]float64{p.y, p.y}
		}
		got[column] = [2]float64{min(b[0], p.y), max(b[1], p.y)}
	}
	for column := range least {
		if got[column] != [2]float64{least[column], most[column]} {
			t.Errorf("column %g shows %v, its wave runs from %g to %g", column, got[column], least[column], most[column])
		}
	}
}

// record runs a built-in scenario.
func record(t *testing.T, name string, width int) *Figure {
	t.Helper()
	s, err := scenario.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	r := NewRecorder(&s, width)
	sum, err := drive.Simulate(s, r)
	if err != nil {
		t.Fatal(err)
	}
	if err := r.Err(); err != nil {
		t.Fatal(err)
	}
	return &Figure{Record: r, Summary: sum, Theme: render.Print}
}

// The levels of a phase in six-step are a third and two thirds of the supply: Mohan, Undeland, Robbins, Power
// Electronics, 3rd ed., section 8-4-2. Steps are upright: two points at every one of the six instants.
func TestStepsAreSteps(t *testing.T) {
	f := record(t, "passive-rl", 1000)
	jumps := 0
	points := f.Record.panels[0].curves[0].points
	for i, p := range points {
		if level := math.Abs(p.y) / 16; math.Abs(level-1) > 1e-9 && math.Abs(level-2) > 1e-9 {
			t.Errorf("phase U at %g V with a supply of 48 V", p.y)
		}
		if i > 0 && !same(p.y, points[i-1].y) {
			jumps++
			if p.t != points[i-1].t {
				t.Errorf("the step from %g to %g V is not upright", points[i-1].y, p.y)
			}
		}
	}
	if jumps != 6 {
		t.Errorf("%d steps in a turn, want 6", jumps)
	}
}

func TestWidthBoundsMemory(t *testing.T) {
	f := record(t, "hauler-pwm", 100)
	for _, p := range f.Record.panels {
		for _, l := range p.curves {
			if n := len(l.points); n > 101*(4*fewEnough+1) {
				t.Errorf("%s: %d points for 100 columns", p.caption, n)
			}
		}
	}
}

func TestDrawSaysWhatItShows(t *testing.T) {
	for _, theme := range render.Themes {
		for _, size := range []vg.Point{{X: 1200, Y: 900}, {X: 150, Y: 150}, {X: 300, Y: 650}, {X: 3000, Y: 300}} {
			f := record(t, "hauler-pwm", int(size.X))
			f.Theme = theme
			texts := drawn(t, size, f.Draw)
			for _, want := range []string{
				"Hauler on the level: 58 N m at 3000 rpm", "Phase voltages, terminal to star point, in V", "Phase currents, into the machine, in A",
				"Torque, in N m", "Link current, into the bridge, in A", "time in ms", "U", "V", "W", "mean", "57.54", "155", "–100",
			} {
				if size.X == 1200 && !texts[want] {
					t.Errorf("%v: nothing says %q", theme, want)
				}
			}
		}
	}
}

// drawn draws and returns the texts in the picture, all of which, like all lines, must lie within the picture.
func drawn(t *testing.T, size vg.Point, draw func(vg.Canvas, vg.Rectangle)) map[string]bool {
	t.Helper()
	var c recorder.Canvas
	draw(&c, vg.Rectangle{Max: size})
	texts := map[string]bool{}
	within := func(p vg.Point, what string) {
		if !(p.X >= -1 && p.X <= size.X+1 && p.Y >= -1 && p.Y <= size.Y+1) {
			t.Errorf("%s at %v is outside a picture of %v", what, p, size)
		}
	}
	for _, a := range c.Actions {
		switch a := a.(type) {
		case *recorder.FillString:
			texts[a.String] = true
			within(a.Point, a.String)
			if strings.Contains(a.String, "NaN") || strings.Contains(a.String, "Inf") {
				t.Errorf("a text reads %q", a.String)
			}
		case *recorder.Stroke:
			for _, p := range a.Path {
				within(p.Pos, "a line")
			}
		}
	}
	return texts
}

func TestEveryBuiltInIsDrawn(t *testing.T) {
	for _, name := range scenario.Names() {
		if texts := drawn(t, vg.Point{X: 600, Y: 450}, record(t, name, 400).Draw); !texts["U"] {
			t.Errorf("%s: no curve is named", name)
		}
	}
}

func TestMarks(t *testing.T) {
	for _, tt := range []struct {
		low, high float64
		about     int
		want      string
	}{
		{0, 10, 5, "0 2 4 6 8 10"},
		{-132, 132, 3, "–100 0 100"},
		{0.15, 0.17, 4, "0.150 0.155 0.160 0.165 0.170"},
		{-0.3, 0.3, 3, "–0.2 0.0 0.2"},
		{150, 170, 4, "150 155 160 165 170"},
	} {
		var got []string
		for _, m := range marks(tt.low, tt.high, tt.about) {
			got = append(got, m.Label)
		}
		if s := strings.Join(got, " "); s != tt.want {
			t.Errorf("%g to %g: %s, want %s", tt.low, tt.high, s, tt.want)
		}
	}
}

func TestSpread(t *testing.T) {
	labels := []label{{50, 0}, {50, 1}, {51, 2}}
	spread(labels, 10, 0, 60)
	for i := 1; i < len(labels); i++ {
		if gap := labels[i].y - labels[i-1].y; gap < 9 { // of 10, by halves
			t.Errorf("labels %v lie %v apart", labels, gap)
		}
	}
	for _, l := range labels {
		if l.y < 0 || l.y > 60 {
			t.Errorf("label at %v lies outside", l.y)
		}
	}
}

// WCAG 2.2, success criterion 1.4.11: what is drawn has a contrast of 3:1 to what it is drawn on.
func TestPaleIsSeen(t *testing.T) {
	for _, theme := range render.Themes {
		sh := &sheet{Figure: &Figure{Theme: theme}}
		a, b := luminance(sh.inkOf(&line{pale: true})), luminance(theme.Ground())
		if ratio := (max(a, b) + 0.05) / (min(a, b) + 0.05); ratio < 3 {
			t.Errorf("%v: contrast of %.2f", theme, ratio)
		}
	}
}

// luminance is the relative luminance of WCAG 2.2.
func luminance(c color.Color) float64 {
	linear := func(v uint32) float64 {
		if x := float64(v) / 0xffff; x > 0.04045 {
			return math.Pow((x+0.055)/1.055, 2.4)
		} else {
			return x / 12.92
		}
	}
	r, g, b, _ := c.RGBA()
	return 0.2126*linear(r) + 0.7152*linear(g) + 0.0722*linear(b)
}
