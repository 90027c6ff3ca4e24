package signature_test

import (
	"errors"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sextant/inverter"
	"sextant/motor"
	"sextant/motor/drive"
	"sextant/motor/fault/capture"
	"sextant/motor/fault/signature"
)

// sampled returns a capture of three functions of the electrical angle, which runs from theta at f Hz with a
// change of change parts over the capture.
func sampled(turns, change, theta float64, aTurn int, f float64, i func(theta float64) inverter.ABC) capture.Capture {
	var c capture.Capture
	span := turns / f
	n := int(turns * float64(aTurn))
	for k := range n {
		t := span * float64(k) / float64(n)
		c.Time = append(c.Time, t)
		c.Current = append(c.Current, i(theta+2*math.Pi*f*(t*(1-change/2)+change*t*t/(2*span))))
	}
	return c
}

// three returns a wave of the angle in all three phases.
func three(wave func(float64) float64) func(float64) inverter.ABC {
	return func(theta float64) (x inverter.ABC) {
		for _, p := range inverter.Phases {
			x[p] = wave(theta - p.Axis())
		}
		return x
	}
}

func take(t *testing.T, c capture.Capture) signature.Signature {
	t.Helper()
	near, err := signature.Near(&c)
	if err != nil {
		t.Fatal(err)
	}
	s, err := signature.Of(&c, near)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestHealthySine: Estima and Cardoso's ξ, in their paper 0.5198, is what a sine has, and its mean is none,
// though the capture ends in the middle of a turn.
func TestHealthySine(t *testing.T) {
	s := take(t, sampled(3.4, 0, 1, 200, 50, three(func(x float64) float64 { return 10 * math.Cos(x) })))
	if s.Turns != 3 || !scalar.EqualWithinRel(s.Hz, 50, 1e-4) || s.Reversed {
		t.Errorf("%d turns at %g Hz, reversed %v", s.Turns, s.Hz, s.Reversed)
	}
	if !scalar.EqualWithinAbs(signature.HealthyMeanAbsolute, 0.5198, 0.00005) {
		t.Errorf("ξ is %g", signature.HealthyMeanAbsolute)
	}
	for _, p := range inverter.Phases {
		if !scalar.EqualWithinAbs(s.Normal[p], 0.5198, 1e-3) || math.Abs(s.Shortfall()[p]) > 1e-3 {
			t.Errorf("phase %v: normalised mean absolute value %g", p, s.Normal[p])
		}
		if !scalar.EqualWithinRel(s.RMS[p], 10/math.Sqrt2, 1e-3) || !scalar.EqualWithinRel(s.MeanAbs[p], 20/math.Pi, 1e-3) || math.Abs(s.Mean[p]) > 1e-3 {
			t.Errorf("phase %v: rms %g, mean absolute %g, mean %g", p, s.RMS[p], s.MeanAbs[p], s.Mean[p])
		}
	}
	if length, _ := s.MeanVector(); length > 1e-4 || s.Negative() > 1e-4 || s.Even() > 1e-4 {
		t.Errorf("mean vector %g, negative sequence %g, even orders %g", length, s.Negative(), s.Even())
	}
}

// TestHalfWave: the mean of an ideal half wave over its own fundamental is (1/π)/(1/2) = 0.6366, after
// Abramik et al., EPE 2003, whose threshold is 0.45.
func TestHalfWave(t *testing.T) {
	s := take(t, sampled(4.2, 0, 0.3, 720, 50, func(theta float64) inverter.ABC {
		x := three(func(x float64) float64 { return math.Cos(x) })(theta)
		x[inverter.U] = min(x[inverter.U], 0)
		return x
	}))
	if got := -s.Mean[inverter.U] / cmplx.Abs(s.Fundamental[inverter.U]); !scalar.EqualWithinAbs(got, 2/math.Pi, 1e-3) {
		t.Errorf("normalised mean %g, want %g", got, 2/math.Pi)
	}
}

// TestFundamental finds frequency and its change under a mean, harmonics and a capture that starts anywhere. Where
// a large mean, a second and a fifth harmonic and a change of speed meet in few turns, they can pass for a
// slower wave: of draws that reach into that corner one in two hundred may go wrong.
func TestFundamental(t *testing.T) {
	const draws = 1000
	random := rand.New(rand.NewPCG(1, 2))
	between := func(a, b float64) float64 { return a + (b-a)*random.Float64() }
	wrong := 0
	for range draws {
		turns := between(1.6, 12)
		f := math.Pow(10, between(-1, 4))
		change := between(-0.02, 0.02) * turns
		mean, second, fifth := between(-0.6, 0.6), between(0, 0.2), between(0, 0.2)
		c := sampled(turns, change, between(0, 7), 100, f, func(theta float64) inverter.ABC {
			x := three(func(x float64) float64 { return math.Cos(x) + second*math.Cos(2*x) + fifth*math.Cos(5*x) })(theta)
			x[inverter.U] += mean
			x[inverter.V] -= mean / 2
			x[inverter.W] -= mean / 2
			return x
		})
		s := take(t, c)
		// A change of speed and a frequency off by a little look alike in few turns.
		tolerance := 0.02 / turns
		want := f * (1 - change/2 + change/2*(s.To-s.From)*f/turns)
		length, _ := s.MeanVector()
		if !scalar.EqualWithinRel(s.Hz, want, tolerance) || !scalar.EqualWithinAbs(length, math.Abs(mean), 0.02) {
			wrong++
			t.Logf("%g turns: %g Hz, want %g; drift %g, want %g; mean %g, want %g", turns, s.Hz, want, s.Drift, change, length, math.Abs(mean))
		}
	}
	if wrong*200 > draws {
		t.Errorf("%d of %d wrong", wrong, draws)
	}
}

// TestFundamentalBelowItsHarmonics: a six-step voltage that just about cancels the EMF leaves a fifth and a
// seventh harmonic that exceed the fundamental.
func TestFundamentalBelowItsHarmonics(t *testing.T) {
	s := take(t, sampled(5.5, 0, 0, 300, 80, three(func(x float64) float64 { return 0.8*math.Cos(x) + math.Cos(5*x) - 0.5*math.Cos(7*x) })))
	if !scalar.EqualWithinRel(s.Hz, 80, 5e-3) { // not 400 or 560
		t.Errorf("%g Hz", s.Hz)
	}
}

// TestSwitchOpenInSixStep: means, rms values and fundamentals of a resistance and inductance under six-step
// with U+ open, worked out apart with another integrator; their angle after Mendes and Cardoso, IEMDC 1999.
func TestSwitchOpenInSixStep(t *testing.T) {
	s := drive.Scenario{
		Supply:  drive.Supply{Voltage: 350},
		Machine: motor.Machine{Kind: motor.Passive, Resistance: 0.5, InductanceD: 2e-3, InductanceQ: 2e-3},
		Faults:  []drive.Fault{{Kind: drive.SwitchOpen, Switch: inverter.UHigh}},
		Run:     drive.Window{Settle: 0.1, Measure: 0.05},
	}
	s.Gating.Frequency = 100
	x, law := &sampling{next: s.Run.Settle, step: 1e-5}, drive.NewLaw(&s)
	sum, err := drive.Simulate(s, x, law)
	if err != nil {
		t.Fatal(err)
	}
	if law.Sums(&sum); law.Broken() != nil {
		t.Error(law.Broken())
	}
	got := take(t, x.Capture)
	type numbers struct{ mean, rms, fundamental float64 } // A
	wanted := []numbers{{-92.396, 124.99, 116.76}, {46.198, 127.46, 167.50}, {46.198, 109.42, 139.55}}
	for p, want := range wanted {
		if !scalar.EqualWithinRel(got.Mean[p], want.mean, 2e-3) || !scalar.EqualWithinRel(got.RMS[p], want.rms, 2e-3) ||
			!scalar.EqualWithinRel(cmplx.Abs(got.Fundamental[p]), want.fundamental, 2e-3) {
			t.Errorf("phase %v: mean %.3f, rms %.3f, fundamental %.3f, want %v", inverter.Phase(p), got.Mean[p], got.RMS[p], cmplx.Abs(got.Fundamental[p]), want)
		}
	}
	if _, angle := got.MeanVector(); math.Abs(math.Abs(angle)-math.Pi) > 0.01 {
		t.Errorf("mean vector at %g rad", angle)
	}
}

// sampling observes a run and reads the currents at even times.
type sampling struct {
	capture.Capture
	next, step float64
}

func (s *sampling) Observe(seg *drive.Segment) {
	for ; s.next < seg.T1; s.next += s.step {
		s.Time = append(s.Time, s.next)
		s.Current = append(s.Current, seg.At(s.next).Current)
	}
}

// TestReversed: a vector that turns backwards has its sequences the other way round.
func TestReversed(t *testing.T) {
	s := take(t, sampled(3, 0, 0, 100, 50, func(theta float64) inverter.ABC {
		x := three(func(x float64) float64 { return math.Cos(x) })(theta)
		x[inverter.V], x[inverter.W] = x[inverter.W], x[inverter.V]
		return x
	}))
	if !s.Reversed || s.Negative() > 1e-3 || !scalar.EqualWithinRel(s.Amplitude(), 1, 1e-2) {
		t.Errorf("reversed %v, negative sequence %g, amplitude %g", s.Reversed, s.Negative(), s.Amplitude())
	}
}

// TestNoTurn refuses what has no whole turn, no time and no alternation.
func TestNoTurn(t *testing.T) {
	still := sampled(3, 0, 0, 100, 50, func(float64) inverter.ABC { return inverter.ABC{1, 2, -3} })
	if _, err := signature.Near(&still); !errors.Is(err, signature.ErrStill) {
		t.Errorf("still: %v", err)
	}
	short := still.Slice(0, 5)
	if _, err := signature.Near(&short); err == nil {
		t.Error("five samples have a frequency")
	}
	half := sampled(0.6, 0, 0, 100, 50, three(math.Cos))
	if s, err := signature.Of(&half, 50); err == nil {
		t.Errorf("0.6 turns make %d", s.Turns)
	}
	frozen := sampled(3, 0, 0, 100, 50, three(math.Cos))
	clear(frozen.Time)
	if _, err := signature.Near(&frozen); err == nil {
		t.Error("time that stands still has a frequency")
	}
}

func BenchmarkOf(b *testing.B) {
	c := sampled(6, 0.05, 0, 200, 50, three(math.Cos))
	b.ReportAllocs()
	for b.Loop() {
		near, err := signature.Near(&c)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := signature.Of(&c, near); err != nil {
			b.Fatal(err)
		}
	}
}
