package show

import (
	"testing"

	"sextant/inverter"
	"sextant/render"
)

// What is run again on a wide tape knows of a change as soon as it is made.
func TestWideTapeKnowsOfAChange(t *testing.T) {
	s := open(t, "trainer-pwm")
	for range 2 * decade {
		s.Do(Faster)
	}
	s.Do(PlayPause)
	for range 100 {
		s.Tick(0.1)
	}
	s.Zoom(1000)
	if from, _ := s.tape.Span(); s.View().Tape[0].Time >= from {
		t.Fatal("the tape alone holds what is shown, which makes this test idle")
	}
	s.Press(render.Part{Kind: render.WirePart, Phase: inverter.V})
	changed := s.now().Time
	s.pace = nearestPace(0.01)
	s.Tick(0.1)
	s.Tick(0.1)
	v := s.View()
	for _, i := range v.Tape {
		if i.Time > changed && i.Current[inverter.V] != 0 {
			t.Fatalf("%g s after the wire of V was cut %g A flow in it", i.Time-changed, i.Current[inverter.V])
		}
	}
	if last := v.Tape[len(v.Tape)-1].Time; last <= changed {
		t.Errorf("the tape ends at %g s, before the change at %g s", last, changed)
	}
}
