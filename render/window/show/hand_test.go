package show

import (
	"math"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"

	"sextant/inverter"
	"sextant/inverter/device"
	"sextant/motor/drive"
	"sextant/motor/scenario"
	"sextant/render"
)

// watch lets a show play for so many of the spectator's seconds.
func watch(s *Show, wall float64) {
	s.playing = true
	for ; wall > 0; wall -= 0.05 {
		s.Tick(0.05)
	}
	s.playing = false
}

func TestCutAWireAndMendIt(t *testing.T) {
	s := open(t, "trainer-pwm")
	s.Press(render.Part{Kind: render.WirePart, Phase: inverter.V})
	if !slices.Equal(s.FaultsNow(), []string{"Phase V is open."}) || !strings.Contains(s.Message(), "Phase V is open") {
		t.Errorf("broken: %q; message %q", s.FaultsNow(), s.Message())
	}
	watch(s, 1)
	cut := s.now()
	if i := cut.Current[inverter.V]; math.Abs(i) > 1e-9 {
		t.Errorf("%g A flow through the cut wire", i)
	}
	if math.Abs(cut.Current[inverter.U]) < 1e-3 {
		t.Error("no current is left in U")
	}
	s.Press(render.Part{Kind: render.WirePart, Phase: inverter.V})
	if len(s.FaultsNow()) != 0 {
		t.Errorf("mended, yet %q", s.FaultsNow())
	}
	watch(s, 2)
	if i := s.now().Current[inverter.V]; math.Abs(i) < 1e-3 {
		t.Errorf("%g A flow through the mended wire", i)
	}
	// The record still shows what was broken then.
	s.Drag(s.now().Time - cut.Time + 1e-5)
	v := s.View()
	if words := render.Sentence(&v.Now, v.Scenario); !strings.HasPrefix(words, "Phase V is open") {
		t.Errorf("back when it was cut, the sentence is %q", words)
	}
}

func TestDeviceBreaksInTurn(t *testing.T) {
	s := open(t, "trainer-six-step")
	part := render.Part{Kind: render.DevicePart, Switch: inverter.ULow}
	s.Press(part)
	if got := s.FaultsNow(); !slices.Equal(got, []string{"Switch U- is open."}) {
		t.Errorf("first %q", got)
	}
	watch(s, 0.2)
	s.Press(part)
	if got := s.FaultsNow(); !slices.Equal(got, []string{"Switch U- is shorted."}) {
		t.Errorf("then %q", got)
	}
	// Six-step turns U+ on within a turn, and the protection acts.
	for range 20 {
		watch(s, 0.5)
		if strings.Contains(s.Message(), "protection blocks") {
			break
		}
	}
	if !strings.Contains(s.Message(), "protection blocks") || s.now().Gates != 0 {
		t.Errorf("gates %v, message %q", s.now().Gates, s.Message())
	}
	s.Press(part)
	watch(s, 0.2)
	if got := s.FaultsNow(); len(got) != 0 || s.now().Gates == 0 {
		t.Errorf("at last %q, gates %v", got, s.now().Gates)
	}
}

