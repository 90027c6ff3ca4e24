package show

import (
	"testing"

	"gonum.org/v1/plot/vg"
)

// Every wish but the window's own has a button, on any window; buttons do not overlap and are big enough.
func TestButtons(t *testing.T) {
	for _, size := range [][2]float64{{1280, 720}, {1920, 1080}, {3840, 2160}, {390, 844}, {360, 640}, {844, 390}, {1024, 768}, {600, 400}, {320, 480}} {
		s := open(t, "trainer-pwm")
		f := s.Arrange(size[0], size[1], 1)
		if len(f.cells) < 30 {
			s.Do(More)
			f = s.Arrange(size[0], size[1], 1)
		}
		for _, a := range actions {
			switch a.wish {
			case Dismiss, Present, NextPart, PressPart: // by pressing again, in the past, and by pointing
				continue
			case LoadUp, CommandUp, FluxUp, AdvanceUp, DutyUp: // only where they apply
				continue
			case NextLesson, NextScene, Choice1, Notes, Terms: // in a lesson
				continue
			}
			for _, s.panel = range []Wish{None, Dials, TapeLanes, FilePanel} {
				if f := s.Arrange(size[0], size[1], 1); shown(&f, a.wish) {
					break
				}
			}
			f := s.Arrange(size[0], size[1], 1)
			p, ok := f.Center(a.wish)
			if !ok {
				t.Errorf("%v: no button to %s", size, a.does)
				continue
			}
			if a.back != None && a.back != MendAll && a.back != UsualLanes && a.back != Save && !shown(&f, a.back) {
				t.Errorf("%v: no button back from %s", size, a.does)
			}
			if w, over := f.At(p); w != a.wish || !over {
				t.Errorf("%v: pressing the button to %s wishes %d", size, a.does, w)
			}
		}
		for i, c := range f.cells {
			if c.box.Min.X < 0 || c.box.Max.X > vg.Length(size[0])+1e-6 || c.box.Min.Y < 0 {
				t.Errorf("%v: cell %d, %v, lies outside", size, i, c.box)
			}
			if h := c.box.Max.Y - c.box.Min.Y; h < 28 {
				t.Errorf("%v: buttons %g pixels high", size, h)
			}
			for _, d := range f.cells[:i] {
				const touch = 1e-6
				if c.box.Min.X < d.box.Max.X-touch && d.box.Min.X < c.box.Max.X-touch && c.box.Min.Y < d.box.Max.Y-touch && d.box.Min.Y < c.box.Max.Y-touch {
					t.Errorf("%v: two buttons overlap", size)
				}
			}
		}
		if f.Stage.Size().Y < vg.Length(size[1])*0.45 {
			t.Errorf("%v: the stage is left with %g", size, f.Stage.Size().Y)
		}
	}
}

func shown(f *Frame, w Wish) bool {
	_, ok := f.Center(w)
	return ok
}
