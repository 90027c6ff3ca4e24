package drive

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
)

// The power by phasors, 3/2 V I cos, is what shaft and copper take, but for the harmonics' share: a few per cent
// in six-step, whose current is no sine.
func TestOperatingOf(t *testing.T) {
	for _, name := range []string{"hauler-pwm", "hauler-brake", "trainer-six-step"} {
		s, err := Open(name)
		if err != nil {
			t.Fatal(err)
		}
		d, err := New(s)
		if err != nil {
			t.Fatal(err)
		}
		tape := NewTape(100000, 1e-5)
		d.Watch(tape)
		if err := d.Advance(s.Run.Settle + 0.05); err != nil {
			t.Fatal(err)
		}
		from, to := tape.Span()
		p, ok := OperatingOf(tape.Between(from, to), &s)
		if !ok {
			t.Fatalf("%s: nothing to average", name)
		}
		m := s.Machine
		omega := s.Shaft.Speed * float64(m.PolePairs)
		if !scalar.EqualWithinRel(p.Frequency, omega/(2*math.Pi), 1e-9) {
			t.Errorf("%s: %g Hz, turning at %g rad/s", name, p.Frequency, omega)
		}
		// Power by phasors against torque and copper heat: P = 3/2 V I cos, in the mean.
		sum, n := 0.0, 0
		for _, i := range tape.Between(to-2*math.Pi/omega, to) {
			sum += i.Power.Shaft
			n++
		}
		in := 1.5 * p.Voltage * p.Current * math.Cos(p.Lag)
		out := sum/float64(n) + 1.5*m.Resistance*p.Current*p.Current
		if !scalar.EqualWithinRel(in, out, 0.05) {
			t.Errorf("%s: %g W by phasors, %g W by shaft and copper", name, in, out)
		}
	}
	s, err := Open("hauler-pwm")
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := OperatingOf([]Instant{{}, {Time: 1e-4, Speed: 300}}, &s); ok {
		t.Error("a tenth of a millisecond was taken for a turn")
	}
}
