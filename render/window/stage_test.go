//go:build display

package window

import (
	"testing"

	"github.com/hajimehoshi/ebiten/v2"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"

	"sextant/motor/drive"
	"sextant/render"
	"sextant/render/window/show"
)

// The window's stage is the still's: the one drawn here and the one drawn by the plotting library agree, in
// every theme, but for the rounding of edges and for text, which the window sets to whole pixels.
func TestStageAgreesWithStill(t *testing.T) {
	const w, h = 960, 540
	sc, err := drive.Open("trainer-pwm")
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
		l := render.Arrange(vg.Rectangle{Max: vg.Point{X: w, Y: h}}, 1)

		ref := vgimg.NewWith(vgimg.UseWH(w, h), vgimg.UseDPI(72))
		render.Draw(ref, l, &v)

		target := ebiten.NewImage(w, h)
		c.On(target)
		render.DrawStill(&c, l, &v)
		render.DrawMoving(&c, l, &v)
		c.Flush()
		agree(t, theme.String(), target, ref.Image(), 0.02, 700)
	}
}
