package render

import (
	"image"
	"image/color"
	"testing"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"

	"sextant/inverter/pattern"
)

// nothing is a canvas that draws nothing, for measuring what drawing on it costs before any pixel.
type nothing struct{ paths, comps int }

func (*nothing) SetLineWidth(vg.Length)                 {}
func (*nothing) SetLineDash([]vg.Length, vg.Length)     {}
func (*nothing) SetColor(color.Color)                   {}
func (*nothing) Rotate(float64)                         {}
func (*nothing) Translate(vg.Point)                     {}
func (*nothing) Scale(float64, float64)                 {}
func (*nothing) Push()                                  {}
func (*nothing) Pop()                                   {}
func (n *nothing) Stroke(p vg.Path)                     { n.paths++; n.comps += len(p) }
func (n *nothing) Fill(p vg.Path)                       { n.paths++; n.comps += len(p) }
func (*nothing) FillString(font.Face, vg.Point, string) {}
func (*nothing) DrawImage(vg.Rectangle, image.Image)    {}

func BenchmarkDrawMoving(b *testing.B) {
	for _, k := range []pattern.Kind{pattern.SixStep180, pattern.SpaceVector} {
		b.Run(k.String(), func(b *testing.B) {
			v, l := demo(b, k, 0.1), Arrange(Everything, area(1920, 1080), 1)
			v.Span = 0.05
			var c nothing
			b.ReportAllocs()
			for b.Loop() {
				c = nothing{}
				DrawMoving(&c, l, v)
			}
			b.ReportMetric(float64(c.paths), "paths")
			b.ReportMetric(float64(c.comps), "comps")
			b.ReportMetric(float64(len(v.Tape)), "instants")
		})
	}
}

func BenchmarkDrawStill(b *testing.B) {
	v, l := demo(b, pattern.SpaceVector, 0.02), Arrange(Everything, area(1920, 1080), 1)
	b.ReportAllocs()
	for b.Loop() {
		DrawStill(&nothing{}, l, v)
	}
}
