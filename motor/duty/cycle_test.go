package duty_test

import (
	"math"
	"testing"

	"sextant/motor/duty"
)

// TestRefined: over a ramp of speed and torque from rest the shaft's work is a third of the end's power times the
// time; rows keep their places, and those near each other are left as they are.
func TestRefined(t *testing.T) {
	p := hauler()
	ramp := duty.Cycle{Rows: []duty.Row{{}, {Time: 10, Speed: 300, Torque: 90}, {Time: 30, Speed: 300, Torque: 90}, {Time: 40}}}
	fine := ramp.Refined()
	w := duty.WorkOf(&p, fine.Demands(nil))
	near(t, "work", w.Motoring, 300*90*(10.0/3+20+10.0/3), 1e-3)
	if fine.Duration() != ramp.Duration() {
		t.Errorf("%g s, want %g", fine.Duration(), ramp.Duration())
	}
	for _, r := range ramp.Rows {
		found := false
		for _, f := range fine.Rows {
			found = found || f == r
		}
		if !found {
			t.Errorf("row %+v is gone", r)
		}
	}
	for i, b := range fine.Rows[1:] {
		if a := fine.Rows[i]; !(b.Time > a.Time) || math.Abs(b.Torque-a.Torque) > 0.05*90+1e-9 {
			t.Errorf("from %+v to %+v", a, b)
		}
	}
	if again := fine.Refined(); len(again.Rows) != len(fine.Rows) {
		t.Errorf("%d rows of %d", len(again.Rows), len(fine.Rows))
	}
	// Between rows a few roundings apart there is not room for all.
	sudden := duty.Cycle{Rows: []duty.Row{{Time: 1 << 30}, {Time: 1<<30 + 1e-6, Speed: 300, Torque: 90}}}
	times := map[float64]bool{}
	for _, r := range sudden.Refined().Rows {
		if times[r.Time] {
			t.Errorf("two rows at %v s", r.Time)
		}
		times[r.Time] = true
	}
	still := duty.Cycle{Rows: []duty.Row{{}, {Time: 1}}}
	if n := len(still.Refined().Rows); n != 51 {
		t.Errorf("%d rows of a cycle that stands", n)
	}
}
