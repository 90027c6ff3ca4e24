package window

import (
	"sync"
	"syscall/js"

	"sextant/render/window/show"
)

// In a browser, a key or a tap can come and go between two frames, and its state at the frame knows nothing
// of it. So presses are taken from the page's events.

// keys are those that type nothing.
var keys = map[string]show.Wish{
	"ArrowRight": show.NextEvent,
	"ArrowLeft":  show.PreviousEvent,
	"ArrowUp":    show.Faster,
	"ArrowDown":  show.Slower,
	"Escape":     show.Dismiss,
	"F11":        show.Fullscreen,
	"Enter":      show.PressPart,
	"PageUp":     show.MuchFaster,
	"PageDown":   show.MuchSlower,
	"Home":       show.LookBack,
	"End":        show.LookForward,
	"F1":         show.Help,
}

// browsers are the keys that stay the browser's: to reload, to look into the page, to move on.
var browsers = map[string]bool{"F5": true, "F12": true, "Tab": true}

// waiting holds what was struck and pressed since the last update. Callbacks of the page and updates are
// different goroutines of one thread.
var waiting struct {
	wishes  []show.Wish
	presses [][2]float64 // in the page's pixels from its upper left corner
}

var listen = sync.OnceFunc(func() {
	window := js.Global()
	window.Call("addEventListener", "keydown", js.FuncOf(func(_ js.Value, args []js.Value) any {
		e := args[0]
		name := e.Get("key").String()
		if w := chord(e, name); w != show.None {
			waiting.wishes = append(waiting.wishes, w)
			e.Call("preventDefault")
			e.Call("stopImmediatePropagation")
			return nil
		}
		if e.Get("ctrlKey").Bool() || e.Get("metaKey").Bool() || e.Get("altKey").Bool() || browsers[name] {
			e.Call("stopImmediatePropagation") // Ebitengine would keep it from the browser
			return nil
		}
		w := keys[name]
		if w != show.None && (w.Repeats() || !e.Get("repeat").Bool()) {
			waiting.wishes = append(waiting.wishes, w)
		}
		return nil
	}), true)
	window.Call("addEventListener", "pointerdown", js.FuncOf(func(_ js.Value, args []js.Value) any {
		if e := args[0]; e.Get("isPrimary").Bool() && e.Get("button").Int() == 0 {
			waiting.presses = append(waiting.presses, [2]float64{e.Get("clientX").Float(), e.Get("clientY").Float()})
		}
		return nil
	}), true)
})

// chord returns what a key does with the control key: what it does in any editor.
func chord(e js.Value, name string) show.Wish {
	if !e.Get("ctrlKey").Bool() && !e.Get("metaKey").Bool() || e.Get("altKey").Bool() {
		return show.None
	}
	switch name {
	case "z":
		return show.Undo
	case "Z", "y":
		return show.Redo
	case "s":
		return show.Save
	case "o":
		return show.OpenFile
	}
	return show.None
}

// struck returns the wishes of keys that type nothing and were struck since the last update, or are held
// down and repeat themselves.
func (in *input) struck() (wishes []show.Wish) {
	listen()
	wishes, waiting.wishes = waiting.wishes, nil
	return wishes
}

// pressed reports whether the pointer was pressed since the last update, and where. One press is taken an
// update.
func (in *input) pressed(bool) (yes bool, at *[2]float64) {
	if len(waiting.presses) == 0 {
		return false, nil
	}
	at = &waiting.presses[0]
	waiting.presses = waiting.presses[1:]
	return true, at
}
