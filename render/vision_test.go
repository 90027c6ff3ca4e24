package render

import (
	"image/color"
	"math"
	"testing"
)

// Eyes that lack a kind of cone, as matrices on linear RGB: Machado, Oliveira, Fernandes, "A physiologically-based model
// for simulation of color vision deficiency", IEEE Trans. Visualization and Computer Graphics 15 (2009) 1291,
// severity 1 (from memory). Each row sums to 1, so that greys stay as they are.
var eyes = map[string][3][3]float64{
	"all cones": {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"no long-wave cones": {
		{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998},
	},
	"no middle-wave cones": {
		{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881},
	},
	"no short-wave cones": {
		{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900},
	},
}

// seen returns the coordinates in CIE 1976 L*a*b*, white being D65, of a colour as an eye sees it.
func seen(c color.Color, eye [3][3]float64) (lab [3]float64) {
	n := color.NRGBAModel.Convert(c).(color.NRGBA)
	rgb := [3]float64{linear(n.R), linear(n.G), linear(n.B)}
	var s [3]float64
	for k, row := range eye {
		s[k] = max(0, min(1, row[0]*rgb[0]+row[1]*rgb[1]+row[2]*rgb[2]))
	}
	// IEC 61966-2-1: linear sRGB to XYZ over that of white.
	f := func(r, g, b, white float64) float64 {
		t := (r*s[0] + g*s[1] + b*s[2]) / white
		if t > 216.0/24389 {
			return math.Cbrt(t)
		}
		return (24389.0/27*t + 16) / 116
	}
	x := f(0.4124, 0.3576, 0.1805, 0.9505)
	y := f(0.2126, 0.7152, 0.0722, 1)
	z := f(0.0193, 0.1192, 0.9505, 1.0890)
	return [3]float64{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

// difference returns the colour difference CIE 1976 of two colours to an eye; 2.3 is just noticed (common practice).
func difference(a, b color.Color, eye [3][3]float64) float64 {
	p, q := seen(a, eye), seen(b, eye)
	return math.Hypot(math.Hypot(p[0]-q[0], p[1]-q[1]), p[2]-q[2])
}

// The simulation itself: white is L* 100, mid grey 767676 has L* 49.6 to every eye, and red and green of one lightness
// come together where a cone is missing.
func TestColourVision(t *testing.T) {
	for name, eye := range eyes {
		for _, row := range eye {
			if sum := row[0] + row[1] + row[2]; math.Abs(sum-1) > 2e-6 {
				t.Errorf("%s: a row sums to %g", name, sum)
			}
		}
		for c, want := range map[color.Color]float64{color.White: 100, rgb(0x767676): 49.6} {
			if got := seen(c, eye); math.Abs(got[0]-want) > 0.1 || math.Hypot(got[1], got[2]) > 0.1 {
				t.Errorf("%s: %v is seen as %.2f", name, c, got)
			}
		}
	}
	red, green := rgb(0xD55E00), rgb(0x8C8C00)
	whole, without := difference(red, green, eyes["all cones"]), difference(red, green, eyes["no middle-wave cones"])
	if without > whole/2 {
		t.Errorf("red and green differ by %.1f, without a cone by %.1f", whole, without)
	}
}

// Whatever cones an eye has, phases stay apart from each other, poles from each other, and what is on from what is off.
func TestColoursStayApart(t *testing.T) {
	for _, theme := range Themes {
		k := theme.inks()
		for name, eye := range eyes {
			apart := func(what string, a, b color.Color, least float64) {
				if got := difference(a, b, eye); got < least {
					t.Errorf("%v, %s: %s differ by %.1f, want %.0f", theme, name, what, got, least)
				}
			}
			apart("U and V", k.phase[0], k.phase[1], 15)
			apart("V and W", k.phase[1], k.phase[2], 15)
			apart("W and U", k.phase[2], k.phase[0], 15)
			apart("north and south", k.north, k.south, 15)
			apart("on and off", k.accent, k.wire, 20)
			apart("a north tooth and iron", k.north, k.iron, 10)
			apart("a south tooth and iron", k.south, k.iron, 10)
		}
	}
}
