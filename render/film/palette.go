package film

import (
	"image"
	"image/color"

	"sextant/render"
)

// transparent is the index of what a GIF frame leaves as it was.
const transparent = 255

// A palette has the inks of a theme and the shades between them and the surfaces that they are drawn on, which
// smooth edges have. As it is the same for all frames, what does not move does not flicker.
type palette struct {
	colors  color.Palette // 256, the last for what is transparent
	nearest []uint8       // by the upper 6 bits of red, green and blue
}

func newPalette(theme render.Theme) *palette {
	inks := theme.Inks()
	p := &palette{}
	seen := map[color.RGBA]bool{}
	add := func(c color.RGBA) {
		if !seen[c] && len(p.colors) < transparent {
			seen[c] = true
			p.colors = append(p.colors, c)
		}
	}
	for _, ink := range inks {
		add(opaque(ink))
	}
	// The ground has most edges on it, the panel fewer; iron carries the conductors, the poles letters.
	for surface, shades := range [...]int{8, 3, 3, 1, 1} {
		for _, ink := range inks {
			for k := 1; k <= shades; k++ {
				add(blend(opaque(inks[surface]), opaque(ink), k, shades+1))
			}
		}
	}
	p.nearest = make([]uint8, 1<<18)
	for i := range p.nearest {
		mid := func(shift int) uint8 { return uint8(i>>shift&63)<<2 | 2 }
		p.nearest[i] = uint8(p.colors.Index(color.RGBA{mid(12), mid(6), mid(0), 255}))
	}
	for k := len(p.colors) - 1; k >= 0; k-- { // an ink stays exact; the first of a cell wins
		c := p.colors[k].(color.RGBA)
		p.nearest[cell(c.R, c.G, c.B)] = uint8(k)
	}
	for len(p.colors) < transparent {
		p.colors = append(p.colors, color.RGBA{A: 255})
	}
	p.colors = append(p.colors, color.RGBA{})
	return p
}

func cell(r, g, b uint8) int { return int(r>>2)<<12 | int(g>>2)<<6 | int(b>>2) }

func opaque(c color.Color) color.RGBA {
	o := color.RGBAModel.Convert(c).(color.RGBA)
	o.A = 255
	return o
}

// blend returns the k-th of n steps from a to b.
func blend(a, b color.RGBA, k, n int) color.RGBA {
	mix := func(x, y uint8) uint8 { return uint8((int(x)*(n-k) + int(y)*k) / n) }
	return color.RGBA{mix(a.R, b.R), mix(a.G, b.G), mix(a.B, b.B), 255}
}

// indices returns the palette's indices of now within r, with what is the same as before left transparent.
func (p *palette) indices(before, now *image.RGBA, r image.Rectangle) []byte {
	out := make([]byte, 0, r.Dx()*r.Dy())
	for y := r.Min.Y; y < r.Max.Y; y++ {
		i := now.PixOffset(r.Min.X, y)
		for end := i + 4*r.Dx(); i < end; i += 4 {
			k := p.nearest[cell(now.Pix[i], now.Pix[i+1], now.Pix[i+2])]
			if before != nil && k == p.nearest[cell(before.Pix[i], before.Pix[i+1], before.Pix[i+2])] {
				k = transparent
			}
			out = append(out, k)
		}
	}
	return out
}
