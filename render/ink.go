package render

import (
	"image/color"

	"sextant/inverter"
)

// Rule returns the colour of grids.
func (t Theme) Rule() color.Color { return t.inks().rule }

// Phase returns the colour of a phase.
func (t Theme) Phase(p inverter.Phase) color.Color { return t.inks().phase[p] }

// Dash returns the line style of a phase, lengths on and off in units of a small length; nil is a solid line.
func Dash(p inverter.Phase) []float64 { return dashes[p] }
