package render

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/plot/vg"

	"sextant/inverter/pattern"
	"sextant/motor/drive"
)

func TestParseLane(t *testing.T) {
	for _, k := range Lanes {
		if got, err := ParseLane(k.String()); err != nil || got != k {
			t.Errorf("%v reads back as %v, %v", k, got, err)
		}
	}
	if _, err := ParseLane("moon"); err == nil {
		t.Error("moon is taken for a lane")
	}
}

// Lanes lie in the order in which they were asked for, one below the other, each once.
func TestLanesKeepTheirOrder(t *testing.T) {
	want := []Lane{SpeedLane, GateLane, DQLane}
	l := Arrange(Everything, area(1280, 720), 1, SpeedLane, GateLane, SpeedLane, DQLane)
	if got := l.Shown(); !slices.Equal(got, want) {
		t.Errorf("shown are %v, want %v", got, want)
	}
	for k, lane := range want[1:] {
		if l.Lanes[lane].Max.Y >= l.Lanes[want[k]].Min.Y {
			t.Errorf("%v is not below %v", lane, want[k])
		}
	}
	l = l.WithCursors(2)
	if got := l.Shown(); !slices.Equal(got, want) {
		t.Errorf("with cursors shown are %v, want %v", got, want)
	}
}

// Every lane's texts keep to the tape and off each other, with and without cursors.
func TestLanesAreLegible(t *testing.T) {
	v := demo(t, pattern.SpaceVector, 0.0137)
	v.Cursors = []float64{0.0111, 0.0131}
	for _, size := range sizes {
		for cursors := range 3 {
			for _, lane := range Lanes {
				l := Arrange(Everything, area(size[0], size[1]), 1, lane, CurrentLane).WithCursors(cursors)
				all := texts(record(l, v))
				for i, a := range all {
					if !inOne([]vg.Rectangle{l.Sentence, l.Bridge, l.Wheel, l.Tape, l.Ledger}, a.box) {
						t.Errorf("%v at %v with %d cursors: %q lies in no part whole", lane, size, cursors, a.words)
					}
					for _, b := range all[:i] {
						if w := overlap(a.box, b.box); w > 0.02*l.unit {
							t.Errorf("%v at %v with %d cursors: %q overlaps %q", lane, size, cursors, a.words, b.words)
						}
					}
				}
			}
		}
	}
}

// What a hand finds under a point is what is drawn there.
func TestTimesOfThePicture(t *testing.T) {
	v := demo(t, pattern.SpaceVector, 0.0137)
	l := Arrange(Everything, area(1280, 720), 1).WithCursors(2)
	if got := l.TimeAt(l.Now, v); got != v.Now.Time {
		t.Errorf("at the now-line it is %g s, want %g", got, v.Now.Time)
	}
	if got := l.TimeAt(l.Trace.Min.X, v); math.Abs(got-(v.Now.Time-v.Span)) > 1e-12 {
		t.Errorf("the tape begins at %g s, want %g", got, v.Now.Time-v.Span)
	}
	v.Cursors = []float64{0.009, 0.012}
	for k, time := range v.Cursors {
		x := l.XAt(time, v)
		if got := l.TimeAt(x, v); math.Abs(got-time) > 1e-12 {
			t.Errorf("%g s is drawn where it is %g s", time, got)
		}
		at := vg.Point{X: x + 1, Y: l.Lanes[CurrentLane].Min.Y}
		if got, ok := l.CursorAt(at, v); !ok || got != k {
			t.Errorf("beside cursor %d there is %d, %v", k, got, ok)
		}
	}
	if _, ok := l.CursorAt(vg.Point{X: l.XAt(0.0105, v), Y: l.Trace.Min.Y}, v); ok {
		t.Error("between the cursors there is one")
	}
}

// Between two instants a value is taken to run straight, at an event it is the one behind it, and beyond the tape
// there is none.
func TestCursorsRead(t *testing.T) {
	at := func(time, torque float64) drive.Instant { return drive.Instant{Time: time, Torque: torque} }
	v := &View{Tape: []drive.Instant{at(1, 10), at(2, 30), at(2, 50), at(3, 60)}}
	l := Arrange(Everything, area(640, 360), 1)
	p := newPen(&nothing{}, &l, v)
	defer p.lift()
	for _, tt := range []struct{ time, want float64 }{
		{1, 10}, {1.25, 15}, {2, 50}, {2.5, 55}, {3, 60}, {0.9, math.NaN()}, {3.1, math.NaN()}, {math.NaN(), math.NaN()},
	} {
		m := p.moment(tt.time)
		got := m.value(func(i *drive.Instant) float64 { return i.Torque })
		if got != tt.want && !(math.IsNaN(got) && math.IsNaN(tt.want)) {
			t.Errorf("at %g s: %g, want %g", tt.time, got, tt.want)
		}
	}
}
