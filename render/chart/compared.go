package chart

import (
	"image/color"
	"math"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"sextant/inverter"
	"sextant/render"
)

// A Compared is a drive without and with a fault, side by side on the same scales, with the torque of its start
// by rotor angle below.
type Compared struct {
	Title   string
	Lines   []string // under the title
	State   string   // what the drive does
	Healthy Waves
	Faulty  Waves
	Start   *Start // nil where there is none
	Theme   render.Theme
}

// Waves is currents in A and torque in N m over time in s.
type Waves struct {
	Time    []float64
	Current [3][]float64
	Torque  []float64
}

// A Start is torques in N m by the rotor's angle in degrees, and the ranges of angles that are dead.
type Start struct {
	Angles, Healthy, Faulty []float64
	Needed                  float64
	Dead                    [][2]float64 // from, to; to may be less than from, over 360
}

// Draw draws the comparison within area.
func (s *Compared) Draw(c vg.Canvas, area vg.Rectangle) {
	c.SetColor(s.Theme.Ground())
	c.Fill(area.Path())
	d := drawing{Sheet: &Sheet{Theme: s.Theme}, c: c, area: area}
	size := min(area.Size().X/95, area.Size().Y/60)
	margin := 2 * size
	y := area.Max.Y - margin - 1.2*size
	d.write(xfont.WeightBold, 1.6*size, s.Theme.Text(), area.Min.X+margin, y, s.Title)
	for _, line := range s.Lines {
		y -= 1.5 * size
		d.write(xfont.WeightNormal, size, s.Theme.Text(), area.Min.X+margin, y, line)
	}
	top, bottom := y-1.2*size, area.Min.Y+margin
	rows := [][]*plot.Plot{s.currents(size), s.torques(size)}
	if s.Start != nil {
		rows = append(rows, []*plot.Plot{s.start(size)})
	}
	height := (top - bottom) / vg.Length(len(rows))
	for i, row := range rows {
		width := (area.Size().X - 2*margin) / vg.Length(len(row))
		for k, p := range row {
			at := vg.Point{X: area.Min.X + margin + vg.Length(k)*width, Y: top - vg.Length(i+1)*height}
			beside := vg.Length(4.5) * size // room for the names of curves
			if len(row) == 1 {
				beside = 9.5 * size
			}
			p.Legend.XOffs = beside
			p.Draw(draw.Canvas{Canvas: c, Rectangle: vg.Rectangle{Min: at, Max: at.Add(vg.Point{X: width - beside - size, Y: height - size})}})
		}
	}
}

// currents returns the panels of the phases' currents, on one scale.
func (s *Compared) currents(size vg.Length) []*plot.Plot {
	low, high := bounds(s.Healthy.Current[0], s.Healthy.Current[1], s.Healthy.Current[2], s.Faulty.Current[0], s.Faulty.Current[1], s.Faulty.Current[2])
	var panels []*plot.Plot
	for i, w := range []*Waves{&s.Healthy, &s.Faulty} {
		p := s.panel(size, s.heading(i, "phase currents, A"), "time, ms")
		for _, k := range inverter.Phases {
			l := s.line(w.Time, w.Current[k], 1e3, s.Theme.Phase(k), size/8)
			for _, dash := range render.Dash(k) {
				l.Dashes = append(l.Dashes, vg.Length(dash)*size/4)
			}
			p.Add(l)
			p.Legend.Add(k.String(), l)
		}
		p.Y.Min, p.Y.Max = low, high
		panels = append(panels, p)
	}
	return panels
}

// torques returns the panels of the torque, on one scale.
func (s *Compared) torques(size vg.Length) []*plot.Plot {
	low, high := bounds(s.Healthy.Torque, s.Faulty.Torque, []float64{0})
	var panels []*plot.Plot
	for i, w := range []*Waves{&s.Healthy, &s.Faulty} {
		p := s.panel(size, s.heading(i, "torque, N m"), "time, ms")
		p.Add(s.line(w.Time, w.Torque, 1e3, s.Theme.Text(), size/8))
		p.Y.Min, p.Y.Max = low, high
		panels = append(panels, p)
	}
	return panels
}

