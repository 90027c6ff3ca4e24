package show

import (
	"math"
	"slices"
	"strings"
	"testing"

	"sextant/inverter"
	"sextant/motor/drive"
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
