package canvas

import (
	"math"
	"testing"

	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
)

// A word is as long as the font's own face says that sets it, at a size where a unit of the font is a pixel; the face goes by
// the same tables in another way.
func TestSpacing(t *testing.T) {
	f, err := opentype.Parse(liberationsansregular.TTF)
	if err != nil {
		t.Fatal(err)
	}
	const em = 2048 // units, as the font's head says
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: em, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		t.Fatal(err)
	}
	s := SpacingOf(f)
	for range 2 { // asked again, it remembers
		for _, word := range []string{"Sextant", "0123456789", "µΩ –°", "\U0010ffff"} {
			got := 0.0
			for _, r := range word {
				got += s.Advance(r)
			}
			want := 0.0
			for _, r := range word {
				w, _ := face.GlyphAdvance(r)
				want += float64(w) / 64 / em
			}
			if math.Abs(got-want) > 1e-9 || got == 0 {
				t.Errorf("%q is %g em long, want %g", word, got, want)
			}
		}
		if k := s.Kern('A', 'V'); k != -152.0/em { // from memory
			t.Errorf("V stands %g em further from A", k)
		}
		if k := s.Kern('0', '1'); k != 0 {
			t.Errorf("digits stand %g em apart", k)
		}
	}
}
