package drive

import (
	"fmt"
	"math"
	"testing"

	"sextant/inverter/pattern"
)

// Dry friction is the same both ways: a shaft that runs out is at rest when J Ω/(T_f ± T_load) is over, stays there where the
// load is less than the friction, and breaks loose to the side of one that is more.
func TestDryFrictionBothWays(t *testing.T) {
	const j, friction = 0.01, 2.
	for _, tt := range []struct{ speed, load float64 }{
		{10, 0}, {-10, 0}, {10, 1.5}, {-10, 1.5}, {10, -1.5}, {0, 1.9}, {0, -1.9}, {0, 2.5}, {0, -2.5}, {10, 2.5}, {-10, 2.5}, {10, -2.5},
	} {
		s := turning(machineA, pattern.AllOff, 350, 0, 0, 1)
		s.Shaft = Shaft{Free: true, Inertia: j, StartSpeed: tt.speed, LoadTorque: tt.load, Coulomb: friction}
		d, _ := watched(t, s)
		want := func(at float64) float64 {
			way := math.Copysign(1, tt.speed)
			pull := -tt.load - way*friction // while it turns as it did
			rest := -tt.speed * j / pull
			if pull*tt.speed >= 0 {
				rest = math.Inf(1) // the load drives it on
			}
			if at < rest && tt.speed != 0 {
				return tt.speed + pull/j*at
			}
			if tt.speed == 0 {
				rest = 0
			}
			if math.Abs(tt.load) <= friction {
				return 0
			}
			return (math.Copysign(friction, tt.load) - tt.load) / j * (at - rest)
		}
		for range 20 {
			if err := d.Advance(7e-3); err != nil {
				t.Fatal(err)
			}
			if got, want := d.Now().Speed, want(d.Time()); math.Abs(got-want) > 1e-9*(1+math.Abs(want)) {
				t.Errorf("from %g rad/s under %g N m: %g rad/s at %g s, want %g", tt.speed, tt.load, got, d.Time(), want)
			}
		}
		balance(t, d)
	}
}

// A shaft that is blocked for a time stands; one that is held goes on at its speed when that is over, and a free one starts from
// rest.
func TestBlockedForATime(t *testing.T) {
	const from, until, load, j = 2e-3, 5e-3, 3., 0.01
	for _, free := range []bool{false, true} {
		s := turning(machineA, pattern.AllOff, 350, 1000, 0, 1)
		s.Faults = []Fault{{Kind: ShaftBlocked, Time: from, Until: until}}
		if free {
			s.Shaft = Shaft{Free: true, Inertia: j, StartSpeed: rpm(1000), LoadTorque: load}
		}
		d, _ := watched(t, s)
		for _, at := range []float64{1e-3, 2.5e-3, 4.999e-3, 5e-3, 6e-3, 9e-3} {
			if err := d.Advance(at - d.Time()); err != nil {
				t.Fatal(err)
			}
			want := rpm(1000)
			switch {
			case at >= from && at < until:
				want = 0
			case free && at < from:
				want -= load / j * at
			case free:
				want = -load / j * (at - until)
			}
			if got := d.Now().Speed; math.Abs(got-want) > 1e-9*(1+math.Abs(want)) {
				t.Errorf("free %v: %g rad/s at %g s, want %g", free, got, at, want)
			}
		}
	}
}

// No more is told than anybody reads.
func TestNoticesAreBounded(t *testing.T) {
	d, err := New(turning(machineA, pattern.AllOff, 350, 1000, 0, 1))
	if err != nil {
		t.Fatal(err)
	}
	for k := range 3 * mostNotices {
		d.tell(float64(k), "%d", k)
		if n := d.Notices(); len(n) != min(k+1, mostNotices) || n[len(n)-1].Text != fmt.Sprint(min(k, mostNotices-1)) {
			t.Fatalf("%d notices behind %d, the last %+v", len(n), k+1, n[len(n)-1])
		}
	}
}

// A tape holds two instants at least, and just as many as it was made for.
func TestTapeHolds(t *testing.T) {
	for capacity, want := range map[int]int{-1: 2, 0: 2, 1: 2, 2: 2, 3: 3, 50: 50} {
		d, err := New(traction(8e3))
		if err != nil {
			t.Fatal(err)
		}
		tape := NewTape(capacity, 1e-7)
		d.Watch(tape)
		if err := d.Advance(1e-3); err != nil {
			t.Fatal(err)
		}
		from, to := tape.Span()
		if got := tape.Between(math.Inf(-1), math.Inf(1)); tape.Len() != want || len(got) != want || got[0].Time != from || got[want-1].Time != to || from > to {
			t.Errorf("a tape for %d holds %d, and %d between %g s and %g s", capacity, tape.Len(), len(got), from, to)
		}
	}
}
