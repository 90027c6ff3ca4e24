// Package picture makes still pictures of the stage for files: a scenario at a time, as PNG, SVG or PDF.
package picture

import (
	"fmt"
	"path/filepath"
	"strings"
)

// A Format is a kind of picture file.
type Format uint8

// The formats. SVG and PDF keep text as text and carry the fonts that it is set in.
const (
	PNG Format = iota
	SVG
	PDF
)

var formatNames = [3]string{"png", "svg", "pdf"}

// String returns the format's name, which is also its files' extension.
func (f Format) String() string {
	if int(f) < len(formatNames) {
		return formatNames[f]
	}
	return fmt.Sprintf("Format(%d)", uint8(f))
}

// FormatOf returns the format that a file's name asks for, and fails for a name that asks for none.
func FormatOf(file string) (Format, error) {
	ext := strings.TrimPrefix(strings.ToLower(filepath.Ext(file)), ".")
	for i, name := range formatNames {
		if ext == name {
			return Format(i), nil
		}
	}
	return 0, fmt.Errorf("%q names no kind of picture; pictures end in .png, .svg or .pdf", file)
}
