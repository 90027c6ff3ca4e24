package chart

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"

	"sextant/render"
	"sextant/render/golden"
)

func exampleSheet() *Sheet {
	return &Sheet{
		Title: "What goes with what", Lead: []string{"First things first."},
		Groups: []Group{
			{Name: "morning", Columns: []string{"a heading of several words", "short"}},
			{Name: "evening", Columns: []string{"late"}},
		},
		Rows: []Row{
			{Name: "one", Note: "5 V", Marks: []Mark{Full, Ring, Blank}},
			{Name: "two <b>", Marks: []Mark{First, Blank, Second}},
		},
		Letters: [2]string{"M", "G"}, Legend: []string{"the marks"}, Theme: render.Print,
	}
}

func exampleCompared() *Compared {
	waves := func(part float64) (w Waves) {
		for k := range 200 {
			t := float64(k) / 1e4
			w.Time = append(w.Time, t)
			for p := range w.Current {
				w.Current[p] = append(w.Current[p], part*100*math.Cos(2*math.Pi*(100*t-float64(p)/3)))
			}
			w.Torque = append(w.Torque, 50*part)
		}
		return w
	}
	start := &Start{Needed: 5, Dead: [][2]float64{{70, 110}, {340, 20}}}
	for k := range 36 {
		a := 5 + 10*float64(k)
		start.Angles = append(start.Angles, a)
		start.Healthy = append(start.Healthy, 50)
		start.Faulty = append(start.Faulty, 50*math.Pow(math.Cos(a*math.Pi/180), 2))
	}
	return &Compared{Title: "An example", Lines: []string{"First things first."}, State: "motoring", Healthy: waves(1), Faulty: waves(0.5), Start: start, Theme: render.Print}
}

func words(draw func(vg.Canvas, vg.Rectangle)) (all []string) {
	var rec recorder.Canvas
	draw(&rec, vg.Rectangle{Max: vg.Point{X: 800, Y: 560}})
	for _, a := range rec.Actions {
		if s, ok := a.(*recorder.FillString); ok {
			all = append(all, s.String)
		}
	}
	return all
}

func TestDrawingsSayWhatTheyShow(t *testing.T) {
	said := words(exampleSheet().Draw)
	for _, want := range []string{"What goes with what", "First things first.", "morning", "evening", "a heading of", "several words", "short", "one", "5 V", "M", "G", "the marks"} {
		if !slices.Contains(said, want) {
			t.Errorf("the sheet does not say %q: %q", want, said)
		}
	}
	said = words(exampleCompared().Draw)
	for _, want := range []string{"An example", "First things first.", "Healthy, motoring: phase currents, A", "With the fault, motoring: torque, N m", "U", "V", "W", "needed", "360"} {
		if !slices.Contains(said, want) {
			t.Errorf("the comparison does not say %q: %q", want, said)
		}
	}
}

func TestHTML(t *testing.T) {
	var b bytes.Buffer
	if err := exampleSheet().HTML(&b); err != nil {
		t.Fatal(err)
	}
	page := b.String()
	for want, n := range map[string]int{"●": 1, "○": 1, ">M</td>": 1, ">G</td>": 1, "<tr>": 4, "two &lt;b&gt;": 1, `colspan="2"`: 1} {
		if got := strings.Count(page, want); got != n {
			t.Errorf("%q stands %d times on the page, want %d", want, got, n)
		}
	}
}

func TestGolden(t *testing.T) {
	for name, draw := range map[string]func(vg.Canvas, vg.Rectangle){"sheet": exampleSheet().Draw, "compared": exampleCompared().Draw} {
		golden.Matches(t, name, 480, 340, draw)
	}
}
