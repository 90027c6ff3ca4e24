package handout

import (
	"fmt"

	"gonum.org/v1/plot/vg"

	"sextant/inverter"
)

// waves is gate signals over a grid, on which voltages are to be sketched.
type waves struct {
	axis   string // what runs along the grid, with its unit
	x0, x1 float64
	ticks  []tick
	edges  []float64 // the first is x0
	gates  []inverter.Gates
	shown  []inverter.Switch // whose signals are drawn
	lanes  []lane
	levels []tick  // of all lanes, labelled at halves of the supply
	most   float64 // that a lane shows, V
}

// A lane is a voltage to be sketched.
type lane struct {
	name   string
	phase  inverter.Phase
	values []float64 // V, from each edge on
}

const (
	waveGutter = vg.Length(66)
	gateRow    = vg.Length(12)
	waveFoot   = vg.Length(24)
	waveTop    = vg.Length(4)
)

func (w *waves) laneHeight(solved bool) vg.Length {
	if solved {
		return 26
	}
	return 56
}

func (w *waves) Size(room vg.Length, solved bool) (width, height vg.Length) {
	return room, waveTop + vg.Length(len(w.shown))*gateRow + vg.Length(len(w.lanes))*(w.laneHeight(solved)+7) + waveFoot
}

func (w *waves) Draw(c vg.Canvas, area vg.Rectangle, solved bool) {
	p := pen{c}
	x0, x1 := area.Min.X+waveGutter, area.Max.X-10
	y := area.Max.Y - waveTop
	band := func(low, high vg.Length) axes {
		return axes{pen: p, area: vg.Rectangle{Min: vg.Point{X: x0, Y: low}, Max: vg.Point{X: x1, Y: high}}, x0: w.x0, x1: w.x1, y0: -w.most, y1: w.most}
	}
	for _, s := range w.shown {
		w.signal(band(y-gateRow+3, y), s)
		y -= gateRow
	}
	for _, l := range w.lanes {
		y -= 7
		a := band(y-w.laneHeight(solved), y)
		a.grid(w.ticks, w.levels)
		a.left(w.labels(solved))
		bold(figureHead).place(c, left, area.Min.X, a.at(0, 0).Y+5, l.name)
		muted(figureText).place(c, left, area.Min.X, a.at(0, 0).Y-6, "in V")
		if solved {
			a.line(1.5, theme.Phase(l.phase), a.steps(w.edges, l.values)...)
		}
		y -= w.laneHeight(solved)
	}
	a := band(y, y+1)
	a.below(w.ticks)
	muted(figureText).place(c, centre, (x0+x1)/2, y-18, w.axis)
}

// labels returns where lanes are labelled: where there is room, at halves of the supply.
func (w *waves) labels(solved bool) []tick {
	if !solved {
		return w.levels
	}
	n := len(w.levels)
	return []tick{w.levels[0], w.levels[n/2], w.levels[n-1]}
}

// signal draws when a switch is on: a bar between two hairlines.
func (w *waves) signal(a axes, s inverter.Switch) {
	bold(figureText).place(a, right, a.area.Min.X-5, (a.area.Min.Y+a.area.Max.Y)/2, s.String())
	for _, t := range w.ticks {
		a.line(0.3, theme.Rule(), a.at(t.at, a.y0), a.at(t.at, a.y1))
	}
	bar := func(from, to float64) {
		a.fillBox(theme.Phase(s.Leg()), vg.Rectangle{Min: a.at(from, a.y0), Max: a.at(to, a.y1)})
	}
	on, since := false, 0.0
	for i, x := range w.edges {
		switch has := w.gates[i].Has(s); {
		case has && !on:
			on, since = true, x
		case !has && on:
			on = false
			bar(since, x)
		}
	}
	if on {
		bar(since, w.x1)
	}
	a.line(0.5, theme.Text(), a.at(a.x0, a.y0), a.at(a.x1, a.y0))
}

func (w *waves) Tell(solved bool) string {
	said := "Gate signals over " + w.axis
	for i, x := range w.edges {
		said += fmt.Sprintf("; from %.4g on: %v", x, w.gates[i])
	}
	said += ". Grids for: "
	for i, l := range w.lanes {
		if i > 0 {
			said += ", "
		}
		said += l.name
		if solved {
			for k, x := range w.edges {
				said += fmt.Sprintf(" %s V from %.4g", whole(l.values[k]), x)
			}
		}
	}
	return said + "."
}
