// Package pattern makes the gating patterns of a three-phase bridge as exact switching instants.
package pattern

import "sextant/inverter"

// A Kind is a gating pattern.
type Kind uint8

// The patterns.
const (
	SixStep180 Kind = iota
	SixStep120
	TwelveStep150
	SineTriangle
	ThirdHarmonic
	SpaceVector
	Clamped60
	Clamped30
	ClampedHigh
	ClampedLow
	AllOff
	AllLow
	AllHigh
	PulsedLow
	ByHand
)

// A Sampling is how a carrier pattern reads its reference.
type Sampling uint8

// The samplings; Default is RegularDouble for the clamped patterns and Natural for the others.
const (
	Default Sampling = iota
	Natural
	Regular
	RegularDouble
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
