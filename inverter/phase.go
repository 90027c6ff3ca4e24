package inverter

import (
	"fmt"
	"math"
)

// A Phase is one of the machine's three, and the bridge's leg that feeds it. It prints as "U", "V" or "W".
type Phase uint8

// The phases, in their time order.
const (
	U Phase = iota
	V
	W
)

// Phases lists all three, for ranging over.
var Phases = [3]Phase{U, V, W}

var phaseNames = [3]string{"U", "V", "W"}

// String returns the phase's letter.
func (p Phase) String() string {
	if int(p) < len(phaseNames) {
		return phaseNames[p]
	}
	return fmt.Sprintf("Phase(%d)", uint8(p))
}

// Next returns the phase that follows in time: U, V, W, U.
func (p Phase) Next() Phase { return (p + 1) % 3 }

// Axis returns the angle of the phase's magnetic axis in radians: 0, 2π/3, 4π/3.
func (p Phase) Axis() float64 { return 2 * math.Pi / 3 * float64(p) }

// MarshalText returns the phase's letter.
func (p Phase) MarshalText() ([]byte, error) { return []byte(p.String()), nil }

// UnmarshalText reads a phase's letter and refuses all else.
func (p *Phase) UnmarshalText(text []byte) error {
	for i, name := range phaseNames {
		if string(text) == name {
			*p = Phase(i)
			return nil
		}
	}
	return fmt.Errorf("%q is not a phase; phases are U, V and W", text)
}
