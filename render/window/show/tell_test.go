package show

import (
	"strings"
	"testing"

	"sextant/inverter"
	"sextant/render"
)

// What is to be read over the picture is had as text too.
func TestWords(t *testing.T) {
	s, l := playing(t, "guess-lead")
	says := func(when string, want ...string) {
		t.Helper()
		for _, w := range want {
			if !strings.Contains(s.Words(), w) {
				t.Errorf("%s: %q is missing in %q", when, w, s.Words())
			}
		}
	}
	says("at the scene's words", l.Title, l.Scenes[0].Moments[0].Words)
	s.Do(Choice1)
	says("with a reading", l.Scenes[0].Probes[0].Says[0])
	s.Do(NextScene)
	q := l.Scenes[0].Questions[0]
	says("at a question", q.Ask, "1: "+q.Choices[0])
	s.Do(Choice2)
	says("after the answer", "Not so. It is: "+q.Choices[0]+".", q.Because)
	s.Do(Lessons)
	says("in the list", "12: "+l.Title)
	s.Do(Dismiss)
	if got := s.Words(); got != "" {
		t.Errorf("with nothing over the picture: %q", got)
	}
	s.Do(Help)
	says("in the help", "q Q: on in the lesson, and back.", "certifies nothing")
}

func TestExplained(t *testing.T) {
	s := open(t, "trainer-pwm")
	v := s.View()
	if part, reads := s.Explained(&v); part != "" || reads != "" {
		t.Errorf("nothing is pointed at, and explained is %q, %q", part, reads)
	}
	s.Press(render.Part{Kind: render.GatePart, Switch: inverter.WLow})
	v = s.View()
	if part, reads := s.Explained(&v); part != "Gate of W-" || reads == "" {
		t.Errorf("explained is %q, %q", part, reads)
	}
}

// Who opens the show paused has scenes begin so, until it is let play.
func TestScenesBeginStill(t *testing.T) {
	for _, paused := range []bool{false, true} {
		s, err := New(open(t, "trainer-pwm").choices, 0, !paused)
		if err != nil {
			t.Fatal(err)
		}
		_, l := playing(t, "one-switch")
		if s.Play(l); s.playing == paused {
			t.Errorf("opened paused %t, the first scene plays: %t", paused, s.playing)
		}
		if err := s.GoToScene(2); err != nil || s.playing == paused {
			t.Errorf("opened paused %t, the second scene plays: %t, %v", paused, s.playing, err)
		}
		if s.playing {
			s.Do(PlayPause)
		}
		s.Do(PlayPause)
		if err := s.GoToScene(3); err != nil || !s.playing {
			t.Errorf("let play, the third scene plays: %t, %v", s.playing, err)
		}
	}
}

func TestGoToScene(t *testing.T) {
	s, _ := playing(t, "one-switch")
	if err := s.GoToScene(4); err == nil || !strings.Contains(err.Error(), "1 to 3") {
		t.Errorf("scene 4 of 3: %v", err)
	}
	if err := s.GoToScene(3); err != nil {
		t.Error(err)
	}
	if _, scene, _ := s.Lesson(); scene != 3 || s.Focus() != render.OnBridge {
		t.Errorf("scene %d, on %v", scene, s.Focus())
	}
	if err := open(t, "trainer-pwm").GoToScene(1); err == nil {
		t.Error("a scene without a lesson")
	}
}
