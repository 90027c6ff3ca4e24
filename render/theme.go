package render

import (
	"fmt"
	"image/color"
	"strings"

	"sextant/inverter"
)

// A Theme is a set of colours for a place: a lit room, a dark one, a projector, paper.
type Theme uint8

// The themes. Projector keeps text at a contrast of at least 7:1, the others at 4.5:1 (WCAG 2.2, success
// criteria 1.4.6 and 1.4.3).
const (
	Dark Theme = iota
	Light
	Projector
	Print
	themes // how many
)

var themeNames = [themes]string{"dark", "light", "projector", "print"}

// Themes lists all themes, for ranging over.
var Themes = [themes]Theme{Dark, Light, Projector, Print}

// String returns the theme's name as flags have it.
func (t Theme) String() string {
	if t < themes {
		return themeNames[t]
	}
	return fmt.Sprintf("Theme(%d)", uint8(t))
}

// MarshalText returns the theme's name.
func (t Theme) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

// UnmarshalText reads a theme's name and refuses all else.
func (t *Theme) UnmarshalText(text []byte) error {
	for i, name := range themeNames {
		if string(text) == name {
			*t = Theme(i)
			return nil
		}
	}
	return fmt.Errorf("%q is not a theme; themes are %s", text, strings.Join(themeNames[:], ", "))
}

// Ground returns the colour behind everything.
func (t Theme) Ground() color.Color { return t.inks().ground }

// Text returns the colour of plain text on the ground.
func (t Theme) Text() color.Color { return t.inks().text }

// Panel returns the colour of raised surfaces, on which Text is legible too.
func (t Theme) Panel() color.Color { return t.inks().panel }

// Accent returns the colour of what is on, chosen or pointed at.
func (t Theme) Accent() color.Color { return t.inks().accent }

// Muted returns the colour of secondary text.
func (t Theme) Muted() color.Color { return t.inks().muted }

// Rule returns the colour of grids.
func (t Theme) Rule() color.Color { return t.inks().rule }

// Inks returns all colours of the theme, opaque, the ground first, then the other surfaces: panel, iron and the
// magnet's poles.
func (t Theme) Inks() []color.Color {
	k := t.inks()
	return append([]color.Color{
		k.ground, k.panel, k.iron, k.north, k.south,
		k.bore, k.rule, k.wire, k.text, k.muted, k.accent, k.field, k.volt, k.pull, k.heat,
	}, k.phase[:]...)
}

// Phase returns the colour of a phase.
func (t Theme) Phase(p inverter.Phase) color.Color { return t.inks().phase[p] }

func (t Theme) inks() *inks { return &palettes[t.known()] }

// known returns t, or the first theme for one that is none.
func (t Theme) known() Theme {
	if t < themes {
		return t
	}
	return Dark
}
