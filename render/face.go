package render

import (
	"regexp"
	"strings"
	"sync"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	xfont "golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"

	"sextant/render/canvas"
)

// A typeface is one of the stage's two faces with its measures.
type typeface struct {
	face font.Face

	mu      sync.Mutex
	spacing *canvas.Spacing
}

// Fonts returns Liberation Sans, upright, regular and bold: no more, since a browser has to load what is linked.
var Fonts = sync.OnceValue(func() font.Collection {
	var c font.Collection
	for _, f := range []struct {
		weight xfont.Weight
		file   []byte
	}{{xfont.WeightNormal, liberationsansregular.TTF}, {xfont.WeightBold, liberationsansbold.TTF}} {
		face, err := opentype.Parse(f.file)
		if err != nil {
			panic("render: a font that is linked cannot be read: " + err.Error())
		}
		c = append(c, font.Face{Font: font.Font{Typeface: "Liberation", Variant: "Sans", Weight: f.weight}, Face: face})
	}
	return c
})

// regular and bold load the faces at first use. The font is Liberation Sans, which comes with the
// plotting library and has digits of one width.
var (
	regular = sync.OnceValue(func() *typeface { return newTypeface(xfont.WeightNormal) })
	bold    = sync.OnceValue(func() *typeface { return newTypeface(xfont.WeightBold) })
)

func newTypeface(weight xfont.Weight) *typeface {
	face := font.NewCache(Fonts()).Lookup(font.Font{Typeface: "Liberation", Variant: "Sans", Weight: weight}, 1)
	return &typeface{face: face, spacing: canvas.SpacingOf(face.Face)}
}

// CapHeight is that of Liberation Sans, in ems: letters and digits centred on it look centred.
const CapHeight = 0.69

// Face returns Liberation Sans, regular or bold, at a size.
func Face(weight xfont.Weight, size vg.Length) font.Face {
	if weight == xfont.WeightBold {
		return bold().sized(size)
	}
	return regular().sized(size)
}

// sized returns the face for drawing at a size.
func (t *typeface) sized(size vg.Length) font.Face {
	f := t.face
	f.Font.Size = size
	return f
}

// width returns how long s is when written at a size.
func (t *typeface) width(s string, size vg.Length) vg.Length {
	t.mu.Lock()
	defer t.mu.Unlock()
	ems, last := 0.0, rune(0)
	for _, r := range s {
		ems += t.spacing.Advance(r)
		if last != 0 {
			ems += t.spacing.Kern(last, r)
		}
		last = r
	}
	return vg.Length(ems) * size
}

// wrap breaks s, words parted by single spaces, into lines no wider than room at a size; a word wider than that has a line
// of its own.
func (t *typeface) wrap(lines []string, s string, size, room vg.Length) []string {
	lines = lines[:0]
	space := t.width(" ", size)
	start, end, used := 0, 0, vg.Length(0)
	for at := 0; at < len(s); {
		stop := at + nextBreak(s[at:])
		w := t.width(s[at:stop], size)
		if end > start && used+space+w > room {
			lines = append(lines, s[start:end])
			start, used = at, w
		} else {
			if end > start {
				used += space
			}
			used += w
		}
		end = stop
		at = stop + 1
	}
	if end > start {
		lines = append(lines, s[start:end])
	}
	return lines
}

// nextBreak returns where the first piece of s ends that a line may end with: at a space, but not one between
// a number and its unit or within a unit.
func nextBreak(s string) int {
	for i := 1; i < len(s)-1; i++ {
		if s[i] == ' ' && !(s[i-1] >= '0' && s[i-1] <= '9') && !(s[i-1] == 'N' && s[i+1] == 'm') {
			return i
		}
	}
	return len(s)
}

// spelt are units behind a number that have signs of their own.
var spelt = regexp.MustCompile(`[0-9] (deg|us|C)\b`)

var signs = map[string]string{"deg": "°", "us": " µs", "C": " °C"}

// Typeset returns s as all words on the stage are set: with the hyphens that stand for minus, those with a letter or digit on one side at most,
// set as en dashes: as wide as a digit, as legible as the plus, and in every back-end's character set; and with the
// units that files and scripts spell out, "60 deg", "5 us" and "65 C", written with their signs.
func Typeset(s string) string {
	if strings.Contains(s, " deg") || strings.Contains(s, " us") || strings.Contains(s, " C") {
		s = spelt.ReplaceAllStringFunc(s, func(unit string) string { return unit[:1] + signs[unit[2:]] })
	}
	if !strings.Contains(s, "-") {
		return s
	}
	word := func(i int) bool {
		return i >= 0 && i < len(s) && (s[i]|0x20 >= 'a' && s[i]|0x20 <= 'z' || s[i] >= '0' && s[i] <= '9')
	}
	var b strings.Builder
	for i := range len(s) {
		if s[i] == '-' && !(word(i-1) && word(i+1)) {
			b.WriteString("–")
		} else {
			b.WriteByte(s[i])
		}
	}
	return b.String()
}
