package show

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor/scenario"
	"sextant/render"
)

// open returns a show of a built-in scenario, paused, with a second one to choose.
func open(t *testing.T, name string) *Show {
	t.Helper()
	var choices []Choice
	for _, n := range []string{name, "passive-rl"} {
		sc, err := scenario.Open(n)
		if err != nil {
			t.Fatal(err)
		}
		choices = append(choices, Choice{n, sc})
	}
	s, err := New(choices, 0, false)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestTimeRunsAtThePace(t *testing.T) {
	s := open(t, "trainer-six-step")
	start := s.now().Time
	s.Tick(0.05)
	if s.now().Time != start {
		t.Error("time runs while paused")
	}
	s.Do(PlayPause)
	for range 20 {
		s.Tick(0.05)
	}
	// 50 Hz in about 6 s a turn is, among 1, 2 and 5, 5 ms a second.
	if got := s.now().Time - start; !scalar.EqualWithinRel(got, 0.005, 1e-9) {
		t.Errorf("a second of watching took %g s of the drive, want 5 ms", got)
	}
	s.Tick(3600)
	if got := s.now().Time - start; got > 0.006 {
		t.Errorf("an hour asleep went by in the drive, %g s", got)
	}
	for range 30 {
		s.Do(Faster)
	}
	start = s.now().Time
	s.Tick(0.1)
	if got := s.now().Time - start; !scalar.EqualWithinRel(got, 0.1, 1e-9) {
		t.Errorf("the fastest pace is %g of real time", got/0.1)
	}
	for range 30 {
		s.Do(Slower)
	}
	start = s.now().Time
	s.Tick(0.1)
	if got := s.now().Time - start; !scalar.EqualWithinRel(got, 1e-7, 1e-6) {
		t.Errorf("the slowest pace is %g of real time", got/0.1)
	}
}

// Six-step at 50 Hz switches every 1/300 s, whichever way one steps.
func TestStepsFromEventToEvent(t *testing.T) {
	s := open(t, "trainer-six-step")
	var times []float64
	var gates []inverter.Gates
	for range 5 {
		s.Do(NextEvent)
		times, gates = append(times, s.now().Time), append(gates, s.now().Gates)
	}
	for i := 1; i < len(times); i++ {
		if d := times[i] - times[i-1]; !scalar.EqualWithinAbs(d, 1.0/300, 1e-9) {
			t.Errorf("step %d took %g s", i, d)
		}
	}
	for i := len(times) - 2; i >= 0; i-- {
		s.Do(PreviousEvent)
		if now := s.now(); !scalar.EqualWithinAbs(now.Time, times[i], 1e-12) || now.Gates != gates[i] {
			t.Fatalf("back to %g s with %v, want %g s with %v", now.Time, now.Gates, times[i], gates[i])
		}
	}
	for i := 1; i < len(times); i++ {
		s.Do(NextEvent)
		if now := s.now(); !scalar.EqualWithinAbs(now.Time, times[i], 1e-12) || now.Gates != gates[i] {
			t.Fatalf("forward to %g s with %v, want %g s with %v", now.Time, now.Gates, times[i], gates[i])
		}
	}
}

func TestDragIntoThePastAndPlayBackToThePresent(t *testing.T) {
	s := open(t, "trainer-pwm")
	present := s.now()
	s.Drag(0.01)
	if got := present.Time - s.now().Time; math.Abs(got-0.01) > 1e-4 {
		t.Errorf("dragged back by 10 ms, shown is %g s ago", got)
	}
	past := s.Arrange(1280, 720, 1)
	if _, ok := past.Center(Present); !ok {
		t.Error("no button leads back to the present")
	}
	v := s.View()
	if last := v.Tape[len(v.Tape)-1].Time; last <= v.Now.Time {
		t.Error("what came after is not on the tape")
	}
	s.Do(PlayPause)
	for range 200 {
		s.Tick(0.1)
		if s.live() {
			break
		}
	}
	if now := s.now().Time; !s.live() || now < present.Time || now > present.Time+0.001 {
		t.Errorf("playing on led to %g s, the present was %g s", now, present.Time)
	}
	s.Drag(1e9)
	if s.now().Time < 0 {
		t.Error("dragged to before the start")
	}
	s.Drag(-1e9)
	if !s.live() {
		t.Error("dragging forward does not end at the present")
	}
	s.Drag(0.01)
	if s.Do(Present); !s.live() {
		t.Error("the wish for the present is not granted")
	}
}

func TestTapeIsInOrder(t *testing.T) {
	s := open(t, "trainer-pwm")
	s.Do(PlayPause)
	for range 50 {
		s.Tick(0.03)
		tape := s.View().Tape
		for i := 1; i < len(tape); i++ {
			if tape[i].Time < tape[i-1].Time {
				t.Fatalf("%g s comes after %g s", tape[i].Time, tape[i-1].Time)
			}
		}
		if now := s.now().Time; tape[len(tape)-1].Time != now {
			t.Fatalf("the tape ends at %g s, now is %g s", tape[len(tape)-1].Time, now)
		}
	}
}

// A change must not make currents, angle or speed jump.
func TestChangesKeepTheDriveGoing(t *testing.T) {
	for _, w := range []Wish{
		NextPattern, PreviousPattern, FrequencyUp, FrequencyDown, ModulationUp, ModulationDown, SupplyUp, SupplyDown,
	} {
		s := open(t, "trainer-pwm")
		before := s.now()
		sc := s.drive.Scenario()
		s.Do(w)
		after := s.now()
		for p := range before.Current {
			if math.Abs(after.Current[p]-before.Current[p]) > 1e-9 {
				t.Errorf("wish %d: the current in %v jumps from %g to %g A", w, inverter.Phase(p), before.Current[p], after.Current[p])
			}
		}
		if math.Abs(after.Rotor-before.Rotor) > 1e-9 || after.Time != before.Time {
			t.Errorf("wish %d: rotor or time jump", w)
		}
		now := s.drive.Scenario()
		if now.Gating.Settings == sc.Gating.Settings && now.Supply == sc.Supply {
			t.Errorf("wish %d changed nothing; the message is %q", w, s.Message())
		}
		if s.Message() == "" {
			t.Errorf("wish %d was granted without a word", w)
		}
	}
}

func TestEveryPatternCanBeReached(t *testing.T) {
	s := open(t, "trainer-six-step")
	seen := map[pattern.Kind]bool{}
	for range 2 * len(pattern.Kinds()) {
		s.Do(NextPattern)
		seen[s.drive.Scenario().Gating.Kind] = true
		s.Do(PlayPause)
		for range 3 {
			s.Tick(0.1)
		}
		if s.failed {
			t.Fatalf("%v: %s", s.drive.Scenario().Gating.Kind, s.Message())
		}
		s.Do(PlayPause)
	}
	for _, k := range pattern.Kinds() {
		if !seen[k] {
			t.Errorf("%v is never reached", k)
		}
	}
}

func TestGatesByHand(t *testing.T) {
	s := open(t, "trainer-six-step")
	g := s.now().Gates
	on := inverter.UHigh
	if !g.Has(on) {
		on = inverter.ULow
	}
	s.Press(render.Part{Kind: render.GatePart, Switch: on.Other()})
	if s.now().Gates != g || !strings.Contains(s.Message(), "interlock") {
		t.Errorf("the interlock let %v be; it said %q", s.now().Gates, s.Message())
	}
	s.Press(render.Part{Kind: render.RotorPart}) // another press between, and the interlock asks anew
	s.Press(render.Part{Kind: render.GatePart, Switch: on.Other()})
	if len(s.FaultsNow()) != 0 {
		t.Errorf("not asked for, yet %q", s.FaultsNow())
	}
	s.Press(render.Part{Kind: render.GatePart, Switch: on.Other()})
	if s.now().Gates != 0 || !strings.Contains(s.Message(), "shoot-through") || !strings.Contains(s.Message(), "protection blocks") {
		t.Errorf("asked for twice, the shoot-through leaves %v; message %q", s.now().Gates, s.Message())
	}
	if s.Do(Undo); s.now().Gates != g || len(s.FaultsNow()) != 0 {
		t.Errorf("taken back, the gates are %v", s.now().Gates)
	}
	s.Do(Redo)
	if s.Press(render.Part{Kind: render.GatePart, Switch: on.Other()}); s.now().Gates != g || len(s.FaultsNow()) != 0 {
		t.Errorf("let go, the gates are %v; %q", s.now().Gates, s.FaultsNow())
	}
	s.Press(render.Part{Kind: render.GatePart, Switch: on})
	if want := g.Without(on); s.now().Gates != want {
		t.Errorf("gates are %v, want %v", s.now().Gates, want)
	}
	s.Press(render.Part{Kind: render.GatePart, Switch: on.Other()})
	if want := g.Without(on).With(on.Other()); s.now().Gates != want {
		t.Errorf("gates are %v, want %v", s.now().Gates, want)
	}
	s.Press(render.Part{Kind: render.CornerPart, Corner: 2})
	if s.now().Gates != inverter.Active[2] {
		t.Errorf("the corner at 120 degrees gave %v", s.now().Gates)
	}
}

func TestScenariosGoRound(t *testing.T) {
	s := open(t, "trainer-six-step")
	s.Do(NextScenario)
	if s.Scenario() != "passive-rl" {
		t.Errorf("the scenario is %s", s.Scenario())
	}
	s.Do(NextScenario)
	s.Do(PreviousScenario)
	if s.Scenario() != "passive-rl" {
		t.Errorf("forward and back led to %s", s.Scenario())
	}
}

// A drive that comes to an end says so and stays as it was, and can be started over.
func TestFailureIsShown(t *testing.T) {
	s := open(t, "trainer-six-step")
	s.Do(PlayPause)
	s.run(func() error { return errTest })
	if s.playing || s.Message() != "The test has failed." {
		t.Errorf("playing %v, message %q", s.playing, s.Message())
	}
	s.Do(NextEvent)
	if !strings.Contains(s.Message(), "start over") {
		t.Errorf("message %q", s.Message())
	}
	s.Do(Restart)
	s.Do(PlayPause)
	s.Tick(0.1)
	if !s.playing || s.now().Time == 0 {
		t.Error("it does not start over")
	}
}

type testError struct{}

func (testError) Error() string { return "drive: the test has failed" }

var errTest = testError{}

func TestNothingChangesByItself(t *testing.T) {
	s := open(t, "trainer-six-step")
	s.Changed()
	s.Tick(0.05)
	if s.Changed() {
		t.Error("paused, but there is something new to draw")
	}
	s.Do(NextTheme)
	if !s.Changed() {
		t.Error("another theme is not drawn")
	}
	s.say("A word.")
	s.Changed()
	for range 100 {
		s.Tick(0.1)
	}
	if s.Message() != "" || !s.Changed() {
		t.Error("the message stays for ever")
	}
}

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
			case NextLesson, NextScene, Choice1, Notes: // in a lesson
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

// The help names every key and can be read: on a large window at once, on a phone on pages that a finger turns.
func TestHelpNamesEveryKey(t *testing.T) {
	for _, size := range [][2]float64{{1280, 720}, {1920, 1080}, {390, 844}, {844, 390}, {1024, 768}, {360, 640}} {
		s := open(t, "trainer-pwm")
		s.Do(Help)
		written := map[string]bool{}
		pages := 0
		for ; s.help; pages++ {
			f := s.Arrange(size[0], size[1], 1)
			var rec recorder.Canvas
			s.Draw(&rec, &f, None)
			for _, a := range rec.Actions {
				if text, ok := a.(*recorder.FillString); ok {
					written[text.String] = true
				}
			}
			if box := f.manual.box; box.Min.X < 0 || box.Max.X > vg.Length(size[0]) || box.Min.Y < f.strip.Max.Y || box.Max.Y > vg.Length(size[1]) {
				t.Errorf("%v: the help lies at %v", size, box)
			}
			if letters := f.manual.line * manualSize; letters < 9 {
				t.Errorf("%v: letters %g pixels high", size, letters)
			}
			middle := f.manual.box.Min.Add(f.manual.box.Max).Scale(0.5)
			w, over := f.At(middle)
			if w != Help || !over {
				t.Fatalf("%v: a click on the help goes through it", size)
			}
			s.Do(w)
			if pages > 20 {
				t.Fatalf("%v: the help has no end", size)
			}
		}
		for _, a := range actions {
			if !written[a.keys] || !written[a.does] {
				t.Errorf("%v: the help leaves out %q, to %s", size, a.keys, a.does)
			}
		}
		if size[0] >= 1280 && pages != 1 {
			t.Errorf("%v: the help has %d pages", size, pages)
		}
	}
}

func TestTyped(t *testing.T) {
	for r, want := range map[rune]Wish{'p': NextPattern, 'P': PreviousPattern, '?': Help, '+': Faster, '=': Faster, '-': Slower, 'q': NextScene, '3': Choice3, '7': None, 'U': Redo, 'X': MendAll, 0: None} {
		if got := Typed(r); got != want {
			t.Errorf("%q wishes %d, want %d", r, got, want)
		}
	}
}

func BenchmarkFrame(b *testing.B) {
	sc, err := scenario.Open("hauler-pwm")
	if err != nil {
		b.Fatal(err)
	}
	s, err := New([]Choice{{"hauler-pwm", sc}}, 0, true)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		s.Tick(1.0 / 60)
		s.View()
	}
}
