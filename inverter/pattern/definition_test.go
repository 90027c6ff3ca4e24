package pattern_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
	"pgregory.net/rapid"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// carrierAt returns the triangle from -1 to 1 that is at -1 at t = 0, and its slope's index.
func carrierAt(s pattern.Settings, t float64) (value, slope float64) {
	x := 2 * carrierOf(s) * t
	slope = math.Floor(x)
	value = 2*(x-slope) - 1
	if math.Mod(slope, 2) != 0 {
		value = -value
	}
	return value, slope
}

func carrierOf(s pattern.Settings) float64 {
	if s.CarrierRatio > 0 {
		return s.CarrierRatio * math.Abs(s.Frequency)
	}
	return s.Carrier
}

// referenceAt returns the pole references at t, formula by formula as the trade writes them.
func referenceAt(s pattern.Settings, t float64) inverter.ABC {
	theta := 2*math.Pi*s.Frequency*t + s.Phase
	var u inverter.ABC
	for p := range u {
		u[p] = s.Modulation * math.Cos(theta-2*math.Pi/3*float64(p))
	}
	high, low := max(u[0], u[1], u[2]), min(u[0], u[1], u[2])
	var z float64
	switch s.Kind {
	case pattern.ThirdHarmonic:
		z = -s.Modulation / 6 * math.Cos(3*theta)
	case pattern.SpaceVector:
		z = -(high + low) / 2
	case pattern.ClampedHigh:
		z = 1 - high
	case pattern.ClampedLow:
		z = -1 - low
	case pattern.Clamped60:
		z = -1 - low
		if high > -low {
			z = 1 - high
		}
	case pattern.Clamped30:
		z = -1 - low
		if high < -low {
			z = 1 - high
		}
	}
	for p := range u {
		u[p] = min(max(u[p]+z, -1), 1)
	}
	return u
}

// wanted returns the gates at t by the definition: upper on while reference > carrier. margin is the least
// distance between any reference and the carrier.
func wanted(s pattern.Settings, t float64) (g inverter.Gates, margin float64) {
	value, slope := carrierAt(s, t)
	at := t
	switch s.Sampling.For(s.Kind) {
	case pattern.Regular:
		at = (slope - math.Mod(slope, 2)) / (2 * carrierOf(s))
	case pattern.RegularDouble:
		at = slope / (2 * carrierOf(s))
	}
	margin = math.Inf(1)
	for p, u := range referenceAt(s, at) {
		if u > value {
			g = g.With(inverter.High(inverter.Phase(p)))
		} else {
			g = g.With(inverter.Low(inverter.Phase(p)))
		}
		margin = min(margin, math.Abs(u-value))
	}
	return g, margin
}

func carrierKinds() []pattern.Kind {
	return []pattern.Kind{
		pattern.SineTriangle, pattern.ThirdHarmonic, pattern.SpaceVector,
		pattern.Clamped60, pattern.Clamped30, pattern.ClampedHigh, pattern.ClampedLow,
	}
}

func drawSettings(t *rapid.T) pattern.Settings {
	s := pattern.Settings{
		Kind:       rapid.SampledFrom(carrierKinds()).Draw(t, "kind"),
		Sampling:   rapid.SampledFrom([]pattern.Sampling{pattern.Natural, pattern.Regular, pattern.RegularDouble}).Draw(t, "sampling"),
		Frequency:  rapid.SampledFrom([]float64{50, -50, 17.3, -120}).Draw(t, "frequency"),
		Phase:      rapid.Float64Range(-7, 7).Draw(t, "phase"),
		Modulation: rapid.Float64Range(0.001, 1.273).Draw(t, "modulation"),
	}
	ratio := rapid.OneOf(
		rapid.Float64Range(0.1, 3), rapid.Float64Range(3, 60),
		rapid.Map(rapid.IntRange(1, 60), func(n int) float64 { return float64(n) }),
	).Draw(t, "ratio")
	if rapid.Bool().Draw(t, "free") {
		s.Carrier = ratio * math.Abs(s.Frequency)
	} else {
		s.CarrierRatio = ratio
	}
	return s
}

