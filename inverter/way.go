package inverter

import "fmt"

// A Way is how a leg carries its phase's current at an instant.
type Way uint8

// The five ways. Gates and the current's sign decide between the last four; an idle leg stays idle until
// its terminal would leave the span that the drops of its devices allow.
const (
	Idle Way = iota
	UpperChannel
	UpperDiode
	LowerChannel
	LowerDiode
)

var wayNames = [5]string{"idle", "upper channel", "upper diode", "lower channel", "lower diode"}

// String names the way in the trade's words.
func (w Way) String() string {
	if int(w) < len(wayNames) {
		return wayNames[w]
	}
	return fmt.Sprintf("Way(%d)", uint8(w))
}

// Upper reports whether the current runs by the positive rail.
func (w Way) Upper() bool { return w == UpperChannel || w == UpperDiode }

// Lower reports whether the current runs by the negative rail.
func (w Way) Lower() bool { return w == LowerChannel || w == LowerDiode }

// Channel reports whether a gated switch carries the current.
func (w Way) Channel() bool { return w == UpperChannel || w == LowerChannel }

// Diode reports whether a diode carries the current.
func (w Way) Diode() bool { return w == UpperDiode || w == LowerDiode }
