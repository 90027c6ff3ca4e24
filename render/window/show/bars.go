package show

import (
	"fmt"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/vg"

	"sextant/inverter"
	"sextant/render"
)

// bars draws the heat of the six positions, two devices side by side, and their figures, into r.
func (b brush) bars(h *heating, numbering inverter.Numbering, r vg.Rectangle) {
	text, muted := b.theme.Text(), b.theme.Muted()
	wide := r.Max.X-r.Min.X > 1.6*(r.Max.Y-r.Min.Y)
	chart, table := r, r
	if wide {
		chart.Max.X = r.Min.X + (r.Max.X-r.Min.X)*0.5
		table.Min.X = chart.Max.X
	} else {
		chart.Min.Y = r.Min.Y + (r.Max.Y-r.Min.Y)*0.52
		table.Max.Y = chart.Min.Y
	}
	line := min((table.Max.Y-table.Min.Y)/8, (table.Max.X-table.Min.X)/18)
	size := line * 0.68
	if !h.known {
		b.write("No losses: "+h.doubt, vg.Point{X: (r.Min.X + r.Max.X) / 2, Y: (r.Min.Y + r.Max.Y) / 2}, size, r.Max.X-r.Min.X, text, xfont.WeightNormal)
		return
	}
	b.table(h, table, line, size)
	most := 0.0
	for k := range h.results {
		for _, sw := range inverter.Switches {
			p := positionOf(&h.results[k], sw)
			most = max(most, p.Sum())
		}
	}
	foot := chart.Min.Y + 1.5*size
	tall := chart.Max.Y - foot - 3*size
	group := (chart.Max.X - chart.Min.X) / 6
	for n, sw := range inverter.Switches {
		x := chart.Min.X + group*(vg.Length(n)+0.18)
		width := group * 0.29
		for k := range h.results {
			p := positionOf(&h.results[k], sw)
			left := x + vg.Length(k)*group*0.34
			conducts, switches := vg.Length(0), vg.Length(0)
			if most > 0 {
				conducts = tall * vg.Length((p.Conduction+p.Diode)/most)
				switches = tall * vg.Length((p.TurnOn+p.TurnOff+p.Recovery)/most)
			}
			b.fill(vg.Rectangle{Min: vg.Point{X: left, Y: foot}, Max: vg.Point{X: left + width, Y: foot + conducts}}, muted)
			b.fill(vg.Rectangle{Min: vg.Point{X: left, Y: foot + conducts}, Max: vg.Point{X: left + width, Y: foot + conducts + switches}}, b.theme.Accent())
			b.outline(vg.Rectangle{Min: vg.Point{X: left, Y: foot}, Max: vg.Point{X: left + width, Y: foot + conducts + switches}}, size*0.06, text)
			b.write(watts(p.Sum()), vg.Point{X: left + width/2, Y: foot + conducts + switches + size*0.6}, size*0.75, group*0.33, text, xfont.WeightNormal)
		}
		b.write(numbering.Label(sw)+"  A B", vg.Point{X: x + group*0.32, Y: chart.Min.Y + 0.6*size}, size*0.85, group, text, xfont.WeightBold)
	}
	// The key, above the bars: what lies below is conduction, above switching.
	at := vg.Point{X: chart.Min.X + group*0.18, Y: chart.Max.Y - size*0.7}
	for k, name := range []string{"switching, above", "conduction, below"} {
		c := b.theme.Accent()
		if k == 1 {
			c = muted
		}
		b.fill(vg.Rectangle{Min: at.Sub(vg.Point{Y: size * 0.35}), Max: at.Add(vg.Point{X: size * 0.7, Y: size * 0.35})}, c)
		b.from(name, at.Add(vg.Point{X: size}), size*0.8, text, xfont.WeightNormal)
		at.X += (chart.Max.X - chart.Min.X) * 0.45
	}
}

// table writes the two devices' figures side by side.
func (b brush) table(h *heating, r vg.Rectangle, line, size vg.Length) {
	width := r.Max.X - r.Min.X
	top := r.Max.Y - line*0.8
	columns := [2][]string{h.summary(0), h.summary(1)}
	for n, name := range summaryNames {
		y := top - line*vg.Length(n)
		b.from(name, vg.Point{X: r.Min.X + width*0.06, Y: y}, size, b.theme.Muted(), xfont.WeightNormal)
		for k, column := range columns {
			words := column[n]
			if n == 0 {
				words = string(rune('A'+k)) + ": " + words
			}
			b.write(words, vg.Point{X: r.Min.X + width*(0.5+0.3*vg.Length(k)), Y: y}, size, width*0.28, b.theme.Text(), xfont.WeightBold)
		}
	}
	note := fmt.Sprintf("closed-form averages; sink at %.0f °C", h.point.Sink)
	if h.point.Fixed {
		note = fmt.Sprintf("closed-form averages; junctions held at %.0f °C", h.point.Junction)
	}
	if h.doubt != "" {
		note = h.doubt
	}
	y := top - line*(vg.Length(len(summaryNames))+0.1)
	for _, words := range wrap(note, render.Face(xfont.WeightNormal, size*0.85), width*0.92) {
		b.write(words, vg.Point{X: r.Min.X + width/2, Y: y}, size*0.85, width*0.92, b.theme.Muted(), xfont.WeightNormal)
		y -= line * 0.75
	}
}
