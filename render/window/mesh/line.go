package mesh

import "gonum.org/v1/plot/vg"

// A Line is how a canvas draws lines: the part of a [vg.Canvas] that is the same whatever it draws on.
type Line struct {
	Width  float64   // in points
	Dashes []float64 // on, off, on ... in points, or nil for solid lines; never written to, only replaced
	Offset float64   // into the dashes, in points
}

// SetLineWidth sets the width of lines.
func (l *Line) SetLineWidth(w vg.Length) { l.Width = w.Points() }

// SetLineDash sets the dashes of lines: on, off, on ... from offset on; no lengths make lines solid.
func (l *Line) SetLineDash(pattern []vg.Length, offset vg.Length) {
	l.Dashes, l.Offset = nil, offset.Points()
	sum := 0.0
	for _, x := range pattern {
		l.Dashes = append(l.Dashes, x.Points())
		sum += x.Points()
	}
	if !(sum > 0) {
		l.Dashes = nil
	}
}
