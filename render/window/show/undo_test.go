package show

import (
	"math"
	"strings"
	"testing"

	"sextant/inverter"
	"sextant/render"
	"sextant/render/lesson"
)

// Another scenario, a fresh start and a lesson can be taken back like any change: the drive stands where it stood.
func TestUndoOfWhatReplacesTheDrive(t *testing.T) {
	l, err := lesson.Open("one-switch")
	if err != nil {
		t.Fatal(err)
	}
	for name, replace := range map[string]func(*Show){
		"scenario": func(s *Show) { s.Do(NextScenario) },
		"restart":  func(s *Show) { s.Do(Restart) },
		"lesson":   func(s *Show) { s.Play(l) },
	} {
		s := open(t, "trainer-pwm")
		s.Press(render.Part{Kind: render.WirePart, Phase: inverter.U})
		watch(s, 1)
		s.View()
		pace, span, before, tape := s.pace, s.span, s.now(), len(s.View().Tape)
		replace(s)
		s.playing = false
		if s.now() == before {
			t.Fatalf("%s: nothing was replaced", name)
		}
		watch(s, 0.3)
		later, shown := s.now(), s.Scenario()
		s.Do(Undo)
		if s.now() != before || s.Scenario() != "trainer-pwm" || s.pace != pace || s.span != span {
			t.Errorf("%s: taken back, %s at %+v", name, s.Scenario(), s.now())
		}
		if got := len(s.View().Tape); math.Abs(float64(got-tape)) > 0.1*float64(tape) {
			t.Errorf("%s: the tape came back with %d instants of %d", name, got, tape)
		}
		if !strings.Contains(s.Message(), "Taken back") {
			t.Errorf("%s: %q", name, s.Message())
		}
		watch(s, 0.3)
		s.Do(Undo) // the wire
		if len(s.FaultsNow()) != 0 {
			t.Errorf("%s: the change before it is not taken back: %q", name, s.Message())
		}
		s.Do(Redo)
		s.Do(Redo)
		if s.now() != later || s.Scenario() != shown {
			t.Errorf("%s: made again, %s at %+v; it was %s at %+v", name, s.Scenario(), s.now(), shown, later)
		}
	}
}

// What was changed before a scene of a lesson begins is not taken back into it.
func TestUndoInALesson(t *testing.T) {
	l, err := lesson.Open("one-switch")
	if err != nil {
		t.Fatal(err)
	}
	s := open(t, "trainer-pwm")
	s.Play(l)
	s.Do(SupplyUp)
	for s.lecture.player.Index() == 0 {
		s.Do(NextScene)
	}
	scene := s.drive.Scenario()
	s.Do(Undo)
	if name, _, _ := s.Lesson(); name != "" {
		t.Errorf("the lesson was not taken back: %q", s.Message())
	}
	s.Do(Redo)
	if name, n, _ := s.Lesson(); name != "one-switch" || n != 2 || s.drive.Scenario().Supply != scene.Supply {
		t.Errorf("made again, it is %s, scene %d", name, n)
	}
}

func TestUndoAndRedo(t *testing.T) {
	s := open(t, "trainer-pwm")
	start := s.drive.Scenario()
	s.Do(FrequencyUp)
	s.Press(render.Part{Kind: render.WirePart, Phase: inverter.U})
	s.Press(render.Part{Kind: render.GatePart, Switch: inverter.UHigh})
	end := s.drive.Scenario()
	for range 3 {
		watch(s, 0.1)
		s.Do(Undo)
	}
	if now := s.drive.Scenario(); now.Gating != start.Gating || len(now.Faults) != len(start.Faults) || now.Shaft != start.Shaft {
		t.Errorf("taken back, the scenario is %+v", now)
	}
	s.Do(Undo)
	if !strings.Contains(s.Message(), "no change") {
		t.Errorf("message %q", s.Message())
	}
	for range 3 {
		s.Do(Redo)
	}
	if now := s.drive.Scenario(); now.Gating != end.Gating || len(now.Faults) != 1 {
		t.Errorf("made again, the scenario is %+v", now)
	}
	s.Do(Undo)
	s.Do(SupplyUp)
	if s.Do(Redo); !strings.Contains(s.Message(), "no change") {
		t.Errorf("after another change there is still one to make again: %q", s.Message())
	}
}
