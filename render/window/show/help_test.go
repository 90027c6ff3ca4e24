package show

import (
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"

	"sextant/render"
	"sextant/render/lesson"
)

// The help names every key and can be read: on a large window at once, on a phone on pages that a finger turns.
func TestHelpNamesEveryKey(t *testing.T) {
	for _, size := range [][2]float64{{1280, 720}, {1920, 1080}, {390, 844}, {844, 390}, {1024, 768}, {360, 640}} {
		s := open(t, "trainer-pwm")
		s.Do(Help)
		written := map[string]bool{}
		pages := 0
		for ; s.help; pages++ {
			f := s.Arrange(size[0], size[1], 1)
			var rec recorder.Canvas
			s.Draw(&rec, &f, None)
			for _, a := range rec.Actions {
				if text, ok := a.(*recorder.FillString); ok {
					written[text.String] = true
				}
			}
			if box := f.manual.box; box.Min.X < 0 || box.Max.X > vg.Length(size[0]) || box.Min.Y < f.strip.Max.Y || box.Max.Y > vg.Length(size[1]) {
				t.Errorf("%v: the help lies at %v", size, box)
			}
			if letters := f.manual.line * manualSize; letters < 9 {
				t.Errorf("%v: letters %g pixels high", size, letters)
			}
			middle := f.manual.box.Min.Add(f.manual.box.Max).Scale(0.5)
			w, over := f.At(middle)
			if w != Help || !over {
				t.Fatalf("%v: a click on the help goes through it", size)
			}
			s.Do(w)
			if pages > 20 {
				t.Fatalf("%v: the help has no end", size)
			}
		}
		for _, a := range actions {
			if !written[a.keys] || !written[a.does] {
				t.Errorf("%v: the help leaves out %q, to %s", size, a.keys, a.does)
			}
		}
		if size[0] >= 1280 && pages > 3 {
			t.Errorf("%v: the help has %d pages", size, pages)
		}
		for _, term := range lesson.Terms() {
			begun := false
			for text := range written {
				begun = begun || strings.HasPrefix(text, render.Typeset(upper(term.Word)+":"))
			}
			if !begun {
				t.Errorf("%v: the help does not explain %q", size, term.Word)
			}
		}
	}
}

func TestTyped(t *testing.T) {
	for r, want := range map[rune]Wish{'p': NextPattern, 'P': PreviousPattern, '?': Help, '+': Faster, '=': Faster, '-': Slower, 'q': NextScene, '3': Choice3, '7': None, 'U': Redo, 'X': MendAll, 0: None} {
		if got := Typed(r); got != want {
			t.Errorf("%q wishes %d, want %d", r, got, want)
		}
	}
}
