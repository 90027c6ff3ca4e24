package plots

import (
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"sextant/motor/drive"
	"sextant/render"
)

// A Figure is a recorded run with what it is drawn with.
type Figure struct {
	Record  *Recorder
	Summary drive.Summary // of the same run
	Theme   render.Theme
}

// A sheet is a figure being drawn, with the measures that follow from its size.
type sheet struct {
	*Figure
	c      draw.Canvas
	unit   vg.Length // a small length that the others are counted in
	size   vg.Length // of text
	left   vg.Length // x where the axes of values stand
	right  vg.Length // x where they end
	time   float64   // by which times are drawn
	second string    // unit of times
	ticks  plot.ConstantTicks
}

// newSheet returns a bare one that fills an area.
func newSheet(f *Figure, c vg.Canvas, area vg.Rectangle, unit vg.Length) *sheet {
	sh := &sheet{Figure: f, c: draw.Canvas{Canvas: c, Rectangle: area}, unit: unit, size: 1.75 * unit}
	sh.c.SetColor(f.Theme.Ground())
	sh.c.Fill(area.Path())
	return sh
}

// unitOf returns the small length that others are counted in, of a picture that fills an area.
func unitOf(area vg.Rectangle) vg.Length {
	s := area.Size()
	return min(vg.Length(math.Sqrt(float64(s.X*s.Y)))/100, s.X/75)
}

// heading writes a title and the lines below it, and returns where the sheet's left is and the last line's height.
func (sh *sheet) heading(title string, subtitle []string) (left, top vg.Length) {
	left, top = sh.c.Min.X+2*sh.unit, sh.c.Max.Y-2.4*sh.size
	sh.text(bold, 1.25*sh.size, sh.Theme.Text(), left, top, 0, title)
	for _, line := range subtitle {
		top -= 1.45 * sh.size
		sh.text(regular, sh.size, sh.Theme.Text(), left, top, 0, line)
	}
	return left, top
}

// Err returns what kept the recorder from recording.
func (r *Recorder) Err() error { return r.err }

// Draw draws f within area.
func (f *Figure) Draw(c vg.Canvas, area vg.Rectangle) {
	sh := newSheet(f, c, area, unitOf(area))
	sh.right = area.Max.X - 8*sh.unit
	sh.time, sh.second = prefixed(f.Record.to, "s")
	sh.draw(sh.frames())
}

// A frame is a panel with its place.
type frame struct {
	*panel
	at        vg.Rectangle
	factor    float64
	unit      string
	low, high float64 // in unit
	ticks     plot.ConstantTicks
}

// frames places the panels one under the other and fits their axes of values beside them.
func (sh *sheet) frames() []frame {
	panels := sh.Record.panels
	caption, gap := 2.2*sh.size, 0.7*sh.size
	top := sh.c.Max.Y - 3.4*sh.size
	bottom := sh.c.Min.Y + 4.2*sh.size
	room, weights := top-bottom, 0.0
	for i := range panels {
		weights += panels[i].weight
		room -= sh.above(&panels[i], caption, gap)
	}
	frames := make([]frame, len(panels))
	width := vg.Length(0)
	for i := range panels {
		p := &panels[i]
		top -= sh.above(p, caption, gap)
		height := max(room, 0) * vg.Length(p.weight/weights)
		low, high := bounds(panels, p)
		fr := frame{panel: p, at: vg.Rectangle{Min: vg.Point{Y: top - height}, Max: vg.Point{Y: top}}}
		fr.factor, fr.unit = prefixed(max(math.Abs(low), math.Abs(high)), p.unit)
		fr.low, fr.high = low*fr.factor, high*fr.factor
		if fr.ticks = outer(fr.low, fr.high); !p.strip {
			fr.ticks = marks(fr.low, fr.high, max(3, int(height/(2*sh.size))))
		}
		for _, t := range fr.ticks {
			width = max(width, lengthOf(regular, sh.size, t.Label))
		}
		frames[i] = fr
		top -= height
	}
	sh.left = sh.c.Min.X + 1.6*sh.unit + width + sh.unit
	for i := range frames {
		frames[i].at.Min.X, frames[i].at.Max.X = sh.left, sh.right
	}
	from, to := sh.Record.from*sh.time, sh.Record.to*sh.time
	sh.ticks = marks(from, to, int((sh.right-sh.left)/(7*sh.size)))
	return frames
}

