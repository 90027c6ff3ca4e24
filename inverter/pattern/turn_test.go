package pattern_test

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

func TestRepeatComesRound(t *testing.T) {
	for _, tt := range []struct {
		s     pattern.Settings
		turns int
	}{
		{pattern.Settings{Kind: pattern.SixStep120, Frequency: 50}, 1},
		{pattern.Settings{Kind: pattern.SixStep180, Frequency: 50, Phase: 0.5237, DeadTime: 1e-4}, 1}, // begins in dead time
		{pattern.Settings{Kind: pattern.SpaceVector, Frequency: -50, Modulation: 0.7, CarrierRatio: 21}, 1},
		{pattern.Settings{Kind: pattern.SpaceVector, Frequency: 60, Modulation: 0.7, Carrier: 1260, DeadTime: 2e-5}, 1},
		{pattern.Settings{Kind: pattern.Clamped30, Frequency: 50, Modulation: 0.7, CarrierRatio: 20.5}, 2},
		{pattern.Settings{Kind: pattern.SineTriangle, Frequency: 30, Modulation: 1.2, Carrier: 1000}, 3},
		{pattern.Settings{Kind: pattern.SineTriangle, Frequency: 30, Modulation: 4 / math.Pi, Carrier: 1000}, 1},
	} {
		turn, err := tt.s.Repeat()
		if err != nil {
			t.Fatal(err)
		}
		length := float64(tt.turns) / math.Abs(tt.s.Frequency)
		if turn.Turns != tt.turns || !scalar.EqualWithinRel(turn.Length, length, 1e-12) {
			t.Errorf("%+v: %d turns, %g s; want %d, %g", tt.s, turn.Turns, turn.Length, tt.turns, length)
		}
		// The third time round is the same.
		x := stream(t, tt.s)
		g, next := turn.Start, 0
		for i := range 2000 {
			at := turn.Length * (float64(i) + 0.377) / 2000
			last := math.Inf(-1)
			for x.Peek() <= 2*turn.Length+at {
				last, _ = x.Next()
			}
			for next < len(turn.Edges) && turn.Edges[next].Time <= at {
				g = turn.Edges[next].Gates
				next++
			}
			if near := min(2*turn.Length+at-last, x.Peek()-2*turn.Length-at); near > 1e-11 && g != x.Gates() {
				t.Fatalf("%+v: %v at %g s, two rounds on %v", tt.s, g, at, x.Gates())
			}
		}
	}
}

func TestRepeatRefuses(t *testing.T) {
	for _, tt := range []struct {
		s   pattern.Settings
		key string
	}{
		{pattern.Settings{Kind: pattern.AllLow, Frequency: 50}, "pattern"},
		{pattern.Settings{Kind: pattern.PulsedLow, Frequency: 50, Carrier: 500}, "pattern"},
		{pattern.Settings{Kind: pattern.SixStep180}, "frequency"},
		{pattern.Settings{Kind: pattern.SineTriangle, Modulation: 0.5, Carrier: 1000}, "frequency"},
		{pattern.Settings{Kind: pattern.SineTriangle, Frequency: 50, Modulation: 0.5, CarrierRatio: 10 * math.Pi}, "carrier_ratio"},
		{pattern.Settings{Kind: pattern.SineTriangle, Frequency: 50, Modulation: 0.5, CarrierRatio: 2e6}, "carrier_ratio"},
		{pattern.Settings{Kind: pattern.SineTriangle, Frequency: 50, Modulation: 0.5}, "carrier"},
	} {
		var wrong *pattern.SettingError
		if _, err := tt.s.Repeat(); !errors.As(err, &wrong) || wrong.Key != tt.key {
			t.Errorf("%+v: %v, want an error about %s", tt.s, err, tt.key)
		}
	}
}

