package drive_test

import (
	"math"
	"testing"
)

// A held rotor that is turned by hand stands elsewhere, and goes on from there; nothing else jumps.
func TestTurn(t *testing.T) {
	s := open(t, "trainer-pwm")
	d := start(t, s)
	advance(t, d, 0.0123)
	before := d.Now()
	if err := d.Turn(0.5); err != nil {
		t.Fatal(err)
	}
	after := d.Now()
	if off := math.Remainder(after.Rotor-before.Rotor-0.5, 2*math.Pi); math.Abs(off) > 1e-12 {
		t.Errorf("turned by 0.5 rad, the rotor is %g rad off that", off)
	}
	for p := range before.Current {
		if math.Abs(after.Current[p]-before.Current[p]) > 1e-9 {
			t.Errorf("a current jumps from %g to %g A", before.Current[p], after.Current[p])
		}
	}
	if after.Time != before.Time || after.Gates != before.Gates || after.Speed != before.Speed {
		t.Errorf("time, gates or speed jump: %+v", after)
	}
	advance(t, d, 0.001)
	omega := before.Speed * float64(s.Machine.PolePairs)
	if off := math.Remainder(d.Now().Rotor-after.Rotor-omega*0.001, 2*math.Pi); math.Abs(off) > 1e-9 {
		t.Errorf("a millisecond on, the rotor is %g rad off its way", off)
	}
	for _, name := range []string{"passive-rl", "trainer-start"} {
		s := open(t, name)
		d := start(t, s)
		if d.Turn(0.5) == nil {
			t.Errorf("%s lets its rotor be turned", name)
		}
	}
}
