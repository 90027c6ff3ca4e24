package show

import "testing"

// A clock that is set back, or forward by days, or a machine that slept, moves the drive by no more than a tick's longest.
func TestClockJumps(t *testing.T) {
	s := open(t, "trainer-six-step")
	s.Do(PlayPause)
	start := s.now().Time
	for _, wall := range []float64{-3600, -1e-9, 0} {
		if s.Tick(wall); s.now().Time != start {
			t.Errorf("a clock set by %g s moved the drive by %g s", wall, s.now().Time-start)
		}
	}
	for _, wall := range []float64{8 * 3600, 1e9} {
		before := s.now().Time
		s.Tick(wall)
		if got, most := s.now().Time-before, longestTick*paces[s.pace]; !(got > 0 && got <= most*(1+1e-9)) {
			t.Errorf("%g s by the clock moved the drive by %g s; it may be %g s at most", wall, got, most)
		}
	}
	if !s.playing || s.failed {
		t.Errorf("it no longer plays: %s", s.Message())
	}
}
