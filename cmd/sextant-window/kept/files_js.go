package kept

import (
	"errors"
	"strings"
	"syscall/js"
)

// Files are what a page can do for its user: let the browser download what is saved, and ask for what to open.
type Files struct {
	picker js.Value
	chosen []chosen
}

// NewFiles returns the page's files.
func NewFiles() *Files { return &Files{} }

// Save has the browser download data as a file of that name.
func (*Files) Save(name, _ string, data []byte) (string, error) {
	kind := "application/toml"
	if strings.HasSuffix(name, ".csv") {
		kind = "text/csv"
	}
	bytes := js.Global().Get("Uint8Array").New(len(data))
	js.CopyBytesToJS(bytes, data)
	blob := js.Global().Get("Blob").New([]any{bytes}, map[string]any{"type": kind})
	address := js.Global().Get("URL").Call("createObjectURL", blob)
	link := js.Global().Get("document").Call("createElement", "a")
	link.Set("href", address)
	link.Set("download", name)
	link.Call("click")
	const minute = 60000 // ms; some browsers begin later than they are told
	js.Global().Call("setTimeout", js.Global().Get("URL").Get("revokeObjectURL").Call("bind", js.Global().Get("URL")), minute, address)
	return name + " among your downloads", nil
}

// Recent lists nothing: a page does not see its user's files.
func (*Files) Recent() []string { return nil }

// Remember remembers nothing.
func (*Files) Remember(string) error { return nil }

// Read reads nothing.
func (*Files) Read(string) ([]byte, error) {
	return nil, errors.New("a page cannot open files by name; open it from the panel of files, or drop it on the picture")
}
