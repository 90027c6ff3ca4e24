package render

import (
	"image/color"
	"testing"

	"gonum.org/v1/plot/vg/recorder"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// What is not emphasised can still be read: text as large text is asked to be, wires and lines half as well.
func TestFaintIsLegible(t *testing.T) {
	for _, theme := range Themes {
		k := &faint[theme]
		for what, c := range map[string]color.Color{"text": k.text, "muted text": k.muted} {
			for _, ground := range []color.Color{k.ground, k.panel} {
				if got := contrast(c, ground); got < 3 {
					t.Errorf("%v: faint %s has contrast %.2f, want 3", theme, what, got)
				}
			}
		}
		for _, c := range append([]color.Color{k.wire, k.field, k.volt}, k.phase[:]...) {
			if got := contrast(c, k.ground); got < 1.5 {
				t.Errorf("%v: faint %v has contrast %.2f, want 1.5", theme, c, got)
			}
		}
	}
}

// Emphasis leaves the part its own colours and takes them from the others, in the still and in the moving picture.
func TestEmphasisDimsTheRest(t *testing.T) {
	l := Arrange(Everything, area(1280, 720), 1)
	v := demo(t, pattern.SixStep180, 0.0137)
	strong, weak := v.Theme.inks(), &faint[v.Theme]
	count := func(c color.Color) (n int) {
		for _, m := range marks(record(l, v)) {
			if m.color == c {
				n++
			}
		}
		return n
	}
	plainU, plainV := count(strong.phase[inverter.U]), count(strong.phase[inverter.V])
	if count(weak.phase[inverter.U]) != 0 {
		t.Error("U is faint where nothing is emphasised")
	}
	v.Emphasis = wirePart(inverter.U)
	if n := count(strong.phase[inverter.U]); n == 0 || n >= plainU {
		t.Errorf("%d of %d marks of U are in full colour, want some", n, plainU)
	}
	if n := count(strong.phase[inverter.V]); n != 0 {
		t.Errorf("%d of %d marks of V are in full colour, want none", n, plainV)
	}
	v.Emphasis = devicePart(inverter.UHigh)
	still := func() (n int) {
		var rec recorder.Canvas
		DrawStill(&rec, l, v)
		for _, m := range marks(rec.Actions) {
			if m.color == strong.wire {
				n++
			}
		}
		return n
	}
	if n := still(); n != 5 {
		t.Errorf("the still picture has %d marks in the wires' full colour, want the five of one symbol: gate, ends, electrodes, base, arrow", n)
	}
}
