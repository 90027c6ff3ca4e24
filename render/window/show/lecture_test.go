package show

import (
	"strings"
	"testing"

	"gonum.org/v1/plot/vg/recorder"

	"sextant/inverter/pattern"
	"sextant/render"
	"sextant/render/lesson"
)

// press presses the button for a wish, as a hand does.
func press(t *testing.T, s *Show, size [2]float64, w Wish) {
	t.Helper()
	f := s.Arrange(size[0], size[1], 1)
	p, ok := f.Center(w)
	if !ok {
		t.Fatalf("%v: no button for wish %d", size, w)
	}
	got, _ := f.At(p)
	if got != w {
		t.Fatalf("%v: the button for wish %d wishes %d", size, w, got)
	}
	s.Do(got)
}

// wordsOn returns what is written on the picture.
func wordsOn(s *Show, size [2]float64) string {
	f := s.Arrange(size[0], size[1], 1)
	var rec recorder.Canvas
	s.Draw(&rec, &f, None)
	var all []string
	for _, a := range rec.Actions {
		if text, ok := a.(*recorder.FillString); ok {
			all = append(all, text.String)
		}
	}
	return strings.Join(all, " ")
}

// TestLessonByHand plays the first scene of a lesson by its buttons on windows of many sizes.
func TestLessonByHand(t *testing.T) {
	l, err := lesson.Open("one-switch")
	if err != nil {
		t.Fatal(err)
	}
	for _, size := range [][2]float64{{1280, 720}, {1920, 1080}, {3840, 2160}, {390, 844}, {360, 640}, {844, 390}, {1024, 768}} {
		s := open(t, "trainer-pwm")
		s.Play(l)
		f := s.Arrange(size[0], size[1], 1)
		for i, c := range f.cells {
			if c.box.Min.X < 0 || c.box.Max.X > f.strip.Max.X+1e-6 || c.box.Min.Y < 0 || c.box.Max.Y-c.box.Min.Y < 12 {
				t.Errorf("%v: cell %d, %v", size, i, c.box)
			}
		}
		if f.Stage.Min.Y < f.panel.Max.Y || f.Stage.Size().Y < f.strip.Max.Y/4 {
			t.Errorf("%v: the stage is at %v", size, f.Stage)
		}
		if words := wordsOn(s, size); !strings.Contains(words, "Two switches, one loop") || !strings.Contains(words, "leaves the + rail") && !strings.Contains(words, "winding") {
			t.Errorf("%v: %s", size, words)
		}
		press(t, s, size, Notes)
		if words := wordsOn(s, size); !strings.Contains(words, "Speaker:") {
			t.Errorf("%v: no notes in %s", size, words)
		}
		press(t, s, size, NextScene)
		if name, scene, question := s.Lesson(); name != "one-switch" || scene != 1 || question != l.Scenes[0].Questions[0].Ask {
			t.Errorf("%v: %s %d %s", size, name, scene, question)
		}
		press(t, s, size, Choice1)
		if words := wordsOn(s, size); !strings.Contains(words, "Not so. It is: none.") {
			t.Errorf("%v: %s", size, words)
		}
		press(t, s, size, Choice3)
		if words := wordsOn(s, size); !strings.Contains(words, "Right, none.") {
			t.Errorf("%v: %s", size, words)
		}
		press(t, s, size, PreviousScene)
		if _, _, question := s.Lesson(); question != "" {
			t.Errorf("%v: back from the question is %s", size, question)
		}
		press(t, s, size, NextLesson)
		press(t, s, size, PreviousLesson)
		press(t, s, size, Dismiss)
		if r := s.Results(); len(r) != 2 || r[0].Right || !r[1].Right {
			t.Errorf("%v: kept are %+v", size, r)
		}
		if s.Covered() {
			t.Errorf("%v: the lesson does not close", size)
		}
	}
}

// TestLessonMakesItsChanges lets the time of a scene pass, which opens all gates.
func TestLessonMakesItsChanges(t *testing.T) {
	s := open(t, "trainer-pwm")
	l, err := lesson.Open("one-switch")
	if err != nil {
		t.Fatal(err)
	}
	s.Play(l)
	for s.lecture.player.Index() < 2 {
		s.Do(NextScene)
	}
	if s.Focus() != render.OnBridge || s.hover.Kind != render.DiodePart || !s.Playing() {
		t.Errorf("the scene shows %v and points at %+v", s.Focus(), s.hover)
	}
	now := s.Now()
	if now.Gates == 0 || now.Current[0] < 7 {
		t.Fatalf("the scene begins with %v, %v A", now.Gates, now.Current)
	}
	for range 60 {
		s.Tick(0.1)
	}
	if now := s.Now(); now.Gates != 0 || now.Current[0] > 7 {
		t.Errorf("after the change %v, %v A", now.Gates, now.Current)
	}
	if !strings.Contains(wordsOn(s, [2]float64{1280, 720}), "All gates are off") {
		t.Error("nothing is said of the change")
	}
	s.Do(Restart)
	if now := s.Now(); now.Gates == 0 {
		t.Error("the scene does not begin again")
	}
	s.Do(NextScenario)
	if name, _, _ := s.Lesson(); name != "" || s.drive.Scenario().Gating.Kind == pattern.ByHand {
		t.Errorf("another scenario leaves lesson %s open", name)
	}
}

// TestHiddenFaultStaysHidden looks for the fault that is asked for in what is drawn and told.
func TestHiddenFaultStaysHidden(t *testing.T) {
	s := open(t, "trainer-pwm")
	l, err := lesson.Open("guess-lead")
	if err != nil {
		t.Fatal(err)
	}
	s.Play(l)
	s.Do(NextScene)
	s.Do(NextScene)
	if s.lecture.player.Index() != 1 || len(s.drive.Scenario().Faults) != 1 {
		t.Fatalf("scene %d has faults %v", s.lecture.player.Index(), s.drive.Scenario().Faults)
	}
	if v := s.View(); len(v.Scenario.Faults) != 0 || len(s.FaultsNow()) != 0 {
		t.Errorf("the picture shows %v, the state tells %v", v.Scenario.Faults, s.FaultsNow())
	}
	if words := wordsOn(s, [2]float64{1280, 720}); !strings.Contains(words, "clamp meter") || strings.Contains(words, "open") {
		t.Errorf("%s", words)
	}
}

func TestDroppedLessonIsPlayed(t *testing.T) {
	s := open(t, "trainer-pwm")
	_, data, err := lesson.Find("six-steps")
	if err != nil {
		t.Fatal(err)
	}
	s.Load("mine.toml", data)
	if name, scene, _ := s.Lesson(); name != "mine.toml" || scene != 1 {
		t.Errorf("%q, scene %d", name, scene)
	}
	s.Load("bad.toml", []byte("title = \"x\"\nabout = \"y\"\n[[scene]]\ntitle = \"z\"\n"))
	if name, _, _ := s.Lesson(); name != "mine.toml" || !strings.Contains(s.Message(), "bad.toml:3: scene.caption: is missing") {
		t.Errorf("%q: %s", name, s.Message())
	}
}
