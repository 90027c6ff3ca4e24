//go:build embedded

package edition

import (
	"embed"
	"io/fs"
)

//go:embed built/sextant.wasm.gz built/wasm_exec.js
var built embed.FS

// Embedded returns the browser edition that is built into this program; ok is false where none is.
func Embedded() (files Files, ok bool, err error) {
	folder, err := fs.Sub(built, "built")
	if err != nil {
		return nil, true, err
	}
	files, err = load(folder)
	return files, true, err
}
