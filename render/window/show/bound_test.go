package show

import "testing"

// However slowly a drive turns and however far the tape is drawn out, what it shows is bounded, and it is full.
func TestWidestTapeIsFull(t *testing.T) {
	for _, name := range []string{"hauler-climb", "trainer-pwm", "hauler-pwm", "trainer-six-step"} {
		s := open(t, name)
		if err := s.SkipTo(4); err != nil {
			t.Fatal(err)
		}
		s.Zoom(1e6)
		for _, back := range []float64{0, 1} {
			s.lookAt(s.drive.Time() - back)
			v := s.View()
			first, last := v.Tape[0].Time, v.Tape[len(v.Tape)-1].Time
			missing := 2 * s.gap()
			if back > 0 { // where events may have come more densely than they lately do
				missing = s.span / 5
			}
			if from := v.Now.Time - s.span; first > from+missing || last < v.Now.Time-2*s.gap() {
				t.Errorf("%s, %g s ago: the tape runs from %g to %g s, and its left end is %g s", name, back, first, last, from)
			}
			if n := len(v.Tape); n > mostShown*5/4 || n < 10_000 {
				t.Errorf("%s, %g s ago: the tape has %d instants", name, back, n)
			}
		}
	}
}

// A stretch of more than can be kept ends where it was asked to.
func TestRunAgainIsBounded(t *testing.T) {
	s := open(t, "hauler-climb")
	if err := s.SkipTo(4); err != nil {
		t.Fatal(err)
	}
	end := s.drive.Time()
	got := s.past.appendBetween(nil, 0, end, s.gap())
	if n := len(got); n < mostShown || n > mostShown*5/4 || end-got[n-1].Time > 2*s.gap() {
		t.Errorf("4 s are %d instants, which end %g s before they should", n, end-got[n-1].Time)
	}
}
