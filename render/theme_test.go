package render

import (
	"image/color"
	"math"
	"testing"
)

// linear is the light of a channel of sRGB, 0 to 1.
func linear(v uint8) float64 {
	s := float64(v) / 255
	if s <= 0.04045 {
		return s / 12.92
	}
	return math.Pow((s+0.055)/1.055, 2.4)
}

// luminance is the relative luminance of WCAG 2.2.
func luminance(c color.Color) float64 {
	n := color.NRGBAModel.Convert(c).(color.NRGBA)
	return 0.2126*linear(n.R) + 0.7152*linear(n.G) + 0.0722*linear(n.B)
}

// contrast is the contrast ratio of WCAG 2.2, (L1 + 0.05)/(L2 + 0.05).
func contrast(a, b color.Color) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// The ratios of the palette of Okabe & Ito to white and black, computed apart from this program.
func TestContrastRatios(t *testing.T) {
	for _, tt := range []struct {
		c              color.Color
		white, onBlack float64
	}{
		{orange, 2.25, 9.32}, {skyBlue, 2.31, 9.10}, {blueGreen, 3.42, 6.14}, {yellow, 1.32, 15.88},
		{blue, 5.19, 4.05}, {vermillion, 3.87, 5.43}, {purple, 3.06, 6.86},
	} {
		if w, b := contrast(tt.c, color.White), contrast(tt.c, color.Black); math.Abs(w-tt.white) > 0.01 || math.Abs(b-tt.onBlack) > 0.01 {
			t.Errorf("%v: %.2f on white, %.2f on black; want %.2f, %.2f", tt.c, w, b, tt.white, tt.onBlack)
		}
	}
}

// WCAG 2.2: text at least 4.5:1 (1.4.3), enhanced 7:1 (1.4.6); large text 3:1, enhanced 4.5:1; graphics 3:1
// (1.4.11).
func TestThemesAreLegible(t *testing.T) {
	for _, theme := range Themes {
		text, large, graphics := 4.5, 3.0, 3.0
		if theme == Projector {
			text, large = 7, 4.5
		}
		k := theme.inks()
		check := func(what string, a, b color.Color, least float64) {
			if got := contrast(a, b); got < least {
				t.Errorf("%v: %s has contrast %.2f, want %.1f", theme, what, got, least)
			}
		}
		check("text on ground", k.text, k.ground, text)
		check("text on panel", k.text, k.panel, text)
		check("muted text on ground", k.muted, k.ground, text)
		check("muted text on panel", k.muted, k.panel, text)
		check("accent on ground", k.accent, k.ground, text)
		check("ground on accent", k.ground, k.accent, text)
		check("winding letters on iron", k.text, k.iron, text)
		check("north's letter", k.text, k.north, text)
		check("south's letter", k.text, k.south, text)
		check("wires", k.wire, k.ground, graphics)
		check("field arrow", k.field, k.bore, graphics)
		check("voltage arrow", k.volt, k.panel, graphics)
		check("heat", k.heat, k.ground, graphics)
		for p, c := range k.phase {
			check("phase "+string("UVW"[p])+"'s line", c, k.ground, graphics)
			check("phase "+string("UVW"[p])+"'s line on the tape", c, k.panel, graphics)
			check("phase "+string("UVW"[p])+"'s line on a shaded step", c, over(k.step, k.panel), graphics)
			check("phase "+string("UVW"[p])+"'s letter", k.ground, c, large)
		}
	}
}

// over returns what a colour that is laid over another makes of it.
func over(a, b color.Color) color.Color {
	n := color.NRGBAModel.Convert(a).(color.NRGBA)
	share := float64(n.A) / 255
	n.A = 255
	return Mix(b, n, share)
}

func TestReadTheme(t *testing.T) {
	for _, theme := range Themes {
		var got Theme
		if err := got.UnmarshalText([]byte(theme.String())); err != nil || got != theme {
			t.Errorf("%v reads back as %v", theme, got)
		}
	}
	if err := new(Theme).UnmarshalText([]byte("sepia")); err == nil {
		t.Error("sepia is taken for a theme")
	}
}
