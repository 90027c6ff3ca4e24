package render

import "image/color"

// inks are a theme's colours by what they are for.
type inks struct {
	ground color.Color // behind everything
	panel  color.Color // surfaces
	rule   color.Color // hairlines and grids; never the only carrier of anything
	wire   color.Color // wires and symbols at rest
	step   color.Color // laid over every other step of the gates
	text   color.Color
	muted  color.Color // secondary text
	accent color.Color // what is on, chosen, pointed at; the now-line
	iron   color.Color // laminations
	bore   color.Color // air gap and slots
	north  color.Color // magnet poles, letters on them in text
	south  color.Color
	field  color.Color // current vector
	volt   color.Color // voltage vector
	pull   color.Color // torque
	heat   color.Color
	phase  [3]color.Color // U V W
}

func rgb(hex uint32) color.Color {
	return color.NRGBA{R: uint8(hex >> 16), G: uint8(hex >> 8), B: uint8(hex), A: 255}
}

// faded returns c with the given opacity, 0 to 1.
func faded(c color.Color, opacity float64) color.Color {
	n := color.NRGBAModel.Convert(c).(color.NRGBA)
	n.A = uint8(opacity * 255)
	return n
}

// The palette of Okabe & Ito, "Color Universal Design" (2002; revised 2008).
var (
	orange     = rgb(0xE69F00)
	skyBlue    = rgb(0x56B4E9)
	blueGreen  = rgb(0x009E73)
	yellow     = rgb(0xF0E442)
	blue       = rgb(0x0072B2)
	vermillion = rgb(0xD55E00)
	purple     = rgb(0xCC79A7)
)

// Which hues serve for the phases follows from their contrast to the ground: at least 3:1 for what is
// drawn (WCAG 2.2, 1.4.11), 7:1 in the projector's theme.
var palettes = [themes]inks{
	Dark: {
		ground: rgb(0x0D1218), panel: rgb(0x161E27), rule: rgb(0x2B3744), wire: rgb(0x8696A6), step: faded(rgb(0x8696A6), 0.13),
		text: rgb(0xF1EEE6), muted: rgb(0xA9B4BF), accent: rgb(0xF3D9A0),
		iron: rgb(0x2C3946), bore: rgb(0x0D1218), north: rgb(0x8A3B2E), south: rgb(0x2E5580),
		field: purple, volt: yellow, pull: rgb(0xF1EEE6), heat: vermillion,
		phase: [3]color.Color{orange, skyBlue, blueGreen},
	},
	Light: {
		ground: rgb(0xFAF8F3), panel: rgb(0xF5F2EB), rule: rgb(0xD5CFC2), wire: rgb(0x6B7178), step: faded(rgb(0xFFFFFF), 0.95),
		text: rgb(0x1B2026), muted: rgb(0x555C64), accent: rgb(0x7A4A00),
		iron: rgb(0xCFD3D6), bore: rgb(0xFAF8F3), north: rgb(0xE9A493), south: rgb(0x9FC0E0),
		field: rgb(0x8E3A6B), volt: rgb(0x6E6300), pull: rgb(0x1B2026), heat: vermillion,
		phase: [3]color.Color{vermillion, blue, blueGreen},
	},
	Projector: {
		ground: rgb(0x000000), panel: rgb(0x10151A), rule: rgb(0x4A545E), wire: rgb(0xB4BEC8), step: faded(rgb(0xB4BEC8), 0.13),
		text: rgb(0xFFFFFF), muted: rgb(0xD2D9E0), accent: rgb(0xFFE7B0),
		iron: rgb(0x3A4652), bore: rgb(0x000000), north: rgb(0x7A2A1E), south: rgb(0x1E4570),
		field: rgb(0xF09CCB), volt: rgb(0xFFFFFF), pull: rgb(0xFFFFFF), heat: orange,
		phase: [3]color.Color{orange, skyBlue, yellow},
	},
	Print: {
		ground: rgb(0xFFFFFF), panel: rgb(0xFFFFFF), rule: rgb(0xBBBBBB), wire: rgb(0x444444), step: faded(rgb(0x444444), 0.06),
		text: rgb(0x000000), muted: rgb(0x444444), accent: rgb(0x000000),
		iron: rgb(0xE3E3E3), bore: rgb(0xFFFFFF), north: rgb(0xEFBFB2), south: rgb(0xBBD3EC),
		field: rgb(0x8E3A6B), volt: rgb(0x333333), pull: rgb(0x000000), heat: vermillion,
		phase: [3]color.Color{vermillion, blue, blueGreen},
	},
}

// Mix returns the colour that is a share of the way from a to b, both opaque.
func Mix(a, b color.Color, share float64) color.Color {
	x, y := color.NRGBAModel.Convert(a).(color.NRGBA), color.NRGBAModel.Convert(b).(color.NRGBA)
	between := func(x, y uint8) uint8 { return uint8(float64(x) + share*(float64(y)-float64(x)) + 0.5) }
	return color.NRGBA{R: between(x.R, y.R), G: between(x.G, y.G), B: between(x.B, y.B), A: 255}
}
