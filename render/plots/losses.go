package plots

import (
	"image/color"
	"math"
	"slices"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"sextant/render"
)

// Losses is a comparison of what bridges of different devices turn to heat: stacked bars and, where a quantity
// was varied, curves beside them.
type Losses struct {
	Title    string
	Subtitle []string // lines
	Bars     []LossBar
	Curves   *LossCurves // nil for none
	Theme    render.Theme
}

// A LossBar is one device's bridge.
type LossBar struct {
	Name  string
	Parts []LossPart // from the foot up
	Note  string     // below the name
}

// A LossPart is one share of the heat, in W.
type LossPart struct {
	Name  string
	Watts float64
}

// LossCurves is the heat of each bar's bridge by a quantity.
type LossCurves struct {
	Label, Unit string
	X           []float64   // rising
	Watts       [][]float64 // for each bar, at X
	BreakEven   []LossMark
	Here        float64 // the X of the bars; NaN where it is out of range
}

// A LossMark is a point of the curves worth a name.
type LossMark struct {
	X, Watts float64
	Name     string
}

// hues is the Okabe-Ito palette without its yellow, which no white ground carries: of the parts of a bar, and
// of curves. K. Okabe, M. Ito, Color Universal Design (2008).
var (
	partHues  = []color.Color{rgb(0, 114, 178), rgb(86, 180, 233), rgb(213, 94, 0), rgb(230, 159, 0), rgb(204, 121, 167)}
	curveHues = []color.Color{rgb(0, 114, 178), rgb(213, 94, 0), rgb(0, 158, 115), rgb(204, 121, 167), rgb(86, 180, 233), rgb(230, 159, 0)}
	curveDash = [][]float64{nil, {6, 2}, {2, 2}, {6, 2, 2, 2}, {10, 3}, {1, 2}}
)

func rgb(r, g, b uint8) color.Color { return color.NRGBA{R: r, G: g, B: b, A: 255} }

// Draw draws l within area.
func (l *Losses) Draw(c vg.Canvas, area vg.Rectangle) {
	unit := unitOf(area)
	sh := newSheet(&Figure{Theme: l.Theme}, c, area, unit)
	left, top := sh.heading(l.Title, l.Subtitle)
	top -= 3.2 * sh.size
	foot := area.Min.Y + 4.6*sh.size
	split := area.Max.X - 2*unit
	if l.Curves != nil {
		split = area.Min.X + area.Size().X*barsShare(len(l.Bars))
	}
	l.bars(sh, vg.Rectangle{Min: vg.Point{X: left + 6*unit, Y: foot}, Max: vg.Point{X: split, Y: top}})
	if l.Curves != nil {
		l.curves(sh, vg.Rectangle{Min: vg.Point{X: split + 9*unit, Y: foot}, Max: vg.Point{X: area.Max.X - 11*unit, Y: top}})
	}
}

// barsShare is the part of the width that so many bars take beside curves.
func barsShare(bars int) vg.Length { return min(0.24+0.1*vg.Length(bars), 0.6) }

// upright draws an axis of values from zero at the left of a panel, with its grid, and returns where a
// value lies.
func (sh *sheet) upright(at vg.Rectangle, caption string, high float64) func(float64) vg.Length {
	if !(high > 0) {
		high = 1
	}
	high *= 1.06
	factor, name := prefixed(high, "W")
	y := func(v float64) vg.Length { return at.Min.Y + at.Size().Y*vg.Length(v/high) }
	grid := draw.LineStyle{Color: sh.Theme.Rule(), Width: 0.07 * sh.unit}
	for _, t := range marks(0, high*factor, max(2, int(at.Size().Y/(3*sh.size)))) {
		v := y(t.Value / factor)
		sh.c.StrokeLine2(grid, at.Min.X, v, at.Max.X, v)
		sh.text(regular, sh.size, sh.Theme.Text(), at.Min.X-0.8*sh.unit, v-render.CapHeight*sh.size/2, 1, t.Label)
	}
	sh.text(bold, sh.size, sh.Theme.Text(), at.Min.X-5*sh.unit, at.Max.Y+0.9*sh.size, 0, caption+", in "+name)
	axis := draw.LineStyle{Color: sh.Theme.Muted(), Width: 0.15 * sh.unit}
	sh.c.StrokeLine2(axis, at.Min.X, at.Min.Y, at.Min.X, at.Max.Y)
	sh.c.StrokeLine2(axis, at.Min.X, at.Min.Y, at.Max.X, at.Min.Y)
	return y
}

