package show

import (
	"sextant/inverter"
	"sextant/render"
)

// A Taste is what a spectator likes and finds again: how the picture looks, not what it shows.
type Taste struct {
	Theme     render.Theme       `toml:"theme" json:"theme"`
	Numbering inverter.Numbering `toml:"numbering" json:"numbering"`
	Text      int                `toml:"text" json:"text"` // step of the text's size, from 0
}

// Taste returns how the picture looks.
func (s *Show) Taste() Taste { return Taste{s.theme, s.numbering, s.text} }

// SetTaste makes the picture look so. A step of text that there is not is left out.
func (s *Show) SetTaste(t Taste) {
	s.theme, s.numbering, s.changed = t.Theme, t.Numbering, true
	if t.Text >= 0 && t.Text < len(textSizes) {
		s.text = t.Text
	}
}
