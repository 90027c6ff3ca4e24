package canvas

import (
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// A Spacing is how far the letters of a font reach and stand apart, remembered, since asking a font costs more than
// drawing. Lengths are in ems; a letter that the font has not is its sign for what is missing. One goroutine may use it
// at a time.
type Spacing struct {
	font     *sfnt.Font
	buf      sfnt.Buffer
	advances map[rune]float64
	kerns    map[[2]rune]float64
}

// SpacingOf returns that of a font.
func SpacingOf(f *sfnt.Font) *Spacing {
	return &Spacing{font: f, advances: map[rune]float64{}, kerns: map[[2]rune]float64{}}
}

// Advance returns how far the next letter stands behind r, but for what [Spacing.Kern] says.
func (s *Spacing) Advance(r rune) float64 {
	x, ok := s.advances[r]
	if !ok {
		if g, err := s.font.GlyphIndex(&s.buf, r); err == nil {
			w, _ := s.font.GlyphAdvance(&s.buf, g, s.em(), font.HintingNone) // 0 beside an error
			x = s.ems(w)
		}
		s.advances[r] = x
	}
	return x
}

// Kern returns how much further right stands from left than their advances say.
func (s *Spacing) Kern(left, right rune) float64 {
	pair := [2]rune{left, right}
	x, ok := s.kerns[pair]
	if !ok {
		a, err1 := s.font.GlyphIndex(&s.buf, left)
		b, err2 := s.font.GlyphIndex(&s.buf, right)
		if err1 == nil && err2 == nil {
			k, _ := s.font.Kern(&s.buf, a, b, s.em(), font.HintingNone) // 0 beside an error
			x = s.ems(k)
		}
		s.kerns[pair] = x
	}
	return x
}

// em is the size at which a unit of the font is 1/64, so that nothing is rounded.
func (s *Spacing) em() fixed.Int26_6 { return fixed.Int26_6(s.font.UnitsPerEm()) }

func (s *Spacing) ems(x fixed.Int26_6) float64 { return float64(x) / float64(s.font.UnitsPerEm()) }
