package show

import (
	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/vg"

	"sextant/render"
)

// letter is the size of a lesson's letters, in heights of a button, before the spectator's scale.
const letter = 0.4

const (
	leading = 1.3 // from line to line, in sizes
	longest = 52  // of a line, in sizes: longer ones are hard to read
)

func (t tone) weight() xfont.Weight {
	if t == strong {
		return xfont.WeightBold
	}
	return xfont.WeightNormal
}

// set breaks paragraphs into lines of letters of a size, and returns how tall they are.
func set(all []said, room, size vg.Length) (lines []said, tall vg.Length) {
	for _, p := range all {
		for _, line := range wrap(render.Typeset(p.text), face(size, p.how.weight()), min(room, longest*size)) {
			lines = append(lines, said{line, p.how})
		}
	}
	return lines, vg.Length(len(lines)) * size * leading
}

// words sets paragraphs in area, in letters of that size, or smaller if they would not fit.
func (b brush) words(all []said, area vg.Rectangle, size vg.Length) {
	room := area.Max.X - area.Min.X
	lines, tall := set(all, room, size)
	for tall > area.Max.Y-area.Min.Y && size > 1 {
		size *= 0.95
		lines, tall = set(all, room, size)
	}
	x := area.Min.X + max(0, (room-longest*size)/2)
	for i, line := range lines {
		ink := b.theme.Text()
		if line.how == quiet {
			ink = b.theme.Muted()
		}
		b.from(line.text, vg.Point{X: x, Y: area.Max.Y - size*leading*(vg.Length(i)+0.6)}, size, ink, line.how.weight())
	}
}