// Every fault of the panel can be put in and mended by its button, and changes what it should.
func TestFaultPanel(t *testing.T) {
	for _, name := range []string{"trainer-pwm", "hauler-climb", "trainer-120", "passive-rl", "trainer-speed"} {
		s := open(t, name)
		s.Do(Faults)
		f := s.Arrange(1280, 720, 1)
		if f.panel.Max.Y > f.Stage.Max.Y*0.6 {
			t.Errorf("%s: the panel is %g high of %g", name, f.panel.Max.Y, f.Stage.Max.Y)
		}
		sc := s.drive.Scenario()
		kinds := faultKinds(&sc)
		if len(kinds) < 7 {
			t.Errorf("%s: only %v", name, kinds)
		}
		s.Do(MendAll)
		for _, k := range kinds {
			p, ok := f.Center(faultWish(k, 0))
			if !ok {
				t.Errorf("%s: no button for %v", name, k)
				continue
			}
			w, over := f.At(p)
			if !over || w != faultWish(k, 0) {
				t.Fatalf("%s: the button for %v wishes %d", name, k, w)
			}
			s.Do(w)
			if k == drive.SwitchShort || k == drive.GateStuckOn || len(s.FaultsNow()) == 1 {
				watch(s, 0.3)
			}
			if got := s.FaultsNow(); len(got) != 1 {
				t.Errorf("%s: %v made %q; message %q", name, k, got, s.Message())
			}
			s.Do(w)
			if got := s.FaultsNow(); len(got) != 0 {
				t.Errorf("%s: %v was mended to %q", name, k, got)
			}
		}
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

func TestDialsOfDrives(t *testing.T) {
	for _, tt := range []struct {
		scenario string
		up       Wish
		of       func(*drive.Scenario) float64
		more     bool // or nothing but a word
	}{
		{"trainer-pwm", CarrierUp, func(s *drive.Scenario) float64 { return s.Gating.Carrier + s.Gating.CarrierRatio }, true},
		{"trainer-pwm", DeadTimeUp, func(s *drive.Scenario) float64 { return s.Gating.DeadTime }, true},
		{"trainer-pwm", SpeedUp, func(s *drive.Scenario) float64 { return s.Shaft.Speed }, true},
		{"trainer-pwm", LoadUp, func(s *drive.Scenario) float64 { return s.Shaft.LoadTorque }, false},
		{"trainer-pwm", CommandUp, func(s *drive.Scenario) float64 { return s.Gating.IQ }, false},
		{"trainer-six-step", CarrierUp, func(s *drive.Scenario) float64 { return s.Gating.Carrier }, false},
		{"trainer-speed", SpeedUp, func(s *drive.Scenario) float64 { return s.Gating.SpeedCommand }, true},
		{"trainer-speed", LoadUp, func(s *drive.Scenario) float64 { return s.Shaft.LoadTorque }, true},
		{"hauler-climb", CommandUp, func(s *drive.Scenario) float64 { return s.Gating.IQ }, true},
		{"hauler-climb", FluxUp, func(s *drive.Scenario) float64 { return s.Gating.ID }, true},
		{"trainer-pwm", FluxUp, func(s *drive.Scenario) float64 { return s.Gating.ID }, false},
		{"trainer-start", AdvanceUp, func(s *drive.Scenario) float64 { return s.Gating.Advance }, true},
		{"trainer-pwm", AdvanceUp, func(s *drive.Scenario) float64 { return s.Gating.Advance }, false},
		{"trainer-pwm", DutyUp, func(s *drive.Scenario) float64 { return s.Gating.Chop + s.Gating.Duty }, false},
		{"passive-rl", SpeedUp, func(s *drive.Scenario) float64 { return s.Shaft.Speed }, false},
	} {
		s := open(t, tt.scenario)
		s.View() // which finds the scales
		before := s.drive.Scenario()
		s.Do(tt.up)
		after := s.drive.Scenario()
		if rises := tt.of(&after) > tt.of(&before); rises != tt.more || s.Message() == "" {
			t.Errorf("%s, wish %d: from %g to %g, message %q", tt.scenario, tt.up, tt.of(&before), tt.of(&after), s.Message())
		}
		if !tt.more {
			continue
		}
		s.Do(tt.up + 1)
		if back := s.drive.Scenario(); math.Abs(tt.of(&back)-tt.of(&before)) > 0.01*math.Abs(tt.of(&before))+1e-12 {
			t.Errorf("%s: up and down led from %g to %g", tt.scenario, tt.of(&before), tt.of(&back))
		}
		s.Do(Dials)
		if f := s.Arrange(1280, 720, 1); !shown(&f, tt.up) {
			t.Errorf("%s: no button for wish %d", tt.scenario, tt.up)
		}
	}
}

// Chopping asks for a carrier where there is none, and 1 is stepped down by twentieths.
func TestDutyOfChopping(t *testing.T) {
	s := open(t, "trainer-start")
	s.change(func(sc *drive.Scenario) { sc.Gating.Chop, sc.Gating.Carrier = 1, 0 }, func(*drive.Scenario) string { return "" })
	watch(s, 3)
	whole := s.now().Current
	for range 10 {
		s.Do(DutyDown)
	}
	g := s.drive.Scenario().Gating
	if g.Chop != 0.5 || g.Carrier == 0 {
		t.Errorf("the duty is %g, the carrier %g Hz; message %q", g.Chop, g.Carrier, s.Message())
	}
	watch(s, 3)
	if chopped := s.now().Current; chopped == whole {
		t.Error("chopping changes nothing")
	}
	s.Do(Dials)
	if f := s.Arrange(1280, 720, 1); !shown(&f, DutyUp) || !shown(&f, AdvanceDown) {
		t.Error("no dials for duty and advance")
	}
}

// The bridge goes round all built-in devices and ideal switches, each with its own drops; and back by undo.
func TestDeviceInTheBridge(t *testing.T) {
	s := open(t, "trainer-pwm")
	first := s.drive.Scenario().Switches
	n := len(device.Names()) + 1
	seen := map[string]bool{}
	for range n {
		s.Do(NextDevice)
		w := s.drive.Scenario().Switches
		seen[bridge(&w)] = true
		if (w.Device == nil) != (w.ChannelResistance == 0 && w.ChannelThreshold == 0) {
			t.Errorf("%s drops %g V and %g ohm", bridge(&w), w.ChannelThreshold, w.ChannelResistance)
		}
	}
	if len(seen) != n {
		t.Errorf("of %d, seen are %v", n, seen)
	}
	for range n {
		s.Do(Undo)
	}
	if got := s.drive.Scenario().Switches; got != first {
		t.Errorf("taken back, the switches are %+v, were %+v", got, first)
	}
}

func TestRotorInHand(t *testing.T) {
	s := open(t, "trainer-pwm")
	before := s.now()
	s.TurnRotor(0.5)
	if got := math.Remainder(s.now().Rotor-before.Rotor, 2*math.Pi); math.Abs(got-0.5) > 1e-9 {
		t.Errorf("turned by 0.5 rad, it moved by %g", got)
	}
	if s.TurnRotor(0); s.now().Time != before.Time {
		t.Error("turning takes time")
	}
	// One grip is one change, however the hand went.
	s.TurnRotor(0.25)
	s.TurnRotor(-0.1)
	if len(s.steps) != 1 {
		t.Errorf("one grip is %d changes", len(s.steps))
	}
	s.Press(render.Part{Kind: render.RotorPart})
	s.TurnRotor(0.2)
	for _, want := range []float64{0.65, 0} {
		s.Do(Undo)
		if got := math.Remainder(s.now().Rotor-before.Rotor, 2*math.Pi); math.Abs(got-want) > 1e-9 {
			t.Errorf("taken back, the rotor is %g rad from where it was, want %g", got, want)
		}
	}
	s.Do(Redo)
	s.Do(Redo)
	if got := math.Remainder(s.now().Rotor-before.Rotor, 2*math.Pi); math.Abs(got-0.85) > 1e-9 {
		t.Errorf("again, the rotor is %g rad from where it was, want 0.85", got)
	}
	if a := s.drive.Account(); math.Abs(a.Residual()) > 1e-9*a.Passed {
		t.Errorf("the account misses %g J", a.Residual())
	}
}

// A free rotor feels the hand as a load, against the way that it is dragged.
func TestHandOnAFreeRotor(t *testing.T) {
	s := open(t, "trainer-speed")
	s.View()
	before := s.drive.Scenario().Shaft.LoadTorque
	s.Press(render.Part{Kind: render.RotorPart})
	s.TurnRotor(-0.5)
	s.TurnRotor(-0.5)
	if got, want := s.drive.Scenario().Shaft.LoadTorque-before, s.scales.Torque/math.Pi; math.Abs(got-want) > 0.01*want {
		t.Errorf("dragged back by 1 rad, the load grew by %g N m, want %g", got, want)
	}
	if s.Do(Undo); s.drive.Scenario().Shaft.LoadTorque != before || len(s.steps) != 0 {
		t.Errorf("taken back, the load is %g N m", s.drive.Scenario().Shaft.LoadTorque)
	}
	s = open(t, "passive-rl")
	if s.TurnRotor(0.5); !strings.Contains(s.Message(), "no rotor") {
		t.Errorf("message %q", s.Message())
	}
}

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

func TestDropAFile(t *testing.T) {
	s := open(t, "trainer-pwm")
	good, err := scenario.Open("passive-rl")
	if err != nil {
		t.Fatal(err)
	}
	s.Drop(fstest.MapFS{"mine.toml": {Data: scenario.TOML(good)}, "note.txt": {Data: []byte("x")}})
	if s.Scenario() != "mine.toml" || !strings.HasPrefix(s.Message(), "Loaded") {
		t.Errorf("shown is %s; message %q", s.Scenario(), s.Message())
	}
	s.Drop(fstest.MapFS{"bad.toml": {Data: []byte("[supply]\nvoltage = \"350 A\"\n")}})
	if s.Scenario() != "mine.toml" || !strings.Contains(s.Message(), "bad.toml:2: supply.voltage") {
		t.Errorf("shown is %s; message %q", s.Scenario(), s.Message())
	}
	s.Drop(fstest.MapFS{"picture.png": {Data: []byte("x")}})
	if !strings.Contains(s.Message(), ".toml") {
		t.Errorf("message %q", s.Message())
	}
}

func TestTasteIsFoundAgain(t *testing.T) {
	s := open(t, "trainer-pwm")
	s.Do(NextTheme)
	s.Do(NextNumbering)
	s.Do(NextTextSize)
	other := open(t, "trainer-pwm")
	other.SetTaste(s.Taste())
	if other.theme != s.theme || other.numbering != s.numbering || other.TextScale() != s.TextScale() {
		t.Errorf("%+v became %+v", s.Taste(), other.Taste())
	}
	if other.SetTaste(Taste{Text: 99}); other.TextScale() != s.TextScale() {
		t.Error("a size that there is not was taken")
	}
}
