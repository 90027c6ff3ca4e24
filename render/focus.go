package render

import (
	"fmt"
	"strings"

	"gonum.org/v1/plot/vg"
)

// A Focus is which parts of the stage a lecture is about; the sentence is always there.
type Focus uint8

// The focuses.
const (
	Everything Focus = iota
	OnBridge
	OnWheel
	OnBridgeAndWheel
	OnTape
	focuses // how many
)

var focusNames = [focuses]string{"all", "bridge", "wheel", "bridge-and-wheel", "tape"}

// Focuses lists all focuses, for ranging over.
var Focuses = [focuses]Focus{Everything, OnBridge, OnWheel, OnBridgeAndWheel, OnTape}

// String returns the focus's name as flags have it.
func (f Focus) String() string {
	if f < focuses {
		return focusNames[f]
	}
	return fmt.Sprintf("Focus(%d)", uint8(f))
}

// MarshalText returns the focus's name.
func (f Focus) MarshalText() ([]byte, error) { return []byte(f.String()), nil }

// UnmarshalText reads a focus's name and refuses all else.
func (f *Focus) UnmarshalText(text []byte) error {
	for i, name := range focusNames {
		if string(text) == name {
			*f = Focus(i)
			return nil
		}
	}
	return fmt.Errorf("%q is no part to look at; parts are %s", text, strings.Join(focusNames[:], ", "))
}

// look gives all the room below the sentence to the parts that f is on.
func (l *Layout) look(f Focus) {
	if f == Everything {
		return
	}
	room := l.Area
	room.Max.Y = l.Sentence.Min.Y
	l.Bridge, l.Wheel, l.Tape, l.Ledger = vg.Rectangle{}, vg.Rectangle{}, vg.Rectangle{}, vg.Rectangle{}
	switch f {
	case OnBridge:
		l.Bridge = room
	case OnWheel:
		l.Wheel = room
	case OnTape:
		l.Tape = room
	case OnBridgeAndWheel:
		l.Bridge, l.Wheel = room, room
		s := room.Size()
		beside := min(s.X/(bridgeWidth+wheelWidth), s.Y/bridgeHeight) // of a unit that they have so
		below := min(s.X/bridgeWidth, s.Y/(bridgeHeight+wheelHeight))
		if below > beside {
			l.Bridge.Min.Y += s.Y * wheelHeight / (bridgeHeight + wheelHeight)
			l.Wheel.Max.Y = l.Bridge.Min.Y
		} else {
			l.Bridge.Max.X -= s.X * wheelWidth / (bridgeWidth + wheelWidth)
			l.Wheel.Min.X = l.Bridge.Max.X
		}
	}
}
