package picture

import (
	"io"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"

	"sextant/render"
)

// A Look is how a picture shows the stage. The zero value is all of it with its words; Size must be given.
type Look struct {
	Size   Size
	Focus  render.Focus
	Text   float64       // factor by which text is larger; 0 is 1
	Lanes  []render.Lane // of the tape; none are the most telling
	Silent bool          // without the sentence
	Mute   bool          // without any text
}

// Arrange lays the stage out in area.
func (k *Look) Arrange(area vg.Rectangle) render.Layout {
	if k.Silent {
		return render.ArrangeSilent(k.Focus, area, k.Text, k.Lanes...)
	}
	return render.Arrange(k.Focus, area, k.Text, k.Lanes...)
}

// On returns a canvas that draws on c what the look lets be drawn.
func (k *Look) On(c vg.Canvas) vg.Canvas {
	if k.Mute {
		return wordless{c}
	}
	return c
}

// Write draws v as a picture of a format.
func (k *Look) Write(w io.Writer, f Format, v *render.View) error {
	title := ""
	if v.Scenario != nil {
		title = v.Scenario.Title
	}
	return Paint(w, f, k.Size, title, func(c vg.Canvas, area vg.Rectangle) {
		render.Draw(k.On(c), k.Arrange(area), v)
	})
}

// A wordless canvas leaves out all text.
type wordless struct{ vg.Canvas }

// FillString writes nothing.
func (wordless) FillString(font.Face, vg.Point, string) {}
