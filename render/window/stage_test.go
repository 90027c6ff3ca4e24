//go:build display

package window

import (
	"image"
	"testing"

	"github.com/hajimehoshi/ebiten/v2"
	"gonum.org/v1/plot/vg"

	"sextant/motor/scenario"
	"sextant/render"
	"sextant/render/picture/raster"
	"sextant/render/window/show"
)

// The window's stage is that of stills and films: the one drawn here and the one drawn for files agree, in every theme, but for the rounding of edges and for text, which the window sets to whole pixels.
func TestStageAgreesWithStill(t *testing.T) {
	const w, h = 960, 540
	sc, err := scenario.Open("trainer-pwm")
	if err != nil {
		t.Fatal(err)
	}
	s, err := show.New([]show.Choice{{Name: "trainer-pwm", Scenario: sc}}, 0, false)
	if err != nil {
		t.Fatal(err)
	}
	var c Canvas
	for _, theme := range render.Themes {
		s.SetTheme(theme)
		v := s.View()
		l := render.Arrange(render.Everything, vg.Rectangle{Max: vg.Point{X: w, Y: h}}, 1)

		// Files have 4 pixels to 3 points, the window has one to each.
		ref := image.NewRGBA(image.Rect(0, 0, w, h))
		render.Draw(raster.New(ref), render.Arrange(render.Everything, vg.Rectangle{Max: vg.Point{X: w * 0.75, Y: h * 0.75}}, 1), &v)

		target := ebiten.NewImage(w, h)
		c.On(target)
		render.DrawStill(&c, l, &v)
		render.DrawMoving(&c, l, &v)
		c.Flush()
		agree(t, theme.String(), target, ref, 0.015, 1000)
	}
}