// TestGatesAgreeWithDefinition asks at many instants whether the upper switch is on just while the reference
// is above the carrier, at high and at absurdly low ratios, and in overmodulation.
func TestGatesAgreeWithDefinition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSettings(t)
		x, err := pattern.New(s)
		if err != nil {
			t.Fatal(err)
		}
		end := 2 / math.Abs(s.Frequency)
		const instants = 3000
		for i := range instants {
			at := end * (float64(i) + 0.377) / instants
			for x.Peek() <= at {
				x.Next()
			}
			want, margin := wanted(s, at)
			if margin > 1e-9 && x.Gates() != want && !jumps(s, at) {
				t.Fatalf("%+v: at %.12g s %v, want %v (margin %g)", s, at, x.Gates(), want, margin)
			}
		}
	})
}

// jumps reports whether a sample that a clamped pattern holds falls so near to a jump of its reference that
// rounding decides which side it is on.
func jumps(s pattern.Settings, t float64) bool {
	if s.Sampling.For(s.Kind) == pattern.Natural || !s.Kind.Clamps() {
		return false
	}
	_, slope := carrierAt(s, t)
	if s.Sampling == pattern.Regular {
		slope -= math.Mod(slope, 2)
	}
	twelfths := 12 * (s.Frequency*slope/(2*carrierOf(s)) + s.Phase/(2*math.Pi))
	return math.Abs(twelfths-math.Round(twelfths)) < 1e-6
}

// TestEdgesLieOnCrossings checks the instants themselves: at each edge, reference and carrier of a leg that
// changed are equal, to what 1e-12 of a turn is worth.
func TestEdgesLieOnCrossings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSettings(t)
		s.Sampling = pattern.Natural
		x, err := pattern.New(s)
		if err != nil {
			t.Fatal(err)
		}
		// Neither wave changes faster than this, per turn of the fundamental; both are computed here to
		// some 1e-15 of a turn.
		slope := 4*carrierOf(s)/math.Abs(s.Frequency) + 2*math.Pi*math.Sqrt(3)*s.Modulation
		before := x.Gates()
		for range 300 {
			at, g := x.Next()
			changed := before ^ g
			before = g
			value, _ := carrierAt(s, at)
			reference := referenceAt(s, at)
			for p, u := range reference {
				if changed.Has(inverter.High(inverter.Phase(p))) && math.Abs(u-value) > 1e-12*slope && !leaps(s, at) {
					t.Fatalf("%+v: leg %v changes at %.15g s, where it is %g off the carrier", s, inverter.Phase(p), at, u-value)
				}
			}
		}
	})
}

// leaps reports whether a clamped reference jumps at t, where an edge need not be a crossing.
func leaps(s pattern.Settings, t float64) bool {
	twelfths := 12 * (s.Frequency*t + s.Phase/(2*math.Pi))
	return s.Kind.Clamps() && math.Abs(twelfths-math.Round(twelfths)) < 1e-9
}

// TestThousandthTurn finds the same crossings late in a run by bisection of the definition.
func TestThousandthTurn(t *testing.T) {
	s := pattern.Settings{Kind: pattern.SpaceVector, Frequency: 50, Phase: 0.3, Modulation: 0.9, CarrierRatio: 21}
	early, _ := pattern.New(s)
	late := early
	for late.Peek() < 20 {
		late.Next()
	}
	for range 200 {
		a, g := early.Next()
		b, h := late.Next()
		if g != h || !scalar.EqualWithinAbs(b-a, 20, 1e-13) {
			t.Fatalf("edge at %.15g s, %v; a thousand turns on at %.15g s, %v", a, g, b, h)
		}
	}
}
