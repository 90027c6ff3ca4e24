// Package kept keeps how the window looked from one time that it is opened to the next: in the user's
// configuration directory, or in the browser's storage.
package kept

import (
	"bytes"
	"fmt"

	"github.com/pelletier/go-toml/v2"

	"sextant/render/window/show"
)

// A Look is what is kept. Width and Height are of the window, 0 where they are not known.
type Look struct {
	show.Taste
	Width  int `toml:"width"`
	Height int `toml:"height"`
}

// Read returns the look that was kept last, the zero Look where there is none. Where what was kept cannot be
// read it is set aside, and the error says where to.
func Read() (Look, error) {
	text, err := read()
	if err != nil || text == nil {
		return Look{}, err
	}
	var l Look
	d := toml.NewDecoder(bytes.NewReader(text))
	if err := d.Decode(&l); err != nil {
		where, failed := setAside()
		if failed != nil {
			return Look{}, fmt.Errorf("the last settings cannot be read: %w; and they cannot be set aside: %w", err, failed)
		}
		return Look{}, fmt.Errorf("the last settings cannot be read: %w; they were set aside as %s, and all is as at first", err, where)
	}
	return l, nil
}

// Write keeps l.
func Write(l Look) error {
	text, err := toml.Marshal(l)
	if err != nil {
		return err
	}
	if err := write(text); err != nil {
		return fmt.Errorf("the settings cannot be kept: %w", err)
	}
	return nil
}
