package main

import (
	"encoding/json"
	"syscall/js"

	"sextant/render/window"
)

// watch gives the page a function sextantState, which returns as JSON what the show is at.
func watch() func(window.State) {
	latest := "{}"
	js.Global().Set("sextantState", js.FuncOf(func(js.Value, []js.Value) any { return latest }))
	return func(s window.State) {
		if text, err := json.Marshal(s); err == nil {
			latest = string(text)
		}
	}
}
