package show

import (
	"math"
	"strings"
	"testing"

	"sextant/render"
)

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
