package render

import (
	"image/color"

	"sextant/inverter"
)

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

// Dash returns the line style of a phase, lengths on and off in units of a small length; nil is a solid line.
func Dash(p inverter.Phase) []float64 { return dashes[p] }
