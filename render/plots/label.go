package plots

import (
	"image/color"
	"slices"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/vg"

	"sextant/render"
)

const (
	regular = xfont.WeightNormal
	bold    = xfont.WeightBold
)

// lengthOf returns how long s is when written.
func lengthOf(weight xfont.Weight, size vg.Length, s string) vg.Length {
	f := render.Face(weight, size)
	return f.Width(s)
}

// text writes s with its baseline at y; align says which part of its width lies left of x.
func (sh *sheet) text(weight xfont.Weight, size vg.Length, ink color.Color, x, y vg.Length, align float64, s string) {
	if s == "" {
		return
	}
	face := render.Face(weight, size)
	w := face.Width(s)
	if room := sh.c.Max.X - 0.5*sh.unit - x; align == 0 && w > room && room > 0 {
		face.Font.Size *= room / w
	}
	sh.c.SetColor(ink)
	sh.c.FillString(face, vg.Point{X: x - vg.Length(align)*w, Y: y}, s)
}

// A label is the height of a curve's name beside its end.
type label struct {
	y     vg.Length
	curve int
}

// spread moves labels apart until they are at least so far from one another, as little as the order of their
// heights and the bounds allow.
func spread(labels []label, apart, low, high vg.Length) {
	slices.SortStableFunc(labels, func(a, b label) int {
		switch {
		case a.y < b.y:
			return -1
		case a.y > b.y:
			return 1
		}
		return a.curve - b.curve
	})
	for range 4 * len(labels) { // each pass halves what is left of an overlap
		for i := 1; i < len(labels); i++ {
			if short := apart - (labels[i].y - labels[i-1].y); short > 0 {
				labels[i-1].y -= short / 2
				labels[i].y += short / 2
			}
		}
		for i := range labels {
			labels[i].y = min(max(labels[i].y, low), high)
		}
	}
}
