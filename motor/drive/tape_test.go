package drive_test

import (
	"math"
	"slices"
	"testing"

	"sextant/inverter"
	"sextant/motor/drive"
)

// TestTapeKeepsTheLatest: a short tape holds the end of what a long one holds, and its stretches are what lies within them.
func TestTapeKeepsTheLatest(t *testing.T) {
	s := open(t, "hauler-pwm")
	d := start(t, s)
	long, short := drive.NewTape(100_000, 1e-6), drive.NewTape(50, 1e-6)
	if from, to := long.Span(); from != 0 || to != 0 || long.Len() != 0 {
		t.Errorf("an empty tape runs from %g s to %g s", from, to)
	}
	d.Watch(long)
	d.Watch(short)
	advance(t, d, 1e-3)
	if short.Len() != 50 || long.Len() < 1000 {
		t.Fatalf("%d and %d instants", short.Len(), long.Len())
	}
	for i := range 50 {
		if a, b := short.Instant(i), long.Instant(long.Len()-50+i); a.Time != b.Time || a.Current != b.Current {
			t.Errorf("instant %d is of %g s, want %g s", i, a.Time, b.Time)
		}
	}
	var all []drive.Instant
	for i := range long.Len() {
		all = append(all, long.Instant(i))
	}
	step := 0.0
	for i := 1; i < len(all); i++ {
		step = max(step, all[i].Time-all[i-1].Time)
	}
	if step > 1.001e-6 {
		t.Errorf("samples lie %g s apart, want 1 us at most", step)
	}
	for _, tt := range [][2]float64{{0.2e-3, 0.4e-3}, {0.9e-3, 1}, {-1, 0.1e-3}, {2, 3}} {
		want := 0
		for _, i := range all {
			if i.Time >= tt[0] && i.Time <= tt[1] {
				want++
			}
		}
		got := long.Between(tt[0], tt[1])
		if len(got) != want || want > 0 && (got[0].Time < tt[0] || got[want-1].Time > tt[1]) {
			t.Errorf("from %g s to %g s: %d instants, want %d", tt[0], tt[1], len(got), want)
		}
	}
	long.SetGap(0) // no more than both sides of events
	long.Clear()
	if long.Len() != 0 {
		t.Errorf("%d instants on a cleared tape", long.Len())
	}
	advance(t, d, 1e-3)
	if n := long.Len(); n == 0 || n > 300 {
		t.Errorf("%d instants of a millisecond without samples", n)
	}
}

// TestInstantUnits: turns a minute and line voltages of an instant.
func TestInstantUnits(t *testing.T) {
	i := drive.Instant{Speed: 100 * math.Pi, Pole: inverter.ABC{350, 0, 100}}
	if rpm := i.RPM(); math.Abs(rpm-3000) > 1e-9 {
		t.Errorf("%g rpm", rpm)
	}
	if line := i.Line(); !slices.Equal(line[:], []float64{350, -100, -250}) {
		t.Errorf("lines at %v", line)
	}
}

// TestTripped: both switches of a leg on trip the drive, and nothing else does.
func TestTripped(t *testing.T) {
	s := open(t, "hauler-pwm")
	for _, faults := range [][]drive.Fault{nil, {{Kind: drive.SwitchOpen, Switch: inverter.UHigh}}, {{Kind: drive.SwitchShort, Switch: inverter.UHigh}}} {
		s.Faults = faults
		d := start(t, s)
		advance(t, d, 5e-3)
		if want := faults != nil && faults[0].Kind == drive.SwitchShort; d.Tripped() != want {
			t.Errorf("%v: tripped %v", faults, d.Tripped())
		}
	}
}
