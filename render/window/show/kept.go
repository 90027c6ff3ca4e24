package show

import (
	"slices"
	"strings"

	"sextant/inverter"
	"sextant/render"
)

// A Taste is what a spectator likes and finds again: how the picture looks, not what it shows.
type Taste struct {
	Theme     render.Theme       `toml:"theme" json:"theme"`
	Numbering inverter.Numbering `toml:"numbering" json:"numbering"`
	Text      int                `toml:"text" json:"text"`   // step of the text's size, from 0
	Lanes     string             `toml:"lanes" json:"lanes"` // of the tape, from the top, with commas; empty for the usual ones
}

// Taste returns how the picture looks.
func (s *Show) Taste() Taste {
	var names []string
	for _, k := range s.tapeTaste.lanes {
		names = append(names, k.String())
	}
	return Taste{s.theme, s.numbering, s.text, strings.Join(names, ",")}
}

// SetTaste makes the picture look so. A step of text or a lane that there is not is left out.
func (s *Show) SetTaste(t Taste) {
	s.theme, s.numbering, s.changed = t.Theme, t.Numbering, true
	if t.Text >= 0 && t.Text < len(textSizes) {
		s.text = t.Text
	}
	var lanes []render.Lane
	for name := range strings.SplitSeq(t.Lanes, ",") {
		if k, err := render.ParseLane(name); err == nil && !slices.Contains(lanes, k) {
			lanes = append(lanes, k)
		}
	}
	s.setLanes(lanes)
}
