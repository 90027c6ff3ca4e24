package main

import (
	"syscall/js"

	"sextant/render/window/show"
)

// handed returns the scenario's file that the page's address holds; text is nil where there is none.
func handed() (name string, text []byte) {
	file := js.Global().Get("sextantHanded")
	if !file.Truthy() {
		return "", nil
	}
	return file.Get("name").String(), []byte(file.Get("text").String())
}

// share gives the page a function sextantOwn, which returns the scenario as a file where it is not a built-in one as
// that stands, else nothing.
func share(s *show.Show) {
	js.Global().Set("sextantOwn", js.FuncOf(func(js.Value, []js.Value) any { return string(s.Own()) }))
}
