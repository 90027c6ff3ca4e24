package render

import (
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"
)

// Prose says every word once and in order, keeps to its area, and becomes smaller where there is no room.
func TestProseKeepsToItsArea(t *testing.T) {
	all := []Paragraph{
		{Text: "What happens to the current of V, once the lead of U has broken?", Tone: Strong},
		{Text: "1: it is the opposite of W's at all times"},
		{Text: "Look at the lane of currents; -3 A is one of them.", Tone: Quiet},
	}
	for _, size := range [][2]int{{1280, 200}, {300, 400}, {300, 60}} {
		a := area(size[0], size[1])
		var rec recorder.Canvas
		DrawProse(&rec, a, 12, Dark, all)
		var said []string
		low := a.Max.Y
		for _, s := range texts(rec.Actions) {
			if !inOne([]vg.Rectangle{a}, s.box) {
				t.Errorf("in %v %q is at %.1f", size, s.words, s.box)
			}
			if s.box.Min.Y > low {
				t.Errorf("in %v %q stands above what comes before it", size, s.words)
			}
			low = s.box.Min.Y
			said = append(said, s.words)
		}
		if got, want := strings.Join(said, " "), all[0].Text+" "+all[1].Text+" "+Typeset(all[2].Text); got != want {
			t.Errorf("in %v it says %q", size, got)
		}
	}
	if one, two := ProseHeight(all, 1000, 10), ProseHeight(all, 100, 10); one != 3*10*leading || two <= one {
		t.Errorf("%v high in one line each, %v in a column", one, two)
	}
}

func TestProseColours(t *testing.T) {
	for _, theme := range Themes {
		var rec recorder.Canvas
		DrawProse(&rec, area(600, 200), 12, theme, []Paragraph{{Text: "plain"}, {Text: "strong", Tone: Strong}, {Text: "quiet", Tone: Quiet}})
		var inks []string
		for _, a := range rec.Actions {
			if c, ok := a.(*recorder.SetColor); ok {
				switch c.Color {
				case theme.Text():
					inks = append(inks, "text")
				case theme.Muted():
					inks = append(inks, "muted")
				}
			}
		}
		if got := strings.Join(inks, " "); got != "text text muted" {
			t.Errorf("%v: %s", theme, got)
		}
	}
}
