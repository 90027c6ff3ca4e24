package handout

import (
	"html"
	"image/color"
	"strings"
	"sync"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"

	"sextant/render"
)

// A style is how words are set.
type style struct {
	size vg.Length
	bold bool
	ink  color.Color
}

const (
	leading = 1.38 // distance of lines, in ems
	lowered = 0.2  // subscripts are by so much, in ems
	smaller = 0.72 // than the text are subscripts
)

func (s style) face() font.Face {
	weight := xfont.WeightNormal
	if s.bold {
		weight = xfont.WeightBold
	}
	return render.Face(weight, s.size)
}

// A run is a stretch of text that is set alike.
type run struct {
	text string
	sub  bool
}

// runs parts text at its subscripts.
func runs(text string) (all []run) {
	for {
		before, rest, ok := strings.Cut(text, "_{")
		if before != "" {
			all = append(all, run{before, false})
		}
		if !ok {
			return all
		}
		inside, after, _ := strings.Cut(rest, "}")
		all = append(all, run{inside, true})
		text = after
	}
}

// htmlOf returns text as HTML.
func htmlOf(text string) string {
	var b strings.Builder
	for _, r := range runs(render.Typeset(text)) {
		if r.sub {
			b.WriteString("<sub>" + html.EscapeString(r.text) + "</sub>")
		} else {
			b.WriteString(html.EscapeString(r.text))
		}
	}
	return b.String()
}

// widths remembers how long pieces of text are, in ems: they are measured often, and measuring is slow.
var widths sync.Map

type measured struct {
	text string
	bold bool
}

func (s style) width(text string) (w vg.Length) {
	for _, r := range runs(text) {
		ems := s.ems(r.text)
		if r.sub {
			ems *= smaller
		}
		w += ems * s.size
	}
	return w
}

func (s style) ems(text string) vg.Length {
	key := measured{text, s.bold}
	if w, ok := widths.Load(key); ok {
		return w.(vg.Length)
	}
	one := s
	one.size = 1
	f := one.face()
	w := f.Width(text)
	widths.Store(key, w)
	return w
}

// wrap breaks text into lines no wider than room.
func (s style) wrap(text string, room vg.Length) []string { return s.wrapAfter(0, text, room) }

// wrapAfter is wrap where the first line begins behind something; it is empty where nothing fits there.
func (s style) wrapAfter(used vg.Length, text string, room vg.Length) (lines []string) {
	line := ""
	for _, piece := range pieces(render.Typeset(text)) {
		longer := piece
		if line != "" {
			longer = line + " " + piece
		}
		if (line != "" || used > 0) && used+s.width(longer) > room {
			lines = append(lines, line)
			longer, used = piece, 0
		}
		line = longer
	}
	if line == "" && used == 0 {
		return lines
	}
	return append(lines, line)
}

// pieces parts text at the blanks where a line may end: not between a number and its unit.
func pieces(text string) (all []string) {
	for _, word := range strings.Fields(text) {
		if n := len(all); n > 0 && glued(all[n-1], word) {
			all[n-1] += " " + word
			continue
		}
		all = append(all, word)
	}
	return all
}

func glued(before, word string) bool {
	last := before[len(before)-1]
	switch {
	case strings.HasSuffix(before, " N") && strings.HasPrefix(word, "m"):
		return true
	case last < '0' || last > '9' || strings.ContainsRune(before, ' '):
		return false
	}
	unit := strings.TrimRight(word, ".,;:)?")
	for _, u := range []string{"V", "A", "W", "J", "s", "Hz", "Ω", "H", "Wb", "N", "rpm", "deg", "%", "°C", "C"} {
		if unit == u || len(unit) > len(u) && strings.HasSuffix(unit, u) && strings.Contains("mkMµun", strings.TrimSuffix(unit, u)) {
			return true
		}
	}
	return false
}

// write writes one line with its baseline's left end at x, y, and returns where it ends.
func (s style) write(c vg.Canvas, x, y vg.Length, text string) vg.Length {
	c.SetColor(s.ink)
	for _, r := range runs(render.Typeset(text)) {
		at, t := vg.Point{X: x, Y: y}, s
		if r.sub {
			t.size *= smaller
			at.Y -= lowered * s.size
		}
		c.FillString(t.face(), at, r.text)
		x += t.ems(r.text) * t.size
	}
	return x
}

// An align says which point of a text its place gives.
type align uint8

const (
	left align = iota
	centre
	right
)

// place writes one line with its middle at the height y.
func (s style) place(c vg.Canvas, a align, x, y vg.Length, text string) {
	w := s.width(render.Typeset(text))
	switch a {
	case centre:
		x -= w / 2
	case right:
		x -= w
	}
	s.write(c, x, y-render.CapHeight*s.size/2, text)
}
