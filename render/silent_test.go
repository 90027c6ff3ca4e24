package render

import (
	"testing"

	"gonum.org/v1/plot/vg"

	"sextant/inverter/pattern"
)

// Without the sentence the same parts fill the area, keep inside it, and still tell all else.
func TestSilentStage(t *testing.T) {
	v := demo(t, pattern.SixStep180, 0.0137)
	parts := func(l *Layout) []vg.Rectangle { return []vg.Rectangle{l.Bridge, l.Wheel, l.Tape, l.Ledger} }
	for _, size := range sizes {
		a := area(size[0], size[1])
		for _, f := range Focuses {
			with, without := Arrange(f, a, 1), ArrangeSilent(f, a, 1)
			highest := a.Min.Y
			for k, r := range parts(&without) {
				if empty(r) != empty(parts(&with)[k]) {
					t.Errorf("%v, %v: part %d is there with the sentence only, or without only", size, f, k)
				}
				if !empty(r) && !inOne([]vg.Rectangle{a}, r) {
					t.Errorf("%v, %v: part %d, %.1f, leaves the area", size, f, k, r)
				}
				highest = max(highest, r.Max.Y)
			}
			if a.Max.Y-highest > 2*without.margin {
				t.Errorf("%v, %v: nothing stands above %.1f of %.1f", size, f, highest, a.Max.Y)
			}
		}
		l := ArrangeSilent(Everything, a, 1, GateLane, CurrentLane) // the usual lanes depend on the room
		all := texts(record(l, v))
		if n := len(texts(record(Arrange(Everything, a, 1, GateLane, CurrentLane), v))); len(all) > n-3 || len(all) < n/2 {
			t.Errorf("%v: %d texts of %d are left without title, time and sentence", size, len(all), n)
		}
		for _, s := range all {
			if !inOne(parts(&l), s.box) {
				t.Errorf("%v: %q lies in no part whole", size, s.words)
			}
		}
	}
}

// What is drawn bare covers no more than its parts do.
func TestBareStageHasNoGround(t *testing.T) {
	v := demo(t, pattern.SixStep180, 0.0137)
	l := Arrange(Everything, area(1280, 720), 1)
	all := len(record(l, v))
	v.Bare = true
	if n := len(record(l, v)); n >= all {
		t.Errorf("%d things are drawn bare, %d otherwise", n, all)
	}
}
