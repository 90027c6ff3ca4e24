package inverter

import "fmt"

// A Switch is one of a bridge's six. It prints as "U+" to "W-".
// Its number is its bit in [Gates].
type Switch uint8

// The switches: High ones lie between their phase and the positive rail, Low ones between it and the
// negative rail.
const (
	UHigh Switch = iota
	ULow
	VHigh
	VLow
	WHigh
	WLow
)

// Switches lists all six, for ranging over.
var Switches = [6]Switch{UHigh, ULow, VHigh, VLow, WHigh, WLow}

var switchNames = [6]string{"U+", "U-", "V+", "V-", "W+", "W-"}

// High returns p's switch to the positive rail.
func High(p Phase) Switch { return Switch(2 * p) }

// Low returns p's switch to the negative rail.
func Low(p Phase) Switch { return Switch(2*p + 1) }

// String returns the switch's name.
func (s Switch) String() string {
	if int(s) < len(switchNames) {
		return switchNames[s]
	}
	return fmt.Sprintf("Switch(%d)", uint8(s))
}

// Leg returns the phase that the switch feeds.
func (s Switch) Leg() Phase { return Phase(s / 2) }

// High reports whether the switch goes to the positive rail.
func (s Switch) High() bool { return s%2 == 0 }

// Other returns the other switch of the same leg.
func (s Switch) Other() Switch { return s ^ 1 }

// MarshalText returns the switch's name.
func (s Switch) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads a switch's name, like "U+", and refuses all else.
func (s *Switch) UnmarshalText(text []byte) error {
	for i, name := range switchNames {
		if string(text) == name {
			*s = Switch(i)
			return nil
		}
	}
	return fmt.Errorf("%q is not a switch; switches are U+ U- V+ V- W+ W-", text)
}