// bars draws a stacked bar for each device, its parts named beside it.
func (l *Losses) bars(sh *sheet, at vg.Rectangle) {
	most := 0.0
	for _, b := range l.Bars {
		most = max(most, b.sum())
	}
	y := sh.upright(at, "Heat of the bridge", most*1.04)
	room := at.Size().X / vg.Length(max(len(l.Bars), 1))
	for i, b := range l.Bars {
		left := at.Min.X + vg.Length(i)*room + 0.06*room
		width := min(0.34*room, 14*sh.unit)
		right := left + width
		var labels []label
		below := 0.0
		for k, p := range b.Parts {
			r := vg.Rectangle{Min: vg.Point{X: left, Y: y(below)}, Max: vg.Point{X: right, Y: y(below + p.Watts)}}
			below += p.Watts
			if p.Watts < b.sum()/1e4 {
				continue
			}
			sh.c.SetColor(partHues[k%len(partHues)])
			sh.c.Fill(r.Path())
			sh.c.SetColor(sh.Theme.Text())
			sh.c.SetLineWidth(0.1 * sh.unit)
			sh.c.Stroke(r.Path())
			labels = append(labels, label{(r.Min.Y + r.Max.Y) / 2, k})
		}
		size := sh.fitting(b, room-width-0.1*room-1.6*sh.unit)
		half := render.CapHeight * size / 2
		spread(labels, 1.3*size, at.Min.Y+half, at.Max.Y-half)
		below = 0
		for _, lb := range labels {
			p := b.Parts[lb.curve]
			sh.c.StrokeLine2(draw.LineStyle{Color: sh.Theme.Muted(), Width: 0.08 * sh.unit}, right+0.2*sh.unit, y(b.middle(lb.curve)), right+1.2*sh.unit, lb.y)
			sh.onGround(regular, size, right+1.5*sh.unit, lb.y-half, 0, p.label())
		}
		sh.text(bold, sh.size, sh.Theme.Text(), (left+right)/2, y(b.sum())+0.5*sh.size, 0.5, watts(b.sum()))
		sh.within(bold, sh.size, left-0.05*room, left+0.9*room, at.Min.Y-1.7*sh.size, b.Name)
		sh.within(regular, 0.9*sh.size, left-0.05*room, left+0.9*room, at.Min.Y-3.2*sh.size, b.Note)
	}
}

// onGround writes s over whatever lines cross it.
func (sh *sheet) onGround(weight xfont.Weight, size, x, y vg.Length, align float64, s string) {
	w, pad := lengthOf(weight, size, s), 0.2*size
	left := x - vg.Length(align)*w
	sh.c.SetColor(sh.Theme.Ground())
	sh.c.Fill(vg.Rectangle{Min: vg.Point{X: left - pad, Y: y - 1.5*pad}, Max: vg.Point{X: left + w + pad, Y: y + render.CapHeight*size + pad}}.Path())
	sh.text(weight, size, sh.Theme.Text(), left, y, 0, s)
}

// within writes s from left on, smaller if it would not end before right.
func (sh *sheet) within(weight xfont.Weight, size, left, right, y vg.Length, s string) {
	if w := lengthOf(weight, size, s); w > right-left && w > 0 {
		size *= (right - left) / w
	}
	sh.text(weight, size, sh.Theme.Text(), left, y, 0, s)
}

// fitting returns the size of text at which all labels of a bar fit into a width.
func (sh *sheet) fitting(b LossBar, width vg.Length) vg.Length {
	size := sh.size
	for _, p := range b.Parts {
		if w := lengthOf(regular, sh.size, p.label()); w > width && w > 0 {
			size = min(size, sh.size*width/w)
		}
	}
	return size
}

func (p LossPart) label() string { return p.Name + " " + watts(p.Watts) }

// watts writes a power in whole watts where it is large.
func watts(w float64) string {
	switch {
	case w >= 100:
		return number(w, 0) + " W"
	case w >= 1 || w == 0:
		return number(w, 1) + " W"
	}
	return figures(w) + " W"
}

func (b *LossBar) sum() float64 {
	sum := 0.0
	for _, p := range b.Parts {
		sum += p.Watts
	}
	return sum
}

// middle returns the height of the middle of a part.
func (b *LossBar) middle(part int) float64 {
	below := 0.0
	for _, p := range b.Parts[:part] {
		below += p.Watts
	}
	return below + b.Parts[part].Watts/2
}

