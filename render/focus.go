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

// ArrangeFor lays out as [Arrange] does, with only those parts that f is on.
func ArrangeFor(f Focus, area vg.Rectangle, textScale float64, show ...Lane) Layout {
	if !(textScale > 0) {
		textScale = 1
	}
	l := Layout{Area: area}
	s := area.Size()
	l.stacked = s.X < 0.9*s.Y
	if l.stacked {
		l.stack(vg.Length(textScale))
	} else {
		l.spread(vg.Length(textScale))
	}
	l.look(f)
	if !empty(l.Tape) {
		l.lanes(show)
	}
	return l
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
		const share = bridgeWidth / (bridgeWidth + wheelWidth*1.0)
		if l.stacked {
			l.Bridge.Min.Y += (room.Max.Y - room.Min.Y) * 0.45
			l.Wheel.Max.Y = l.Bridge.Min.Y
		} else {
			l.Bridge.Max.X -= (room.Max.X - room.Min.X) * (1 - share)
			l.Wheel.Min.X = l.Bridge.Max.X
		}
	}
}