// above returns the room that a panel needs above it.
func (sh *sheet) above(p *panel, caption, gap vg.Length) vg.Length {
	if p.caption == "" {
		return gap
	}
	return caption
}

func (sh *sheet) draw(frames []frame) {
	sh.text(bold, 1.25*sh.size, sh.Theme.Text(), sh.left, sh.c.Max.Y-2.4*sh.size, 0, sh.Summary.Title)
	for i := range frames {
		sh.panel(&frames[i])
	}
	if len(frames) == 0 {
		return
	}
	foot := frames[len(frames)-1].at.Min.Y
	for _, t := range sh.ticks {
		sh.text(regular, sh.size, sh.Theme.Text(), sh.x(t.Value), foot-1.5*sh.size, 0.5, t.Label)
	}
	sh.text(regular, sh.size, sh.Theme.Text(), (sh.left+sh.right)/2, foot-3.2*sh.size, 0.5, "time in "+sh.second)
}

// x returns where a time, in the unit of the axis, lies.
func (sh *sheet) x(t float64) vg.Length {
	from, to := sh.Record.from*sh.time, sh.Record.to*sh.time
	return sh.left + (sh.right-sh.left)*vg.Length((t-from)/(to-from))
}

// y returns where a value, in the unit of the axis, lies.
func (f *frame) y(v float64) vg.Length {
	return f.at.Min.Y + f.at.Size().Y*vg.Length((v-f.low)/(f.high-f.low))
}

// panel draws a panel: its grid, its curves, and what they are called at their ends.
func (sh *sheet) panel(f *frame) {
	muted, text := sh.Theme.Muted(), sh.Theme.Text()
	grid := draw.LineStyle{Color: sh.Theme.Rule(), Width: 0.07 * sh.unit}
	if f.caption != "" {
		sh.text(bold, sh.size, text, sh.left, f.at.Max.Y+0.7*sh.size, 0, f.caption+", in "+f.unit)
	}
	for _, t := range sh.ticks {
		sh.c.StrokeLine2(grid, sh.x(t.Value), f.at.Min.Y, sh.x(t.Value), f.at.Max.Y)
	}
	for _, t := range f.ticks {
		y := f.y(t.Value)
		sh.c.StrokeLine2(grid, sh.left, y, sh.right, y)
		sh.text(regular, sh.size, text, sh.left-0.8*sh.unit, y-render.CapHeight*sh.size/2, 1, t.Label)
	}
	if f.low < 0 && f.high > 0 {
		zero := draw.LineStyle{Color: muted, Width: 0.12 * sh.unit}
		sh.c.StrokeLine2(zero, sh.left, f.y(0), sh.right, f.y(0))
	}
	axis := draw.LineStyle{Color: muted, Width: 0.15 * sh.unit}
	sh.c.StrokeLine2(axis, sh.left, f.at.Min.Y, sh.left, f.at.Max.Y)

	p := plot.New()
	p.HideAxes()
	p.BackgroundColor = nil
	p.X.Padding, p.Y.Padding = 0, 0
	for i := range f.curves {
		p.Add(sh.trace(f, &f.curves[i]))
	}
	p.X.Min, p.X.Max = sh.Record.from*sh.time, sh.Record.to*sh.time
	p.Y.Min, p.Y.Max = f.low, f.high
	p.Draw(draw.Canvas{Canvas: sh.c.Canvas, Rectangle: f.at})
	sh.ends(f)
	if f.mean != nil {
		sh.average(f)
	}
}

