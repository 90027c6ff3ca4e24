package pattern

import (
	"fmt"
	"strings"
)

var kindNames = [...]string{
	SixStep180: "six-step-180", SixStep120: "six-step-120", TwelveStep150: "twelve-step-150",
	SineTriangle: "sine-triangle", ThirdHarmonic: "third-harmonic", SpaceVector: "space-vector",
	Clamped60: "clamped-60", Clamped30: "clamped-30", ClampedHigh: "clamped-high", ClampedLow: "clamped-low",
	AllOff: "all-off", AllLow: "all-low", AllHigh: "all-high", PulsedLow: "pulsed-low", ByHand: "by-hand",
}

var samplingNames = [...]string{
	Default: "default", Natural: "natural", Regular: "regular", RegularDouble: "regular-double",
}

// Kinds lists all patterns, for ranging over.
func Kinds() []Kind {
	kinds := make([]Kind, len(kindNames))
	for i := range kinds {
		kinds[i] = Kind(i)
	}
	return kinds
}

// String returns the pattern's name as flags and files have it.
func (k Kind) String() string {
	if int(k) < len(kindNames) {
		return kindNames[k]
	}
	return fmt.Sprintf("Kind(%d)", uint8(k))
}

// ParseKind returns the pattern of that name.
func ParseKind(name string) (Kind, error) {
	for i, n := range kindNames {
		if n == name {
			return Kind(i), nil
		}
	}
	return 0, fmt.Errorf("%q is not a pattern; patterns are %s", name, strings.Join(kindNames[:], ", "))
}

// MarshalText returns the pattern's name.
func (k Kind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// UnmarshalText reads a pattern's name and refuses all else.
func (k *Kind) UnmarshalText(text []byte) error {
	kind, err := ParseKind(string(text))
	if err == nil {
		*k = kind
	}
	return err
}

// Stepped reports whether k goes through a fixed turn of steps, set by frequency and phase alone.
func (k Kind) Stepped() bool { return k <= TwelveStep150 }

// Conduction returns for how much of a turn a stepped pattern gates each switch, in rad; 0 for the others.
func (k Kind) Conduction() float64 {
	if !k.Stepped() {
		return 0
	}
	return sequences[k].conduction
}

// Compares reports whether k compares a reference of some modulation with a carrier.
func (k Kind) Compares() bool { return k >= SineTriangle && k <= ClampedLow }

// Clamps reports whether k ties one leg at a time to a rail.
func (k Kind) Clamps() bool { return k >= Clamped60 && k <= ClampedLow }

// NeedsCarrier reports whether k goes by a carrier.
func (k Kind) NeedsCarrier() bool { return k.Compares() || k == PulsedLow }

// Linear returns the largest modulation that k reaches without clipping its reference: 1 for
// sine-triangle, 2/√3 with a zero sequence, 0 where modulation means nothing.
//
// Houldsworth & Grant, IEEE Trans. IA-20 (1984) 1224; Hava, Kerkman, Lipo, IEEE Trans. PE-14 (1999) 49.
func (k Kind) Linear() float64 {
	switch {
	case k == SineTriangle:
		return 1
	case k.Compares():
		return 2 / sqrt3
	}
	return 0
}

// At returns what k comes to at a modulation: [SixStep180] where a carrier pattern is driven to within 1e-5 of
// [SixStepModulation], else k.
func (k Kind) At(modulation float64) Kind {
	if k.Compares() && modulation >= SixStepModulation-sixStepMargin {
		return SixStep180
	}
	return k
}

// String returns the sampling's name as flags and files have it.
func (s Sampling) String() string {
	if int(s) < len(samplingNames) {
		return samplingNames[s]
	}
	return fmt.Sprintf("Sampling(%d)", uint8(s))
}

// MarshalText returns the sampling's name.
func (s Sampling) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads a sampling's name and refuses all else.
func (s *Sampling) UnmarshalText(text []byte) error {
	for i, name := range samplingNames {
		if string(text) == name {
			*s = Sampling(i)
			return nil
		}
	}
	return fmt.Errorf("%q is not a sampling; samplings are %s", text, strings.Join(samplingNames[1:], ", "))
}

// For returns s, or what Default stands for under k.
func (s Sampling) For(k Kind) Sampling {
	switch {
	case s != Default:
		return s
	case k.Clamps():
		return RegularDouble
	}
	return Natural
}
