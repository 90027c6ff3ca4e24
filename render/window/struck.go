//go:build !js

package window

import (
	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/inpututil"

	"sextant/render/window/show"
)

// keys are those that type nothing.
var keys = map[ebiten.Key]show.Wish{
	ebiten.KeyArrowRight: show.NextEvent,
	ebiten.KeyArrowLeft:  show.PreviousEvent,
	ebiten.KeyArrowUp:    show.Faster,
	ebiten.KeyArrowDown:  show.Slower,
	ebiten.KeyEscape:     show.Dismiss,
	ebiten.KeyF11:        show.Fullscreen,
}

// struck returns the wishes of keys that type nothing and were struck since the last update, or are held
// down and repeat themselves.
func (in *input) struck() (wishes []show.Wish) {
	for key, w := range keys {
		if inpututil.IsKeyJustPressed(key) || w.Repeats() && repeats(inpututil.KeyPressDuration(key)) {
			wishes = append(wishes, w)
		}
	}
	return wishes
}

// pressed reports whether the pointer was pressed since the last update, given whether it is down; the
// place is nil where it is that of the pointer.
func (in *input) pressed(down bool) (yes bool, at *[2]float64) { return down && !in.down, nil }
