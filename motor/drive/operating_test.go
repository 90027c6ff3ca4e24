package drive_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sextant/inverter"
	"sextant/motor/drive"
)

// The power by phasors, 3/2 V I cos, is what shaft and copper take, but for the harmonics' share: a few per cent
// in six-step, whose current is no sine.
func TestOperatingOf(t *testing.T) {
	for _, name := range []string{"hauler-pwm", "hauler-brake", "trainer-six-step"} {
		s := open(t, name)
		d := start(t, s)
		tape := drive.NewTape(100000, 1e-5)
		d.Watch(tape)
		advance(t, d, s.Run.Settle+0.05)
		from, to := tape.Span()
		p, ok := drive.OperatingOf(tape.Between(from, to), &s)
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
	s := open(t, "hauler-pwm")
	if _, ok := drive.OperatingOf([]drive.Instant{{}, {Time: 1e-4, Speed: 300}}, &s); ok {
		t.Error("a tenth of a millisecond was taken for a turn")
	}
}

// TestOperatingBetweenSamples: of sines the operating point is their own, wherever between two samples the turn begins, and
// whichever way the field turns.
func TestOperatingBetweenSamples(t *testing.T) {
	s := open(t, "hauler-pwm")
	for _, f := range []float64{100, -100} {
		for _, step := range []float64{0.7e-3, 0.9e-3, 1e-3, 1.3e-3} {
			var record []drive.Instant
			for k := range 25 {
				x := drive.Instant{Time: float64(k) * step, Speed: 2 * math.Pi * f / float64(s.Machine.PolePairs)}
				for _, p := range inverter.Phases {
					x.Phase[p] = 150 * math.Cos(2*math.Pi*f*x.Time-p.Axis())
					x.Current[p] = 80 * math.Cos(2*math.Pi*f*x.Time-math.Copysign(0.5, f)-p.Axis())
				}
				record = append(record, x)
			}
			p, ok := drive.OperatingOf(record, &s)
			if !ok || math.Abs(p.Voltage-150) > 1e-9 || math.Abs(p.Current-80) > 1e-9 || math.Abs(p.Lag-0.5) > 1e-12 || p.Frequency != 100 {
				t.Errorf("%g Hz, samples %g s apart: %+v, %v", f, step, p, ok)
			}
		}
	}
}