// A clamped leg switches for two thirds of the time: Hava, Kerkman, Lipo, IEEE Trans. PE-14 (1999) 49.
func TestClampedLegsSwitchLess(t *testing.T) {
	const ratio = 90
	for _, k := range carrierKinds() {
		s := pattern.Settings{Kind: k, Frequency: 50, Phase: 0.01, Modulation: 0.8, CarrierRatio: ratio}
		turn, err := s.Repeat()
		if err != nil {
			t.Fatal(err)
		}
		changes, before := 0, turn.Start
		for _, e := range turn.Edges {
			if (e.Gates^before)&inverter.On(inverter.UHigh) != 0 {
				changes++
			}
			before = e.Gates
		}
		want := 2. * ratio
		if k.Clamps() {
			want *= 2. / 3
		}
		if math.Abs(float64(changes)-want) > 6 {
			t.Errorf("%v: leg U changes %d times a turn, want about %g", k, changes, want)
		}
	}
}

// The mean pole voltage loses, or gains, V td fc by the sign of the current, of the two dead times in a
// carrier period only one moving an edge. Jeong & Park, IEEE Trans. IE-38 (1991) 108; 300 V, 1.5 µs, 20 kHz and
// the longest duty 1 - 2 td fc: open study notes on inverters.
func TestDeadTimeOnAPole(t *testing.T) {
	for _, tt := range []struct{ supply, dead, carrier, loss, share float64 }{
		{350, 2e-6, 10e3, 7, 0.96}, {300, 1.5e-6, 20e3, 9, 0.94},
	} {
		for _, into := range []bool{true, false} {
			mean := func(dead float64) (volts, gated float64) {
				x := stream(t, pattern.Settings{Kind: pattern.SineTriangle, Modulation: 0.3, Phase: 0.5, Carrier: tt.carrier, DeadTime: dead})
				period := 1 / tt.carrier
				for x.Peek() < period {
					x.Next()
				}
				at, g := period, x.Gates()
				for at < 2*period {
					next := min(x.Peek(), 2*period)
					high, low := g.Has(inverter.UHigh), g.Has(inverter.ULow)
					if high || !low && !into { // the lower diode takes a current into the machine
						volts += tt.supply * (next - at) / period
					}
					if high || low {
						gated += (next - at) / period
					}
					at = next
					_, g = x.Next()
				}
				return volts, gated
			}
			ideal, _ := mean(0)
			real, gated := mean(tt.dead)
			want := tt.loss
			if into {
				want = -want
			}
			if !scalar.EqualWithinAbs(real-ideal, want, 1e-9) {
				t.Errorf("%g V, current into the machine %v: mean off by %g V, want %g", tt.supply, into, real-ideal, want)
			}
			if !scalar.EqualWithinAbs(gated, tt.share, 1e-9) {
				t.Errorf("a switch of the leg is on for %g of the time, want %g", gated, tt.share)
			}
		}
	}
}

// A half period from a held reference is what the stream makes of a standing one.
func TestHalfPeriod(t *testing.T) {
	for _, k := range carrierKinds() {
		for i, depth := range []float64{0, 0.5, 1.2} {
			phase := 0.3 + float64(i)
			s := pattern.Settings{Kind: k, Sampling: pattern.RegularDouble, Phase: phase, Modulation: depth, Carrier: 100}
			x := stream(t, s)
			for slope := range 2 {
				t0 := float64(slope) * 0.005
				for x.Peek() < t0+1e-12 {
					x.Next()
				}
				h := pattern.HalfPeriod(k, cosines(phase, depth), t0, t0+0.005, slope == 0)
				if depth > 0 && h.Start != x.Gates() {
					t.Errorf("%v, slope %d: starts with %v, want %v", k, slope, h.Start, x.Gates())
				}
				for _, e := range h.Edges[:h.N] {
					at, g := x.Next()
					if !scalar.EqualWithinAbs(e.Time, at, 1e-14) || e.Gates != g {
						t.Errorf("%v, slope %d: edge at %g s to %v, want %g to %v", k, slope, e.Time, e.Gates, at, g)
					}
				}
				if x.Peek() < t0+0.005-1e-12 {
					t.Errorf("%v, slope %d: an edge at %g s is missing", k, slope, x.Peek())
				}
			}
		}
	}
}