// start returns the panel of the start torque, its dead spots marked by bands and words.
func (s *Compared) start(size vg.Length) *plot.Plot {
	st := s.Start
	p := s.panel(size, "Torque to start with, N m, by the angle at which the rotor stands; marked: will not start", "rotor angle, electrical degrees")
	low, high := bounds(st.Healthy, st.Faulty, []float64{0})
	p.X.Tick.Marker = plot.ConstantTicks{{Value: 0, Label: "0"}, {Value: 60, Label: "60"}, {Value: 120, Label: "120"}, {Value: 180, Label: "180"}, {Value: 240, Label: "240"}, {Value: 300, Label: "300"}, {Value: 360, Label: "360"}}
	for _, span := range st.Dead {
		from, to := span[0], span[1]
		parts := [][2]float64{{from, to}}
		if to <= from {
			parts = [][2]float64{{from, 360}, {0, to}}
		}
		for _, x := range parts {
			band, err := plotter.NewPolygon(plotter.XYs{{X: x[0], Y: low}, {X: x[1], Y: low}, {X: x[1], Y: high}, {X: x[0], Y: high}})
			if err != nil {
				continue // not finite: nothing to show
			}
			band.Color = s.Theme.Rule()
			band.Width = 0
			p.Add(band)
		}
	}
	healthy := s.line(turn(st.Angles), round(st.Healthy), 1, s.Theme.Muted(), size/8)
	healthy.Dashes = []vg.Length{size / 2, size / 3}
	faulty := s.line(turn(st.Angles), round(st.Faulty), 1, s.Theme.Text(), size/5)
	needed := s.line([]float64{0, 360}, []float64{st.Needed, st.Needed}, 1, s.Theme.Text(), size/16)
	p.Add(healthy, faulty, needed)
	p.Legend.Add("healthy", healthy)
	p.Legend.Add("with the fault", faulty)
	p.Legend.Add("needed", needed)
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, 360, low, high
	return p
}

// turn returns angles from the middle of the first part of a turn on as a row from 0 to 360.
func turn(angles []float64) []float64 {
	return append(append([]float64{0}, angles...), 360)
}

// round adds to values at the angles that turn fills up those at 0 and 360: midway between the last and the first.
func round(x []float64) []float64 {
	seam := (x[0] + x[len(x)-1]) / 2
	return append(append([]float64{seam}, x...), seam)
}

// heading says what a panel shows.
func (s *Compared) heading(faulty int, what string) string {
	return [2]string{"Healthy", "With the fault"}[faulty] + ", " + s.State + ": " + what
}

// panel returns an empty plot in the theme.
func (s *Compared) panel(size vg.Length, title, x string) *plot.Plot {
	p := plot.New()
	p.BackgroundColor = color.Transparent
	p.Title.Text = title
	p.Title.Padding = size / 2
	p.X.Label.Text = x
	ink := s.Theme.Text()
	sans := func(weight xfont.Weight) font.Font {
		return font.Font{Typeface: "Liberation", Variant: "Sans", Weight: weight, Size: size}
	}
	p.Title.TextStyle.Font, p.Title.TextStyle.Color = sans(xfont.WeightBold), ink
	p.Legend.TextStyle.Font, p.Legend.TextStyle.Color = sans(xfont.WeightNormal), ink
	p.Legend.Top, p.Legend.ThumbnailWidth, p.Legend.Padding = true, 2.5*size, size/3
	for _, a := range []*plot.Axis{&p.X, &p.Y} {
		a.Color, a.LineStyle.Color, a.Tick.LineStyle.Color = ink, ink, ink
		a.Tick.Length, a.Padding = size/2, 0
		a.Label.TextStyle.Font, a.Label.TextStyle.Color = sans(xfont.WeightNormal), ink
		a.Tick.Label.Font, a.Tick.Label.Color = sans(xfont.WeightNormal), ink
	}
	grid := plotter.NewGrid()
	grid.Horizontal.Color, grid.Vertical.Color = s.Theme.Rule(), s.Theme.Rule()
	grid.Horizontal.Width, grid.Vertical.Width = size/20, size/20
	p.Add(grid)
	return p
}

// line returns a curve; times are multiplied by scale.
func (s *Compared) line(x, y []float64, scale float64, ink color.Color, width vg.Length) *plotter.Line {
	points := make(plotter.XYs, len(x))
	for i := range x {
		points[i] = plotter.XY{X: scale * x[i], Y: y[i]}
	}
	return &plotter.Line{XYs: points, LineStyle: draw.LineStyle{Color: ink, Width: width}}
}

// bounds returns what an axis must cover to hold all values, and a little more.
func bounds(rows ...[]float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, row := range rows {
		for _, v := range row {
			low, high = math.Min(low, v), math.Max(high, v)
		}
	}
	if !(low < high) {
		if math.IsInf(low, 0) {
			low, high = 0, 0
		}
		return low - 1, high + 1
	}
	room := 0.06 * (high - low)
	return low - room, high + room
}
