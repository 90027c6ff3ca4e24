package window

import (
	"sync"
	"syscall/js"
	"unicode/utf8"

	"sextant/render/window/show"
)

// In a browser, a key or a tap can come and go between two frames, and its state at the frame knows nothing
// of it. So keys and presses are taken from the page's events, in the order in which they come.

// keys are those that type nothing.
var keys = map[string]show.Wish{
	"ArrowRight": show.NextEvent,
	"ArrowLeft":  show.PreviousEvent,
	"ArrowUp":    show.Faster,
	"ArrowDown":  show.Slower,
	"Escape":     show.Dismiss,
	"F11":        show.Fullscreen,
	"Enter":      show.PressPart,
	"Tab":        show.NextPart,
	"PageUp":     show.PreviousScene,
	"PageDown":   show.NextScene,
	"Home":       show.LookBack,
	"End":        show.LookForward,
	"F1":         show.Help,
}

// browsers are the keys that stay the browser's: to reload, and to look into the page.
var browsers = map[string]bool{"F5": true, "F12": true}

// waiting holds what was struck and pressed since the last update. Callbacks of the page and updates are
// different goroutines of one thread.
var waiting struct {
	wishes  []show.Wish
	presses [][2]float64 // in the page's pixels from its upper left corner
}

var listen = sync.OnceFunc(func() {
	window := js.Global()
	window.Call("addEventListener", "keydown", js.FuncOf(func(_ js.Value, args []js.Value) any {
		strike(args[0])
		return nil
	}), true)
	window.Call("addEventListener", "pointerdown", js.FuncOf(func(_ js.Value, args []js.Value) any {
		if e := args[0]; e.Get("isPrimary").Bool() && e.Get("button").Int() == 0 {
			waiting.presses = append(waiting.presses, [2]float64{e.Get("clientX").Float(), e.Get("clientY").Float()})
		}
		return nil
	}), true)
})

// strike takes a key that was struck on the picture, or leaves it to the browser. Whatever Ebitengine sees it keeps from
// the browser.
func strike(e js.Value) {
	is := func(what string) bool { return e.Get(what).Bool() }
	if !e.Get("target").InstanceOf(js.Global().Get("HTMLCanvasElement")) {
		return // the page hands the picture what nothing else wants
	}
	name := e.Get("key").String()
	w := keys[name]
	typed, n := utf8.DecodeRuneInString(name)
	types := n == len(name)
	switch {
	case types && e.Call("getModifierState", "AltGraph").Bool(): // some browsers tell of the control key and Alt with it
		w = show.Typed(typed)
	case is("altKey"), browsers[name]:
		e.Call("stopImmediatePropagation")
		return
	case is("ctrlKey"), is("metaKey"):
		e.Call("stopImmediatePropagation")
		if w = chord(name); w == show.None {
			return
		}
		e.Call("preventDefault")
	case types:
		w = show.Typed(typed)
	case w == show.NextPart && is("shiftKey"):
		w = show.PreviousPart
	}
	if w.Repeats() || !is("repeat") {
		waiting.wishes = append(waiting.wishes, w)
	}
}

// chord returns what a key does with the control key: what it does in any editor.
func chord(name string) show.Wish {
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

// struck returns the wishes of keys that were struck since the last update, or are held down and repeat themselves, in
// their order.
func (in *input) struck() (wishes []show.Wish) {
	listen()
	wishes, waiting.wishes = waiting.wishes, nil
	return wishes
}

// write reports that nothing is typed for a show: the browser asks for names.
func (in *input) write(*show.Show) bool { return false }

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
