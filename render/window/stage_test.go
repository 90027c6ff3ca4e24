//go:build display

package window

import (
	"image"
	"os"
	"path/filepath"
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
		got := image.NewRGBA(image.Rect(0, 0, w, h))
		target.ReadPixels(got.Pix)

		sum, far := 0.0, 0
		for y := range h {
			for x := range w {
				d := distance(got.At(x, y), ref.Image().At(x, y))
				sum += d
				if d > 0.5 {
					far++
				}
			}
		}
		mean := sum / (w * h)
		t.Logf("%v: mean difference %.5f, %d of %d pixels far off", theme, mean, far, w*h)
		if mean > 0.02 || far > w*h/700 {
			t.Errorf("%v: mean difference %.4f, %d of %d pixels far off", theme, mean, far, w*h)
		}
		if dir := os.Getenv("PICTURES"); dir != "" {
			save(t, filepath.Join(dir, theme.String()+"-window.png"), got)
			save(t, filepath.Join(dir, theme.String()+"-image.png"), ref.Image())
		}
	}
}
