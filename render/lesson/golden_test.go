package lesson_test

import (
	"testing"

	"gonum.org/v1/plot/vg"

	"sextant/render"
	"sextant/render/film"
	"sextant/render/golden"
	"sextant/render/lesson"
	"sextant/render/picture"
)

// Each lesson's first scene a while after its start, in each theme, as a film shows it.
func TestFirstScenes(t *testing.T) {
	for _, name := range lesson.Names() {
		l, err := lesson.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, theme := range render.Themes {
			t.Run(name+"-"+theme.String(), func(t *testing.T) {
				t.Parallel()
				still := film.Still{Scene: &l.Scenes[0], Look: picture.Look{Size: picture.Size{Width: 320, Height: 180}}, Theme: theme}
				draw, err := still.Draw()
				if err != nil {
					t.Fatal(err)
				}
				const point = 72.0 / 96
				golden.MatchesSmall(t, name+"-"+theme.String(), 320*point, 180*point, func(c vg.Canvas, _ vg.Rectangle) { draw(c) })
			})
		}
	}
}