// trace returns a curve as the plotting library draws it.
func (sh *sheet) trace(f *frame, l *line) *trace {
	tr := &trace{points: l.points, scale: f.factor, tscale: sh.time, unit: 0.42 * sh.unit}
	tr.style = draw.LineStyle{Color: sh.inkOf(l), Width: 0.13 * sh.unit}
	if l.ofPhase && len(f.curves) > 1 {
		tr.dash = render.Dash(l.phase)
		tr.style.Width = 0.2 * sh.unit
	}
	if l.rank > 0 {
		tr.style.Width = 0.25 * sh.unit
		if d := curveDash[(l.rank-1)%len(curveDash)]; d != nil {
			tr.dash = d[:2]
		}
	}
	return tr
}

func (sh *sheet) inkOf(l *line) color.Color {
	switch {
	case l.ofPhase:
		return sh.Theme.Phase(l.phase)
	case l.rank > 0:
		return curveHues[(l.rank-1)%len(curveHues)]
	case l.pale:
		return render.Mix(sh.Theme.Muted(), sh.Theme.Ground(), 0.32) // still 3:1 to the ground: WCAG 2.2, 1.4.11
	}
	return sh.Theme.Text()
}

// ends writes the names of curves at their ends, one clear of the other, with a sample of their line.
func (sh *sheet) ends(f *frame) {
	var labels []label
	for i := range f.curves {
		l := &f.curves[i]
		if l.name == "" || len(l.points) == 0 {
			continue
		}
		labels = append(labels, label{f.y(l.points[len(l.points)-1].y * f.factor), i})
	}
	half := render.CapHeight * sh.size / 2
	spread(labels, 1.25*sh.size, f.at.Min.Y+half, f.at.Max.Y-half)
	start := sh.right + 0.6*sh.unit
	if len(f.curves) > 1 {
		start += 2.6 * sh.unit
	}
	size := sh.size // that all names fit in
	for _, lb := range labels {
		if w, room := lengthOf(bold, sh.size, f.curves[lb.curve].name), sh.c.Max.X-0.3*sh.unit-start; w > room {
			size = min(size, sh.size*room/w)
		}
	}
	for _, lb := range labels {
		l := &f.curves[lb.curve]
		if len(f.curves) > 1 {
			sample := draw.LineStyle{Color: sh.inkOf(l), Width: 0.25 * sh.unit}
			if l.rank > 0 {
				for _, d := range curveDash[(l.rank-1)%len(curveDash)] {
					sample.Dashes = append(sample.Dashes, vg.Length(d)*0.42*sh.unit)
				}
			}
			if l.ofPhase {
				for _, d := range render.Dash(l.phase) {
					sample.Dashes = append(sample.Dashes, vg.Length(d)*0.42*sh.unit)
				}
			}
			sh.c.StrokeLine2(sample, start-2.6*sh.unit, lb.y, start-0.4*sh.unit, lb.y)
		}
		sh.text(bold, size, sh.Theme.Text(), start, lb.y-render.CapHeight*size/2, 0, l.name)
	}
}

// average draws the mean of the panel as a line, with its figure at its end.
func (sh *sheet) average(f *frame) {
	mean := f.mean(&sh.Summary) * f.factor
	y := f.y(mean)
	style := draw.LineStyle{Color: sh.Theme.Text(), Width: 0.2 * sh.unit, Dashes: []vg.Length{sh.unit, 0.5 * sh.unit}}
	sh.c.StrokeLine2(style, sh.left, y, sh.right, y)
	y = min(max(y, f.at.Min.Y+1.2*sh.size), f.at.Max.Y-0.8*sh.size)
	sh.text(regular, 0.85*sh.size, sh.Theme.Text(), sh.right+0.9*sh.unit, y+0.1*sh.size, 0, "mean")
	sh.text(bold, 0.95*sh.size, sh.Theme.Text(), sh.right+0.9*sh.unit, y-0.95*sh.size, 0, figures(mean))
}
