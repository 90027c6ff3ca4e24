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
	ebiten.KeyEnter:      show.PressPart,
	ebiten.KeyTab:        show.NextPart,
	ebiten.KeyPageUp:     show.MuchFaster,
	ebiten.KeyPageDown:   show.MuchSlower,
	ebiten.KeyHome:       show.LookBack,
	ebiten.KeyEnd:        show.LookForward,
	ebiten.KeyF1:         show.Help,
}

// combined are those with the control key; another press of shift turns them round.
var combined = map[ebiten.Key][2]show.Wish{
	ebiten.KeyZ: {show.Undo, show.Redo},
	ebiten.KeyY: {show.Redo, show.Undo},
	ebiten.KeyS: {show.Save, show.Save},
	ebiten.KeyO: {show.FilePanel, show.FilePanel},
}

// struck returns the wishes of keys that type nothing and were struck since the last update, or are held
// down and repeat themselves.
func (in *input) struck() (wishes []show.Wish) {
	for key, w := range keys {
		if inpututil.IsKeyJustPressed(key) || w.Repeats() && repeats(inpututil.KeyPressDuration(key)) {
			if w == show.NextPart && ebiten.IsKeyPressed(ebiten.KeyShift) {
				w = show.PreviousPart
			}
			wishes = append(wishes, w)
		}
	}
	if ebiten.IsKeyPressed(ebiten.KeyControl) || ebiten.IsKeyPressed(ebiten.KeyMeta) {
		for key, w := range combined {
			switch {
			case !inpututil.IsKeyJustPressed(key):
			case ebiten.IsKeyPressed(ebiten.KeyShift):
				wishes = append(wishes, w[1])
			default:
				wishes = append(wishes, w[0])
			}
		}
	}
	return wishes
}

// pressed reports whether the pointer was pressed since the last update, given whether it is down; the
// place is nil where it is that of the pointer.
func (in *input) pressed(down bool) (yes bool, at *[2]float64) { return down && !in.down, nil }
