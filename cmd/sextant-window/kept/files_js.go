package kept

import (
	"errors"
	"strings"
	"syscall/js"
)

// Files are what a page can do for its user: let the browser download what is saved.
type Files struct{}

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
	js.Global().Get("URL").Call("revokeObjectURL", address)
	return name + " among your downloads", nil
}

// Recent lists nothing: a page does not see its user's files.
func (*Files) Recent() []string { return nil }

// Remember remembers nothing.
func (*Files) Remember(string) error { return nil }

// Read reads nothing.
func (*Files) Read(string) ([]byte, error) {
	return nil, errors.New("a page cannot open files by name; drop the file on the picture")
}
