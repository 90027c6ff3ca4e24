package show

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor/drive"
	"sextant/render"
	"sextant/render/lesson"
)

// playing returns a show of the trainer that plays a built-in lesson, and the lesson.
func playing(t *testing.T, name string) (*Show, *lesson.Lesson) {
	t.Helper()
	l, err := lesson.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	s := open(t, "trainer-pwm")
	s.Play(l)
	return s, l
}

// press presses the button for a wish, as a hand does, behind the one for more where it is there.
func press(t *testing.T, s *Show, size [2]float64, w Wish) {
	t.Helper()
	f := s.Arrange(size[0], size[1], 1)
	p, ok := f.Center(w)
	if !ok && !s.more && shown(&f, More) {
		s.Do(More)
		press(t, s, size, w)
		if s.Arrange(size[0], size[1], 1); s.more {
			s.Do(More)
		}
		return
	}
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
	for _, size := range [][2]float64{{1280, 720}, {1920, 1080}, {3840, 2160}, {390, 844}, {360, 640}, {844, 390}, {1024, 768}} {
		s, l := playing(t, "one-switch")
		f := s.Arrange(size[0], size[1], 1)
		for i, c := range f.cells {
			if c.box.Min.X < 0 || c.box.Max.X > f.strip.Max.X+1e-6 || c.box.Min.Y < 0 || c.box.Max.Y-c.box.Min.Y < 12 {
				t.Errorf("%v: cell %d, %v", size, i, c.box)
			}
		}
		if meet(f.Stage, f.panel) || f.Stage.Size().Y < f.strip.Max.Y/4 {
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
		press(t, s, size, Lessons)
		press(t, s, size, LessonWish(1))
		if name, _, _ := s.Lesson(); name != lesson.Course()[1] {
			t.Errorf("%v: the second of the list is %s", size, name)
		}
		press(t, s, size, Dismiss)
		if r := s.Results(); len(r) != 2 || r[0].Right || !r[1].Right {
			t.Errorf("%v: kept are %+v", size, r)
		}
		if s.Covered() {
			t.Errorf("%v: the lesson does not close", size)
		}
	}
}

// TestLessonMakesItsChanges lets the time of a scene pass, which waits with the opening of all gates until it is told to go
// on, by a page or by playing on.
func TestLessonMakesItsChanges(t *testing.T) {
	s := open(t, "trainer-pwm")
	l, err := lesson.Open("one-switch")
	if err != nil {
		t.Fatal(err)
	}
	s.Do(PlayPause)
	s.Play(l)
	for s.lecture.player.Index() < 2 {
		s.Do(NextScene)
	}
	if s.Focus() != render.OnBridge || s.View().Hover.Kind != render.DiodePart || !s.playing {
		t.Errorf("the scene shows %v and points at %+v", s.Focus(), s.View().Hover)
	}
	now := s.now()
	if now.Gates == 0 || now.Current[0] < 7 {
		t.Fatalf("the scene begins with %v, %v A", now.Gates, now.Current)
	}
	pass := func() {
		for range 100 {
			s.Tick(0.1)
		}
	}
	for _, on := range []Wish{NextScene, PlayPause} {
		pass()
		if at := l.Scenes[2].Moments[1].After; s.playing || s.now().Gates == 0 || math.Abs(s.drive.Time()-s.lecture.began-at) > 1e-9 {
			t.Fatalf("at the change, due after %g s: playing %v, %v, %g s", at, s.playing, s.now().Gates, s.drive.Time()-s.lecture.began)
		}
		s.Do(on)
		pass()
		if now := s.now(); !s.playing || now.Gates != 0 || now.Current[0] > 7 {
			t.Errorf("after the change: playing %v, %v, %v A", s.playing, now.Gates, now.Current)
		}
		if !strings.Contains(wordsOn(s, [2]float64{1280, 720}), "All gates are off") {
			t.Error("nothing is said of the change")
		}
		s.Do(Restart)
		if now := s.now(); now.Gates == 0 {
			t.Error("the scene does not begin again")
		}
	}
	s.Do(NextScenario)
	if name, _, _ := s.Lesson(); name != "" || s.drive.Scenario().Gating.Kind == pattern.ByHand {
		t.Errorf("another scenario leaves lesson %s open", name)
	}
}

// In an exercise no click, key or button mends the hidden fault, adds another or names it; clicks measure instead.
func TestHiddenFaultStaysHidden(t *testing.T) {
	for _, name := range []string{"guess-lead", "guess-joint", "guess-switch"} {
		s, _ := playing(t, name)
		for s.lecture.player.Index() < 1 {
			s.Do(NextScene)
		}
		for ; s.lecture.player.Index() < 2; s.Do(NextScene) {
			if s.lecture.player.Question() == nil {
				hidden(t, s, "Clamp meter on", "locked out")
			}
		}
		hidden(t, s, "Ohmmeter, motor leads off", "Diode test across")
	}
}

// hidden puts a hand on everything and wants the fault that is there to stay, and words from wires and devices.
func hidden(t *testing.T, s *Show, wire, device string) {
	t.Helper()
	watch(s, 8)
	name, fault := s.Scenario(), s.drive.Scenario().Faults[0]
	stays := func(did string) {
		t.Helper()
		sc := s.drive.Scenario()
		if len(sc.Faults) != 1 || sc.Faults[0] != fault || len(s.View().Scenario.Faults) != 0 || len(s.FaultsNow()) != 0 {
			t.Errorf("%s: %s left %v, and tells %v", name, did, sc.Faults, s.FaultsNow())
		}
		if m := s.Message(); strings.Contains(m, "Mended") || strings.Contains(m, render.FaultSentence(&fault)) || strings.Contains(m, "Nothing is broken") {
			t.Errorf("%s: %s says %q", name, did, m)
		}
	}
	l := render.Arrange(render.Everything, vg.Rectangle{Max: vg.Point{X: 1280, Y: 720}}, 1)
	for _, at := range l.Parts() {
		switch at.Kind {
		case render.WirePart, render.DevicePart, render.DiodePart:
		default:
			continue
		}
		s.Press(at)
		stays("a click")
		want := device
		if at.Kind == render.WirePart {
			want = wire
		}
		if !strings.Contains(s.Message(), want) {
			t.Errorf("%s: a click on %+v says %q", name, at, s.Message())
		}
	}
	for _, w := range []Wish{Faults, MendAll, Undo, faultWish(fault.Kind, int(fault.Phase)), faultWish(drive.PhaseOpen, 0), faultWish(drive.SwitchShort, 1)} {
		if w == Undo && len(s.steps) <= s.lecture.base {
			continue // leaves the lesson
		}
		s.Do(w)
		stays("a key")
		if s.panel == Faults {
			t.Errorf("%s: the faults are laid open", name)
		}
	}
}

// What the clamp reads on a wire is what the run's meter has, which integrates by its own rule.
func TestClampReadsWhatFlows(t *testing.T) {
	s, _ := playing(t, "guess-joint")
	for s.lecture.player.Index() < 1 {
		s.Do(NextScene)
	}
	watch(s, 8)
	sum, err := drive.Simulate(s.drive.Scenario())
	if err != nil {
		t.Fatal(err)
	}
	now := s.time()
	for _, ph := range inverter.Phases {
		rms, mean := reading(s.record(now-s.turn(), now), ph)
		if want := sum.Phases[ph].CurrentRMS; math.Abs(rms-want) > 0.005*want || math.Abs(mean) > 0.01*want {
			t.Errorf("%v: the clamp reads %g A rms, %g A in the mean; the run has %g A rms", ph, rms, mean, want)
		}
	}
}

// Readings are shown when they are taken, by key or button, and answers go to the question once it is put.
func TestReadingsAreTaken(t *testing.T) {
	for _, size := range [][2]float64{{1280, 720}, {390, 844}} {
		s, _ := playing(t, "guess-lead")
		if words := wordsOn(s, size); strings.Contains(words, "clamp meter: rms") {
			t.Errorf("%v: read before it was asked for: %s", size, words)
		}
		press(t, s, size, Choice1)
		if words := wordsOn(s, size); !strings.Contains(words, "clamp meter: rms") || strings.Contains(words, "at the shaft") {
			t.Errorf("%v: %s", size, words)
		}
		press(t, s, size, Choice2)
		if words := wordsOn(s, size); !strings.Contains(words, "at the shaft") {
			t.Errorf("%v: %s", size, words)
		}
		s.Do(NextScene)
		s.Do(Choice1)
		if len(s.Results()) != 1 {
			t.Errorf("%v: the answer was not taken", size)
		}
	}
}

func TestDroppedLessonIsPlayed(t *testing.T) {
	s := open(t, "trainer-pwm")
	_, data, err := lesson.Find("six-steps")
	if err != nil {
		t.Fatal(err)
	}
	s.load("mine.toml", data)
	if name, scene, _ := s.Lesson(); name != "mine.toml" || scene != 1 {
		t.Errorf("%q, scene %d", name, scene)
	}
	s.load("bad.toml", []byte("title = \"x\"\nabout = \"y\"\n[[scene]]\ntitle = \"z\"\n"))
	if name, _, _ := s.Lesson(); name != "mine.toml" || !strings.Contains(s.Message(), "bad.toml:3: scene.caption: is missing") {
		t.Errorf("%q: %s", name, s.Message())
	}
}

// Going on makes a scene's changes first, then asks; what a scene points at stands out while its words are new, and no
// longer, even in a pause.
func TestGoingOnMakesChanges(t *testing.T) {
	s, l := playing(t, "one-switch")
	for s.lecture.player.Index() < 2 {
		s.Do(NextScene)
	}
	point := l.Scenes[2].Point
	none := render.Part{}
	points := func(when string, emphasis, frame render.Part) {
		t.Helper()
		if v := s.View(); v.Emphasis != emphasis || v.Hover != frame {
			t.Errorf("%s: emphasis on %+v, a frame round %+v", when, v.Emphasis, v.Hover)
		}
	}
	points("at the scene's words", point, point)
	s.Do(PlayPause)
	for range 60 {
		s.Tick(0.1)
	}
	points("6 s later, paused", none, point)
	s.Do(NextScene)
	if _, _, question := s.Lesson(); question != "" || s.now().Gates != 0 || !strings.Contains(wordsOn(s, [2]float64{1280, 720}), "All gates are off") {
		t.Errorf("on from the first words comes %q, with %v on", question, s.now().Gates)
	}
	if want := s.lecture.began + l.Scenes[2].Moments[1].After; math.Abs(s.now().Time-want) > 1e-12 {
		t.Errorf("the change comes at %g s, want %g s", s.now().Time, want)
	}
	points("at the change", point, point)
	s.Do(NextScene)
	if _, _, question := s.Lesson(); question != l.Scenes[2].Questions[0].Ask {
		t.Errorf("on from the change comes %q", question)
	}
	points("at a question", none, none)
	if words := wordsOn(s, [2]float64{1280, 720}); !strings.Contains(words, "question 1 of 2") || !strings.Contains(words, "question 2") {
		t.Errorf("it says neither where it is nor what comes: %s", words)
	}
}

// A lesson's scene labels the switches where the spectator has no wish of his own.
func TestLessonLabels(t *testing.T) {
	s, _ := playing(t, "two-numberings")
	if got := s.View().Numbering; got != inverter.Rows {
		t.Errorf("the first scene labels by %v", got)
	}
	for range 2 {
		s.Do(NextNumbering)
	}
	if got := s.View().Numbering; got != inverter.Firing {
		t.Errorf("asked for firing order, labels are by %v", got)
	}
	s.Do(Dismiss)
	s.Do(NextNumbering)
	if got := s.View().Numbering; got != inverter.Names {
		t.Errorf("with the lesson closed labels are by %v", got)
	}
}

// On a device of the lesson's, the stage shows how warm the junctions are: about what the run's own tally comes to.
func TestLessonShowsHeat(t *testing.T) {
	l, err := lesson.Open("silicon-and-carbide")
	if err != nil {
		t.Fatal(err)
	}
	s := open(t, "trainer-pwm")
	if s.Play(l); s.View().Warmth != nil {
		t.Error("warm before it was worked out")
	}
	s.Tick(0.1)
	w := s.View().Warmth
	if w == nil {
		t.Fatal("no warmth is shown")
	}
	sum, err := drive.Simulate(s.drive.Scenario())
	if err != nil {
		t.Fatal(err)
	}
	mean := sum.Switches[inverter.UHigh].Junction
	if w.Junction[inverter.UHigh] < mean || w.Junction[inverter.UHigh] > mean+3 {
		t.Errorf("shown is %g C at the peak, the run has %v in the mean", w.Junction[inverter.UHigh], mean)
	}
}
