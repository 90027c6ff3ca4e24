package show

import (
	"math"
	"strings"
	"testing"

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
	s, err := New(choices, 0, true)
	if err != nil {
		t.Fatal(err)
	}
	s.playing = false
	return s
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
