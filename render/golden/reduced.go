package golden

import (
	"cmp"
	"image"
	"image/color"
	"slices"
)

// reduced returns img with 256 colours: those that most of its pixels have, alike ones taken as one.
func reduced(img *image.RGBA) *image.Paletted {
	const alike = 3 // bits of a channel that are not told apart
	count := map[color.RGBA]int{}
	first := map[color.RGBA]color.RGBA{}
	for i := 0; i < len(img.Pix); i += 4 {
		c := color.RGBA{img.Pix[i], img.Pix[i+1], img.Pix[i+2], 255}
		kind := color.RGBA{c.R >> alike, c.G >> alike, c.B >> alike, 255}
		if count[kind]++; count[kind] == 1 {
			first[kind] = c
		}
	}
	kinds := make([]color.RGBA, 0, len(count))
	for kind := range count {
		kinds = append(kinds, kind)
	}
	slices.SortFunc(kinds, func(a, b color.RGBA) int {
		return cmp.Or(cmp.Compare(count[b], count[a]), cmp.Compare(a.R, b.R), cmp.Compare(a.G, b.G), cmp.Compare(a.B, b.B))
	})
	var palette color.Palette
	for _, kind := range kinds[:min(len(kinds), 256)] {
		palette = append(palette, first[kind])
	}
	p := image.NewPaletted(img.Rect, palette)
	nearest := nearest(palette)
	for y := img.Rect.Min.Y; y < img.Rect.Max.Y; y++ {
		for x := img.Rect.Min.X; x < img.Rect.Max.X; x++ {
			p.SetColorIndex(x, y, nearest(img.RGBAAt(x, y)))
		}
	}
	return p
}

// settle gives the pixels of img whose nearest colour is that of want that very colour, so that only those differ
// that would be kept otherwise.
func settle(img *image.RGBA, want *image.Paletted) {
	nearest := nearest(want.Palette)
	for y := img.Rect.Min.Y; y < img.Rect.Max.Y; y++ {
		for x := img.Rect.Min.X; x < img.Rect.Max.X; x++ {
			if k := want.ColorIndexAt(x, y); nearest(img.RGBAAt(x, y)) == k {
				img.Set(x, y, want.Palette[k])
			}
		}
	}
}

// nearest returns what finds the nearest colour of a palette, and remembers.
func nearest(palette color.Palette) func(color.RGBA) uint8 {
	known := map[color.RGBA]uint8{}
	return func(c color.RGBA) uint8 {
		k, ok := known[c]
		if !ok {
			k = uint8(palette.Index(c))
			known[c] = k
		}
		return k
	}
}
