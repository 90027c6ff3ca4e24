package plots

import (
	"math"

	"gonum.org/v1/plot/vg"

	"sextant/motor/drive"
	"sextant/render"
)

// A Course is curves over time in panels one under the other, with, where there are bars, a comparison of
// heats beside them.
type Course struct {
	Title  string
	Theme  render.Theme
	Time   []float64 // s, rising
	Panels []CoursePanel
	Bars   []LossBar
	About  []string // lines over the bars
}

// A CoursePanel is an axis of values with the curves that share it.
type CoursePanel struct {
	Caption, Unit string
	Weight        float64 // of its height
	Zero          bool    // the axis includes zero
	Curves        []CourseCurve
}

// A CourseCurve is values by time.
type CourseCurve struct {
	Name   string // written at its end; may be empty
	Rank   int    // from 1, where several of a kind are compared; 0 for none
	Values []float64
}

// Draw draws f within area.
func (f *Course) Draw(c vg.Canvas, area vg.Rectangle) {
	first, second := area, area
	if size := area.Size(); len(f.Bars) == 0 {
		second = vg.Rectangle{}
	} else if tall(area) {
		first.Min.Y = area.Min.Y + 0.36*size.Y
		second.Max.Y = first.Min.Y
	} else {
		first.Max.X = area.Min.X + size.X*(1-0.8*barsShare(len(f.Bars)))
		second.Min.X = first.Max.X
	}
	c.SetColor(f.Theme.Ground())
	c.Fill(area.Path()) // under the seam of both
	fig := Figure{Record: f.record(first.Size().X), Summary: drive.Summary{Title: f.Title}, Theme: f.Theme}
	fig.Draw(c, first)
	if len(f.Bars) > 0 {
		f.bars(c, second, unitOf(first))
	}
}

// bars draws the comparison with the text of the panels beside it.
func (f *Course) bars(c vg.Canvas, area vg.Rectangle, unit vg.Length) {
	sh := newSheet(&Figure{Theme: f.Theme}, c, area, unit)
	left, top := area.Min.X+2*unit, area.Max.Y-2.4*sh.size
	for _, line := range f.About {
		sh.within(regular, sh.size, left, area.Max.X-unit, top, line)
		top -= 1.45 * sh.size
	}
	l := Losses{Bars: f.Bars, Theme: f.Theme}
	l.bars(sh, vg.Rectangle{Min: vg.Point{X: left + 6*unit, Y: area.Min.Y + 4.6*sh.size}, Max: vg.Point{X: area.Max.X - unit, Y: top - 1.7*sh.size}})
}

// tall reports whether what lies side by side in a picture goes one over the other in this one.
func tall(area vg.Rectangle) bool { return area.Size().Y > 1.1*area.Size().X }

// record returns the curves as thin as a picture of that width needs.
func (f *Course) record(width vg.Length) *Recorder {
	from, to := f.Time[0], f.Time[len(f.Time)-1]
	r := &Recorder{from: from, to: to, columns: max(1, float64(width))}
	for _, p := range f.Panels {
		out := panel{caption: p.Caption, unit: p.Unit, weight: p.Weight, zero: p.Zero}
		for _, cv := range p.Curves {
			l := line{name: cv.Name, rank: cv.Rank}
			for i, t := range f.Time {
				l.add(math.Floor((t-from)/(to-from)*r.columns), point{t, cv.Values[i]})
			}
			out.curves = append(out.curves, l)
		}
		r.panels = append(r.panels, out)
	}
	return r
}
