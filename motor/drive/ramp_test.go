package drive

import (
	"math"
	"testing"
)

// The frequency goes to its command at the rate and stays there, the angle turns by it, and the length of the vector goes with
// it from the boost on; a new command takes over where the old one is.
func TestRamp(t *testing.T) {
	var r ramp
	g := Gating{Ramp: 50, Boost: 0.1}
	g.Frequency, g.Modulation, g.Phase = 40, 0.9, 0.6
	r.retune(2, &g)
	check := func(t0, f0, f1 float64) {
		t.Helper()
		way := math.Abs(f1-f0) / 50
		angle := r.angle(t0)
		const parts = 2000
		h := 2 * way / parts
		for k := range parts {
			at := t0 + h*float64(k)
			want := f1
			if at-t0 < way {
				want = f0 + math.Copysign(50, f1-f0)*(at-t0)
			}
			near(t, "frequency", 1+r.frequency(at), 1+want, 1e-9)
			if got := r.angle(at); math.Abs(got-angle) > 1e-6 {
				t.Fatalf("angle %g rad at %g s, want %g", got, at, angle)
			}
			x := r.reference(at)
			v, zero := x.Clarke()
			if off := math.Remainder(v.Angle()-r.angle(at), 2*math.Pi); math.Abs(off) > 1e-9 || math.Abs(zero) > 1e-12 {
				t.Fatalf("the vector is %g rad off its angle at %g s", off, at)
			}
			near(t, "modulation", v.Abs(), 0.1+(0.9-0.1)*math.Abs(want/f1), 1e-9)
			middle := r.frequency(at + h/2)
			angle += 2 * math.Pi * h * middle
		}
	}
	near(t, "phase", r.angle(2), 0.6, 1e-12)
	check(2, 0, 40)
	g.Frequency, g.Phase = -25, 3
	before := r.angle(2.5)
	r.retune(2.5, &g)
	near(t, "angle at the change", r.angle(2.5), before, 1e-12)
	check(2.5, 25, -25)
}

// A ramp to standstill ends with the boost alone.
func TestRampToStandstill(t *testing.T) {
	var r ramp
	g := Gating{Ramp: 50, Boost: 0.1}
	g.Modulation = 0.9
	r.retune(0, &g)
	v, _ := r.reference(1).Clarke()
	near(t, "modulation", v.Abs(), 0.1, 1e-12)
}
