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
	ebiten.KeyF5:         show.Fullscreen, // with which a presenter's remote begins
	ebiten.KeyEnter:      show.PressPart,
	ebiten.KeyTab:        show.NextPart,
	ebiten.KeyPageUp:     show.PreviousScene,
	ebiten.KeyPageDown:   show.NextScene,
	ebiten.KeyHome:       show.LookBack,
	ebiten.KeyEnd:        show.LookForward,
	ebiten.KeyF1:         show.Help,
}

// combined are those with the control key; another press of shift turns them round.
var combined = map[ebiten.Key][2]show.Wish{
	ebiten.KeyZ: {show.Undo, show.Redo},
	ebiten.KeyY: {show.Redo, show.Undo},
	ebiten.KeyS: {show.Save, show.SaveAs},
	ebiten.KeyO: {show.FilePanel, show.FilePanel},
}

// struck returns the wishes of keys that were struck since the last update, or are held down and repeat themselves. Ebitengine
// tells what was pressed and what was typed apart from each other, and not which came first; what was typed comes last here.
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
	return append(wishes, typed()...)
}

// write hands a show what is typed for it, where it asks for that, and reports whether it does.
func (in *input) write(s *show.Show) bool {
	if !s.Typing() {
		return false
	}
	for _, r := range ebiten.AppendInputChars(nil) {
		s.Type(r)
	}
	struck := func(key ebiten.Key) bool {
		return inpututil.IsKeyJustPressed(key) || repeats(inpututil.KeyPressDuration(key))
	}
	switch {
	case struck(ebiten.KeyBackspace):
		s.Erase()
	case struck(ebiten.KeyEnter), struck(ebiten.KeyNumpadEnter):
		s.Do(show.Save)
	case struck(ebiten.KeyEscape):
		s.Do(show.SaveAs)
	}
	return true
}

// typed returns the wishes of what was typed since the last update.
func typed() (wishes []show.Wish) {
	if ebiten.IsKeyPressed(ebiten.KeyControl) && !ebiten.IsKeyPressed(ebiten.KeyAlt) {
		return nil // what a letter does with it is not what it types; with Alt, it is how some keyboards type
	}
	// A key that is down but was not pressed just now repeats itself. (One that was pressed and let go since
	// the last update is not seen as a key at all, but what it typed is.)
	held := len(inpututil.AppendJustPressedKeys(nil)) == 0 && len(inpututil.AppendPressedKeys(nil)) > 0
	for _, r := range ebiten.AppendInputChars(nil) {
		if w := show.Typed(r); w.Repeats() || !held {
			wishes = append(wishes, w)
		}
	}
	return wishes
}

// pressed reports whether the pointer was pressed since the last update, given whether it is down; the
// place is nil where it is that of the pointer.
func (in *input) pressed(down bool) (yes bool, at *[2]float64) { return down && !in.down, nil }
