package render

import (
	"fmt"
	"strings"
)

// A Lane is a band of the tape. The lanes that [Arrange] is given are shown in the order given, from the top;
// [Layout.Shown] tells which are shown where none were given.
type Lane uint8

// The lanes.
const (
	GateLane        Lane = iota // commands of the six gates
	PoleLane                    // V, leg to negative rail
	LineLane                    // V, leg to leg
	PhaseLane                   // V, terminal to star point
	CurrentLane                 // A, into the machine
	TorqueLane                  // N m
	LinkLane                    // A, into the bridge
	LinkVoltageLane             // V, between the rails
	SupplyLane                  // A, out of the source
	EMFLane                     // V, of the turning magnet, per phase
	DQLane                      // A, currents in the rotor's frame
	PowerLane                   // W, at the supply and at the shaft
	SpeedLane                   // rpm
	lanes                       // how many
)

var laneNames = [lanes]string{
	"gates", "pole-voltages", "line-voltages", "phase-voltages", "currents", "torque", "link-current",
	"link-voltage", "supply-current", "emf", "dq-currents", "power", "speed",
}

// Lanes lists all lanes, for ranging over.
var Lanes = func() (all [lanes]Lane) {
	for k := range all {
		all[k] = Lane(k)
	}
	return all
}()

// String returns the lane's name as flags have it.
func (k Lane) String() string {
	if k < lanes {
		return laneNames[k]
	}
	return fmt.Sprintf("Lane(%d)", uint8(k))
}

// ParseLane reads a lane's name and refuses all else.
func ParseLane(s string) (Lane, error) {
	for i, name := range laneNames {
		if s == name {
			return Lane(i), nil
		}
	}
	return 0, fmt.Errorf("%q is no lane of the tape; lanes are %s", s, strings.Join(laneNames[:], ", "))
}

// MarshalText returns the lane's name.
func (k Lane) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// UnmarshalText reads a lane's name and refuses all else.
func (k *Lane) UnmarshalText(text []byte) (err error) {
	*k, err = ParseLane(string(text))
	return err
}