// curves draws the heat by the quantity that was varied, the curves named at their ends, break-evens marked.
func (l *Losses) curves(sh *sheet, at vg.Rectangle) {
	v := l.Curves
	most := 0.0
	for _, ys := range v.Watts {
		for _, w := range ys {
			most = max(most, w)
		}
	}
	y := sh.upright(at, "Heat of the bridge by "+v.Label, most)
	from, to := v.X[0], v.X[len(v.X)-1]
	x := func(q float64) vg.Length { return at.Min.X + at.Size().X*vg.Length((q-from)/(to-from)) }
	factor, unit := 1.0, ""
	if v.Unit != "" {
		factor, unit = prefixed(max(math.Abs(from), math.Abs(to)), v.Unit)
		unit = " in " + unit
	}
	grid := draw.LineStyle{Color: sh.Theme.Rule(), Width: 0.07 * sh.unit}
	for _, t := range marks(from*factor, to*factor, int(at.Size().X/(6*sh.size))) {
		q := x(t.Value / factor)
		sh.c.StrokeLine2(grid, q, at.Min.Y, q, at.Max.Y)
		sh.text(regular, sh.size, sh.Theme.Text(), q, at.Min.Y-1.5*sh.size, 0.5, t.Label)
	}
	sh.text(regular, sh.size, sh.Theme.Text(), (at.Min.X+at.Max.X)/2, at.Min.Y-3.2*sh.size, 0.5, v.Label+unit)
	if !math.IsNaN(v.Here) {
		here := draw.LineStyle{Color: sh.Theme.Muted(), Width: 0.12 * sh.unit, Dashes: []vg.Length{0.5 * sh.unit, 0.5 * sh.unit}}
		sh.c.StrokeLine2(here, x(v.Here), at.Min.Y, x(v.Here), at.Max.Y)
		sh.text(regular, 0.85*sh.size, sh.Theme.Text(), x(v.Here)+0.4*sh.unit, at.Max.Y-0.9*sh.size, 0, "bars")
	}
	var labels []label
	for i, ys := range v.Watts {
		style := l.styleOf(sh, i)
		points := make([]vg.Point, len(ys))
		for k, w := range ys {
			points[k] = vg.Point{X: x(v.X[k]), Y: y(w)}
		}
		sh.c.StrokeLines(style, points)
		labels = append(labels, label{points[len(points)-1].Y, i})
	}
	half := render.CapHeight * sh.size / 2
	spread(labels, 1.3*sh.size, at.Min.Y+half, at.Max.Y-half)
	for _, lb := range labels {
		sh.c.StrokeLine2(l.styleOf(sh, lb.curve), at.Max.X+0.5*sh.unit, lb.y, at.Max.X+2.7*sh.unit, lb.y)
		sh.text(bold, sh.size, sh.Theme.Text(), at.Max.X+3.1*sh.unit, lb.y-half, 0, l.Bars[lb.curve].Name)
	}
	l.marks(sh, at, x, y)
}

// marks draws the break-evens, each with its name where there is room: to the right and below, where curves
// that rise leave it, or else above.
func (l *Losses) marks(sh *sheet, at vg.Rectangle, x, y func(float64) vg.Length) {
	size := 0.95 * sh.size
	var rows []vg.Length // taken by names
	for i, m := range l.Curves.BreakEven {
		if slices.ContainsFunc(l.Curves.BreakEven[:i], func(o LossMark) bool { return o.Name == m.Name }) {
			continue // another pair, too near to tell apart
		}
		p := vg.Point{X: x(m.X), Y: y(m.Watts)}
		left, row := p.X+1.2*sh.unit, p.Y-1.6*size
		width := lengthOf(bold, size, m.Name)
		if left+width > at.Max.X {
			left, row = p.X-1.2*sh.unit-width, p.Y+0.8*size
		}
		if row < at.Min.Y+0.5*size {
			row = p.Y + 1.2*size
		}
		for taken := true; taken; {
			taken = false
			for _, r := range rows {
				if max(r-row, row-r) < 1.4*size {
					row, taken = r+1.41*size, true
				}
			}
		}
		rows = append(rows, row)
		sh.onGround(bold, size, left, row, 0, m.Name)
		sh.c.DrawGlyph(draw.GlyphStyle{Color: sh.Theme.Text(), Radius: 0.6 * sh.unit, Shape: draw.CircleGlyph{}}, p)
	}
}

func (l *Losses) styleOf(sh *sheet, i int) draw.LineStyle {
	style := draw.LineStyle{Color: curveHues[i%len(curveHues)], Width: 0.3 * sh.unit}
	for _, d := range curveDash[i%len(curveDash)] {
		style.Dashes = append(style.Dashes, vg.Length(d)*0.42*sh.unit)
	}
	return style
}
