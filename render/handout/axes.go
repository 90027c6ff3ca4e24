package handout

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// A tick is a place on an axis with what is written there; minor ones have nothing.
type tick struct {
	at    float64
	label string
}

// ticks returns round places from one number to another, up to about so many, of which all or every second
// are labelled.
func ticks(from, to float64, about int) (all []tick) {
	least := (to - from) / float64(about)
	power := math.Floor(math.Log10(least))
	step := 10 * math.Pow(10, power)
	for _, m := range []float64{5, 2, 1} {
		if x := m * math.Pow(10, power); x >= least*0.999 {
			step = x
		}
	}
	every := 2.0
	if (to-from)/step < 7 {
		every = 1
	}
	decimals := max(0, -int(math.Floor(math.Log10(every*step)+1e-9)))
	for k := math.Ceil(from/step - 1e-9); k*step <= to*(1+1e-9); k++ {
		t := tick{at: k * step}
		if math.Mod(k, every) == 0 {
			t.label = decimal(t.at, decimals)
		}
		all = append(all, t)
	}
	return all
}

// axes are a grid to draw on.
type axes struct {
	pen
	area           vg.Rectangle
	x0, x1, y0, y1 float64
}

func (a *axes) at(x, y float64) vg.Point {
	return vg.Point{
		X: a.area.Min.X + vg.Length((x-a.x0)/(a.x1-a.x0))*a.area.Size().X,
		Y: a.area.Min.Y + vg.Length((y-a.y0)/(a.y1-a.y0))*a.area.Size().Y,
	}
}

// grid draws lines at the ticks, stronger ones where they are labelled, and the zero of y.
func (a *axes) grid(xs, ys []tick) {
	for _, t := range xs {
		a.line(a.weight(t), theme.Rule(), a.at(t.at, a.y0), a.at(t.at, a.y1))
	}
	for _, t := range ys {
		a.line(a.weight(t), theme.Rule(), a.at(a.x0, t.at), a.at(a.x1, t.at))
	}
	if a.y0 < 0 && a.y1 > 0 {
		a.line(0.7, theme.Muted(), a.at(a.x0, 0), a.at(a.x1, 0))
	}
	a.box(0.7, theme.Text(), a.area)
}

func (a *axes) weight(t tick) vg.Length {
	if t.label == "" {
		return 0.3
	}
	return 0.6
}

// below labels the x axis, left of the y axis labels that.
func (a *axes) below(ticks []tick) {
	for _, t := range ticks {
		plain(figureText).place(a, centre, a.at(t.at, 0).X, a.area.Min.Y-7, t.label)
	}
}

func (a *axes) left(ticks []tick) {
	for _, t := range ticks {
		plain(figureText).place(a, right, a.area.Min.X-4, a.at(0, t.at).Y, t.label)
	}
}

// steps returns the points of a wave that is level between edges.
func (a *axes) steps(edges, levels []float64) (points []vg.Point) {
	for i, x := range edges {
		end := a.x1
		if i+1 < len(edges) {
			end = edges[i+1]
		}
		points = append(points, a.at(x, levels[i]), a.at(end, levels[i]))
	}
	return points
}
