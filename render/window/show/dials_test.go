package show

import (
	"math"
	"testing"

	"sextant/inverter/device"
	"sextant/motor/drive"
)

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
