package handout

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/vg"

	"sextant/inverter"
	"sextant/motor/drive"
	"sextant/render"
)

// course is the record of three currents.
type course struct{ record []drive.Instant }

func (f *course) Size(room vg.Length, solved bool) (width, height vg.Length) {
	if solved {
		return room, 100
	}
	return room, 148
}

func (f *course) Draw(c vg.Canvas, area vg.Rectangle, _ bool) {
	most := 0.0
	for i := range f.record {
		for _, x := range f.record[i].Current {
			most = math.Max(most, math.Abs(x))
		}
	}
	most = 1.1*most + 1e-9
	t0 := f.record[0].Time
	a := axes{
		pen: pen{c}, x1: 1e3 * (f.record[len(f.record)-1].Time - t0), y0: -most, y1: most,
		area: vg.Rectangle{Min: area.Min.Add(vg.Point{X: waveGutter, Y: waveFoot}), Max: area.Max.Sub(vg.Point{X: 10, Y: 4})},
	}
	xs, ys := ticks(0, a.x1, 16), ticks(-most, most, 8)
	a.grid(xs, ys)
	a.below(xs)
	a.left(ys)
	muted(figureText).place(c, centre, (a.area.Min.X+a.area.Max.X)/2, area.Min.Y+6, "time, ms")
	muted(figureText).place(c, left, area.Min.X, a.area.Max.Y-4, "in A")
	for _, p := range inverter.Phases {
		points := make([]vg.Point, 0, len(f.record))
		for i := range f.record {
			points = append(points, a.at(1e3*(f.record[i].Time-t0), f.record[i].Current[p]))
		}
		a.dashed(1.2, theme.Phase(p), render.Dash(p), points...)
		y := a.area.Max.Y - 16 - 14*vg.Length(p)
		a.dashed(1.2, theme.Phase(p), render.Dash(p), vg.Point{X: area.Min.X + 10, Y: y}, vg.Point{X: area.Min.X + 34, Y: y})
		bold(figureHead).place(c, left, area.Min.X, y, p.String())
	}
}

func (f *course) Tell(bool) string {
	return fmt.Sprintf("The currents of U, V and W over %.3g ms.", 1e3*(f.record[len(f.record)-1].Time-f.record[0].Time))
}
