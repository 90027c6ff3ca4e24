package render

import "gonum.org/v1/plot/vg"

// A Paragraph is words that are broken into lines.
type Paragraph struct {
	Text string
	Tone Tone
}

// A Tone is how a paragraph is set.
type Tone uint8

// The tones.
const (
	Plain Tone = iota
	Strong
	Quiet
)

const (
	leading     = 1.3 // from line to line, in sizes
	longestLine = 52  // of prose, in sizes: longer ones are hard to read
)

func (t Tone) face() *typeface {
	if t == Strong {
		return bold()
	}
	return regular()
}

// lay breaks paragraphs into lines of letters of a size.
func lay(all []Paragraph, room, size vg.Length) (lines []Paragraph) {
	for _, p := range all {
		for _, line := range p.Tone.face().wrap(nil, Typeset(p.Text), size, min(room, longestLine*size)) {
			lines = append(lines, Paragraph{line, p.Tone})
		}
	}
	return lines
}

// ProseHeight returns how tall paragraphs are in letters of a size, where there is that much room beside each other.
func ProseHeight(all []Paragraph, room, size vg.Length) vg.Length {
	return vg.Length(len(lay(all, room, size))) * size * leading
}

// DrawProse sets paragraphs from the top of area on, in letters of a size, or smaller ones if they would not fit.
func DrawProse(c vg.Canvas, area vg.Rectangle, size vg.Length, theme Theme, all []Paragraph) {
	room, most := area.Max.X-area.Min.X, area.Max.Y-area.Min.Y
	for ProseHeight(all, room, size) > most && size > 1 {
		size *= 0.95
	}
	x := area.Min.X + max(0, (room-longestLine*size)/2)
	for i, line := range lay(all, room, size) {
		ink := theme.Text()
		if line.Tone == Quiet {
			ink = theme.Muted()
		}
		middle := area.Max.Y - size*leading*(vg.Length(i)+0.6)
		c.SetColor(ink)
		c.FillString(line.Tone.face().sized(size), vg.Point{X: x, Y: middle - size*CapHeight/2}, line.Text)
	}
}
