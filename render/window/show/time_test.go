package show

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sextant/inverter"
)

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
