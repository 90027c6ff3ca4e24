package show

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"

	"sextant/render"
)

// lay lays the stage out as a window does.
func lay(s *Show) render.Layout {
	l := render.Arrange(render.Everything, vg.Rectangle{Max: vg.Point{X: 1280, Y: 720}}, 1, s.Lanes()...).WithCursors(len(s.tapeTaste.cursors))
	s.Lay(&l)
	return l
}

// Lanes are chosen and put in order by buttons and keys, and found again the next time.
func TestLanesByHand(t *testing.T) {
	for _, size := range [][2]float64{{1280, 720}, {390, 844}} {
		s := open(t, "trainer-pwm")
		lay(s)
		usual := slices.Clone(s.tapeTaste.shown)
		s.Do(TapeLanes)
		press(t, s, size, laneWish(render.SpeedLane))
		press(t, s, size, laneWish(render.GateLane))
		l := lay(s)
		want := append(slices.DeleteFunc(slices.Clone(usual), func(k render.Lane) bool { return k == render.GateLane }), render.SpeedLane)
		if got := l.Shown(); !slices.Equal(got, want) {
			t.Errorf("%v: shown are %v, want %v", size, got, want)
		}
		s.Point(render.Part{Kind: render.LanePart, Lane: render.SpeedLane})
		for range 10 {
			press(t, s, size, LaneUp)
		}
		if l = lay(s); l.Shown()[0] != render.SpeedLane {
			t.Errorf("%v: after up, shown are %v", size, l.Shown())
		}
		press(t, s, size, LaneDown)
		press(t, s, size, LaneOff)
		if l = lay(s); slices.Contains(l.Shown(), render.SpeedLane) {
			t.Errorf("%v: after off, shown are %v", size, l.Shown())
		}
		other := open(t, "passive-rl")
		other.SetTaste(s.Taste())
		if !slices.Equal(other.Lanes(), s.Lanes()) {
			t.Errorf("%v: kept are %v of %v", size, other.Lanes(), s.Lanes())
		}
		for _, k := range l.Shown() {
			s.Do(laneWish(k))
		}
		if l = lay(s); len(l.Shown()) != 1 || !strings.Contains(s.Message(), "at least one") {
			t.Errorf("%v: shown are %v, message %q", size, l.Shown(), s.Message())
		}
		press(t, s, size, UsualLanes)
		if l = lay(s); !slices.Equal(l.Shown(), usual) {
			t.Errorf("%v: the usual ones are %v, were %v", size, l.Shown(), usual)
		}
	}
}

func TestLaneThatThereIsNotIsNotKept(t *testing.T) {
	s := open(t, "trainer-pwm")
	s.SetTaste(Taste{Lanes: "torque,moon,torque,currents"})
	if got := s.Lanes(); !slices.Equal(got, []render.Lane{render.TorqueLane, render.CurrentLane}) {
		t.Errorf("taken were %v", got)
	}
}

// Cursors come with one key, stand still for measuring, move by keys and by hand, and go.
func TestCursorsByHand(t *testing.T) {
	s := open(t, "trainer-pwm")
	s.Do(PlayPause)
	s.Do(Cursors)
	if c := s.tapeTaste.cursors; len(c) != 2 || s.playing || !(c[0] < c[1] && c[1] < s.now().Time && c[0] > s.now().Time-s.Span()) {
		t.Fatalf("cursors at %v, now is %g s", c, s.now().Time)
	}
	a, b := s.tapeTaste.cursors[0], s.tapeTaste.cursors[1]
	s.Do(CursorOn)
	s.Do(Cursors)
	s.Do(CursorBack)
	if c := s.tapeTaste.cursors; math.Abs(c[0]-a-s.Span()/100) > 1e-12 || math.Abs(c[1]-b+s.Span()/100) > 1e-12 {
		t.Errorf("moved from %g and %g s to %v", a, b, c)
	}
	s.MoveCursor(0, 0.01)
	if s.tapeTaste.cursors[0] != 0.01 || s.View().Cursors[0] != 0.01 {
		t.Errorf("dragged to 10 ms, it is at %v", s.tapeTaste.cursors)
	}
	s.Do(Cursors) // A again active, after the drag
	s.Do(Cursors)
	if s.tapeTaste.cursors != nil {
		t.Errorf("still there: %v", s.tapeTaste.cursors)
	}
}
