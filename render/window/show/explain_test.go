package show

import (
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"

	"sextant/render"
)

// The explanation comes when the pointer rests, or at once by key, and leaves what it explains to be seen.
func TestExplanations(t *testing.T) {
	for _, size := range [][2]float64{{1280, 720}, {390, 844}, {844, 390}} {
		s := open(t, "trainer-pwm")
		f := s.Arrange(size[0], size[1], 1)
		l := render.Arrange(render.Everything, f.Stage, 1)
		s.Lay(&l)
		v := s.View()
		boxes := func() []vg.Rectangle {
			var rec recorder.Canvas
			s.DrawExplanation(&rec, &f, &l, &v)
			var all []vg.Rectangle
			for _, a := range rec.Actions {
				if fill, ok := a.(*recorder.Fill); ok {
					r := vg.Rectangle{Min: fill.Path[0].Pos, Max: fill.Path[0].Pos}
					for _, c := range fill.Path {
						if c.Type == vg.CloseComp {
							continue
						}
						r.Min.X, r.Min.Y = min(r.Min.X, c.Pos.X), min(r.Min.Y, c.Pos.Y)
						r.Max.X, r.Max.Y = max(r.Max.X, c.Pos.X), max(r.Max.Y, c.Pos.Y)
					}
					all = append(all, r)
				}
			}
			return all
		}
		s.Point(render.Part{Kind: render.SupplyPart})
		if len(boxes()) != 0 {
			t.Errorf("%v: explained before the pointer rests", size)
		}
		for range 10 {
			s.Tick(0.1)
		}
		if len(boxes()) != 1 {
			t.Errorf("%v: not explained though the pointer rests", size)
		}
		for range len(l.Parts()) {
			s.Do(NextPart)
			got := boxes()
			if len(got) != 1 {
				t.Errorf("%v: %v has %d boxes", size, s.hover, len(got))
				continue
			}
			part, _ := l.Where(s.hover)
			if w, h := min(part.Max.X, got[0].Max.X)-max(part.Min.X, got[0].Min.X), min(part.Max.Y, got[0].Max.Y)-max(part.Min.Y, got[0].Min.Y); w > 0.01 && h > 0.01 {
				t.Errorf("%v: %v is covered by its explanation", size, s.hover)
			}
			if got[0].Min.X < 0 || got[0].Max.X > vg.Length(size[0]) || got[0].Min.Y < f.strip.Max.Y || got[0].Max.Y > vg.Length(size[1]) {
				t.Errorf("%v: the explanation of %v lies outside, %v", size, s.hover, got[0])
			}
		}
		if s.Do(Dismiss); len(boxes()) != 0 {
			t.Errorf("%v: it cannot be closed", size)
		}
	}
}

// On a phone without room for a tape, a part of the bridge is explained over the wheel: the bridge stays to be seen.
func TestBridgeIsExplainedOverTheWheel(t *testing.T) {
	s := open(t, "trainer-pwm")
	f := s.Arrange(390, 844, 1)
	f.Stage.Min.Y = 400
	l := render.Arrange(render.OnBridgeAndWheel, f.Stage, 1)
	s.Lay(&l)
	v := s.View()
	for _, part := range l.Parts() {
		r, _ := l.Where(part)
		if r.Min.Y < l.Wheel.Max.Y {
			continue
		}
		s.Press(render.Part{Kind: render.RotorPart})
		s.hover = part
		var rec recorder.Canvas
		s.DrawExplanation(&rec, &f, &l, &v)
		for _, a := range rec.Actions {
			if text, ok := a.(*recorder.FillString); ok && text.Point.Y > l.Wheel.Max.Y {
				t.Errorf("%v is explained at %v, above the wheel's top at %v", part, text.Point, l.Wheel.Max.Y)
			}
		}
		if len(rec.Actions) == 0 {
			t.Errorf("%v is not explained", part)
		}
	}
}

func TestKeysPressParts(t *testing.T) {
	s := open(t, "trainer-pwm")
	f := s.Arrange(1280, 720, 1)
	l := render.Arrange(render.Everything, f.Stage, 1)
	s.Lay(&l)
	for range 100 {
		if s.hover.Kind == render.WirePart {
			break
		}
		s.Do(NextPart)
	}
	s.Do(PressPart)
	if len(s.FaultsNow()) != 1 {
		t.Errorf("pressing %v broke %q", s.hover, s.FaultsNow())
	}
	at := s.hover
	s.Do(NextPart)
	if s.Do(PreviousPart); s.hover != at {
		t.Errorf("there and back led from %v to %v", at, s.hover)
	}
}
