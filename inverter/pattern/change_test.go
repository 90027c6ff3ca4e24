package pattern_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
	"pgregory.net/rapid"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// TestCutting: a change to the same settings changes nothing.
func TestCutting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSettings(t)
		whole, err := pattern.New(s)
		if err != nil {
			t.Fatal(err)
		}
		cut := whole
		at := rapid.Float64Range(0, 3).Draw(t, "cut") / carrierOf(s)
		if err := cut.Change(at, s); err != nil {
			t.Fatal(err)
		}
		tiny := 1e-9 / carrierOf(s)
		for next := at + 1e-3/carrierOf(s); next < at+20/carrierOf(s); next += 0.0377 / carrierOf(s) {
			last := math.Inf(-1)
			for whole.Peek() <= next {
				last, _ = whole.Next()
			}
			for cut.Peek() <= next {
				cut.Next()
			}
			if whole.Gates() != cut.Gates() && next-last > tiny && whole.Peek()-next > tiny && !jumps(s, next) {
				t.Fatalf("%+v cut at %g s: at %g s %v, uncut %v", s, at, next, cut.Gates(), whole.Gates())
			}
		}
	})
}

func TestChangeOfFrequencyKeepsTheAngle(t *testing.T) {
	s := pattern.Settings{Kind: pattern.SixStep180, Frequency: 50}
	x := stream(t, s)
	s.Frequency = 100
	if err := x.Change(0.005, s); err != nil { // at 90 degrees, having just come to a border
		t.Fatal(err)
	}
	if got := x.Angle(0.005); !scalar.EqualWithinAbs(got, math.Pi/2, 1e-12) {
		t.Errorf("at %g rad after the change", got)
	}
	for i, e := range edges(&x, 12) {
		if want := 0.005 + float64(i+1)/600; !scalar.EqualWithinAbs(e.Time, want, 1e-14) {
			t.Errorf("edge %d at %g s, want %g", i, e.Time, want)
		}
	}
}

func TestChangeOfCarrierKeepsItsPosition(t *testing.T) {
	s := pattern.Settings{Kind: pattern.SineTriangle, Carrier: 100} // M = 0: edges where the carrier is 0
	x := stream(t, s)
	s.Carrier = 200
	if err := x.Change(0.004, s); err != nil { // 4/5 up the slope, which has 1 ms left at the new speed
		t.Fatal(err)
	}
	for i, e := range edges(&x, 10) {
		if want := 0.004 + 0.0005 + 0.00125 + 0.0025*float64(i); !scalar.EqualWithinAbs(e.Time, want, 1e-14) {
			t.Errorf("edge %d at %g s, want %g", i, e.Time, want)
		}
	}
}

func TestChangeMovesThePhase(t *testing.T) {
	s := pattern.Settings{Kind: pattern.SixStep180, Frequency: 50}
	x := stream(t, s)
	s.Phase = math.Pi // the field turns about at once
	if err := x.Change(0.001, s); err != nil {
		t.Fatal(err)
	}
	at, g := x.Next()
	if at != 0.001 || g != inverter.Active[3] {
		t.Errorf("first edge at %g s to %v, want %v at the change", at, g, inverter.Active[3])
	}
}

func TestChangeOfKindObeysDeadTime(t *testing.T) {
	s := pattern.Settings{Kind: pattern.AllLow}
	x := stream(t, s)
	s.Kind, s.DeadTime = pattern.AllHigh, 1e-6
	if err := x.Change(0.5, s); err != nil {
		t.Fatal(err)
	}
	if at, g := x.Next(); at != 0.5 || g != 0 {
		t.Errorf("first edge at %g s to %v, want none on at the change", at, g)
	}
	if at, g := x.Next(); at != 0.5+1e-6 || g != inverter.AllHigh {
		t.Errorf("second edge at %g s to %v, want all high after the dead time", at, g)
	}
	if at, _ := x.Next(); !math.IsInf(at, 1) {
		t.Errorf("one more at %g s", at)
	}
}

func TestChangeRefuses(t *testing.T) {
	s := pattern.Settings{Kind: pattern.SpaceVector, Frequency: 50, Modulation: 0.5, Carrier: 1000}
	x := stream(t, s)
	for range 100 {
		x.Next()
	}
	before := x
	bad := s
	bad.Modulation = 2
	if err := x.Change(1, bad); err == nil {
		t.Error("took a modulation of 2")
	}
	for _, at := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if err := x.Change(at, s); err == nil {
			t.Errorf("changed at %g s", at)
		}
	}
	if x != before {
		t.Error("a refused change left its mark")
	}
}

// TestStreamOfChanges lives through any hand at the controls: time never runs back, no leg is ever shorted,
// and the stream never runs dry while its pattern has edges to give.
func TestStreamOfChanges(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSettings(t)
		x, err := pattern.New(s)
		if err != nil {
			t.Fatal(err)
		}
		at := 0.0
		for range 8 {
			for range rapid.IntRange(0, 20).Draw(t, "edges") {
				when, g := x.Next()
				if when < at || g.Shorts() {
					t.Fatalf("%+v: edge at %g s after %g s, to %v", s, when, at, g)
				}
				if math.IsInf(when, 1) {
					break
				}
				at = when
			}
			s = drawSettings(t)
			s.Kind = rapid.SampledFrom(pattern.Kinds()).Draw(t, "kind")
			s.Duty = 0.3
			s.DeadTime = rapid.SampledFrom([]float64{0, 1e-6, 1e-5}).Draw(t, "dead")
			at += rapid.Float64Range(0, 0.003).Draw(t, "wait")
			if err := x.Change(at, s); err != nil {
				t.Fatal(err)
			}
			if moves := s.Kind.Stepped() || s.Kind.Compares(); moves && math.IsInf(x.Peek(), 1) {
				t.Fatalf("%+v: no edges", s)
			}
		}
	})
}
