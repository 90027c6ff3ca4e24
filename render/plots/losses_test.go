package plots

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"

	"sextant/render"
	"sextant/render/golden"
)

// comparison is two bars and their curves, which meet.
func comparison() *Losses {
	l := &Losses{
		Title: "What the bridge turns to heat", Subtitle: []string{"an operating point", "in two lines"},
		Bars: []LossBar{
			{Name: "first", Note: "hottest junction 86 °C", Parts: []LossPart{{"channel", 560}, {"diode", 170}, {"turn-on", 140}, {"turn-off", 200}, {"recovery", 100}}},
			{Name: "second", Note: "hottest junction 77 °C", Parts: []LossPart{{"channel", 390}, {"diode", 0}, {"turn-on", 50}, {"turn-off", 34}, {"recovery", 9.4}}},
		},
		Curves: &LossCurves{Label: "carrier", Unit: "Hz", BreakEven: []LossMark{{18e3, 1000, "break-even 18 kHz"}}, Here: 10e3},
	}
	first, second := []float64{}, []float64{}
	for x := 2e3; x <= 40e3; x += 2e3 {
		l.Curves.X = append(l.Curves.X, x)
		first, second = append(first, 100+x/20), append(second, 820+x/100)
	}
	l.Curves.Watts = [][]float64{first, second}
	return l
}

func TestLossesGolden(t *testing.T) {
	l := comparison()
	l.Theme = render.Print
	golden.Matches(t, "losses", 640, 360, l.Draw)
	l.Theme, l.Curves = render.Dark, nil
	golden.Matches(t, "losses-bars", 300, 280, l.Draw)
}

// TestLossesScale: bars are as high as their heat, from one foot.
func TestLossesScale(t *testing.T) {
	l := comparison()
	l.Curves = nil
	var rec recorder.Canvas
	l.Draw(&rec, vg.Rectangle{Max: vg.Point{X: 600, Y: 400}})
	heights := map[vg.Length]float64{} // of the filled parts of a bar, by its left edge
	for _, a := range rec.Actions {
		f, ok := a.(*recorder.Stroke)
		if !ok || len(f.Path) != 5 {
			continue
		}
		low, high, left := math.Inf(1), math.Inf(-1), vg.Length(math.Inf(1))
		for _, c := range f.Path[:4] {
			low, high, left = min(low, float64(c.Pos.Y)), max(high, float64(c.Pos.Y)), min(left, c.Pos.X)
		}
		heights[left] += high - low
	}
	if len(heights) != 2 {
		t.Fatalf("%d bars", len(heights))
	}
	var lefts []vg.Length
	for x := range heights {
		lefts = append(lefts, x)
	}
	slices.Sort(lefts)
	got, want := heights[lefts[1]]/heights[lefts[0]], l.Bars[1].sum()/l.Bars[0].sum()
	if math.Abs(got-want) > 1e-9 {
		t.Errorf("the second bar is %g times as high as the first, its heat %g times as much", got, want)
	}
}

// TestLossesAnything: nothing that may be drawn stops the drawing.
func TestLossesAnything(t *testing.T) {
	all := []*Losses{{}, {Bars: []LossBar{{}}}, comparison(), comparison()}
	all[2].Curves.Watts = [][]float64{make([]float64, len(all[2].Curves.X)), make([]float64, len(all[2].Curves.X))}
	all[2].Curves.Here, all[2].Curves.Unit = math.NaN(), ""
	for range 20 {
		all[3].Bars = append(all[3].Bars, all[3].Bars[0])
	}
	for i, l := range all {
		for _, size := range []vg.Length{20, 200, 3000} {
			var rec recorder.Canvas
			l.Draw(&rec, vg.Rectangle{Max: vg.Point{X: size, Y: size}})
			if len(rec.Actions) == 0 {
				t.Errorf("%d draws nothing at %v", i, size)
			}
		}
	}
}
