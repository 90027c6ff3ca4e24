package show

import (
	"gonum.org/v1/plot/vg"

	"sextant/render"
)

// letter is the size of a lesson's letters, in heights of a button, before the spectator's scale.
const letter = 0.4

// prose returns what is said as the paragraphs that it is set in, as in films.
func prose(all []said) []render.Paragraph {
	paragraphs := make([]render.Paragraph, len(all))
	for k, p := range all {
		paragraphs[k] = render.Paragraph{Text: p.text, Tone: [...]render.Tone{plain: render.Plain, strong: render.Strong, quiet: render.Quiet}[p.how]}
	}
	return paragraphs
}

// set returns the paragraphs, and how tall they are in letters of a size.
func set(all []said, room, size vg.Length) (paragraphs []render.Paragraph, tall vg.Length) {
	paragraphs = prose(all)
	return paragraphs, render.ProseHeight(paragraphs, room, size)
}

// words sets paragraphs in area, in letters of that size, or smaller if they would not fit.
func (b brush) words(all []said, area vg.Rectangle, size vg.Length) {
	render.DrawProse(b.Canvas, area, size, b.theme, prose(all))
}
