// Package pattern makes the gating patterns of a three-phase bridge as exact switching instants: one after
// another as a [Stream], or a whole repetition as a [Turn].
//
// Conventions:
//
//   - The carrier is a triangle from -1 to 1, at -1 at t = 0, the same for all phases; an upper switch is on
//     while its reference is above it.
//   - References are cosines: phase U's is M cos(2π f t + phase), V and W follow 120 and 240 degrees behind.
//     A pattern's zero sequence is added, then the sum is clipped to -1..1; see [Shape].
//   - Modulation M is the peak of the fundamental reference over half the supply. Beyond [Kind.Linear] the
//     clipped reference gives less than M, and at [SixStepModulation] all carrier patterns are six-step-180.
//   - Crossings are solved to better than 1e-12 of a turn, however many fall on one slope of the carrier.
//   - Dead time delays turn-ons, moves no turn-off, and does not apply at t = 0.
package pattern

import "sextant/inverter"

// A Kind is a gating pattern.
type Kind uint8

// The patterns.
const (
	SixStep180    Kind = iota
	SixStep120         // each switch on for 120 degrees, two at a time
	TwelveStep150      // three and two switches on by turns, 30 degrees each
	SineTriangle
	ThirdHarmonic // a sixth of third harmonic added
	SpaceVector   // centred: min-max zero sequence
	Clamped60     // ties the phase of greatest magnitude, 60 degrees at each peak
	Clamped30     // ties, of highest and lowest phase, the one nearer mid-rail
	ClampedHigh   // ties the highest phase to the positive rail
	ClampedLow    // ties the lowest phase to the negative rail
	AllOff
	AllLow
	AllHigh
	PulsedLow // all lower switches on for the first share of each carrier period, else all off
	ByHand
)

// A Sampling is how a carrier pattern reads its reference.
type Sampling uint8

// The samplings; Default is RegularDouble for the clamped patterns and Natural for the others, because a
// natural carrier catches the jumps of a clamped reference only by chance.
const (
	Default       Sampling = iota
	Natural                // compares with the reference as it moves
	Regular                // holds what it is at each minimum of the carrier
	RegularDouble          // holds what it is at each minimum and maximum
)

// Settings says all that a clock-driven pattern needs.
type Settings struct {
	Kind         Kind
	Frequency    float64 // of the fundamental, Hz; negative turns backwards
	Phase        float64 // angle of the fundamental voltage vector at t = 0, rad
	Modulation   float64 // peak of the fundamental pole reference over half the supply
	Carrier      float64 // Hz; or else
	CarrierRatio float64 // carrier over fundamental
	Sampling     Sampling
	DeadTime     float64        // s
	Duty         float64        // PulsedLow only: share of the carrier period with all lower switches on
	Hand         inverter.Gates // ByHand only
}
