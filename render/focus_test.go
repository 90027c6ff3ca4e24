package render

import (
	"testing"

	"gonum.org/v1/plot/vg"

	"sextant/inverter/pattern"
)

// Whatever a lecture is about, text stays in its part and does not overlap, and nothing is drawn of the rest.
func TestFocus(t *testing.T) {
	v := demo(t, pattern.SpaceVector, 0.0137)
	for _, f := range Focuses {
		for _, size := range sizes {
			l := Arrange(f, area(size[0], size[1]), 1)
			all := texts(record(l, v))
			for i, a := range all {
				if !inOne([]vg.Rectangle{l.Sentence, l.Bridge, l.Wheel, l.Tape, l.Ledger}, a.box) {
					t.Errorf("%v at %v: %q lies in no part whole", f, size, a.words)
				}
				for _, b := range all[:i] {
					if w := overlap(a.box, b.box); w > 0.02*l.unit {
						t.Errorf("%v at %v: %q overlaps %q", f, size, a.words, b.words)
					}
				}
			}
			for _, part := range l.Parts() {
				switch {
				case f == OnBridge && part.Kind == RotorPart, f == OnWheel && part.Kind == GatePart, f == OnTape && part.Kind != LanePart:
					t.Errorf("%v: part %v is there", f, part)
				}
			}
			if len(l.Parts()) == 0 {
				t.Errorf("%v at %v: nothing to point at", f, size)
			}
		}
	}
}

func TestFocusNames(t *testing.T) {
	for _, f := range Focuses {
		var g Focus
		if err := g.UnmarshalText([]byte(f.String())); err != nil || g != f {
			t.Errorf("%v reads back as %v, %v", f, g, err)
		}
	}
	var g Focus
	if g.UnmarshalText([]byte("roof")) == nil {
		t.Error("roof is taken for a part")
	}
}
