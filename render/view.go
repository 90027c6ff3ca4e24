package render

import (
	"sextant/inverter"
	"sextant/motor/drive"
)

// A View is what a picture of the stage shows. The zero Beads, Hover, Numbering and Theme are good
// defaults; so are a nil Scenario and an empty Tape, which leave out what they would tell.
type View struct {
	Scenario  *drive.Scenario
	Now       drive.Instant
	Tape      []drive.Instant    // oldest first; may run past Now, which is then drawn paler
	Since     float64            // s; when the scenario became what it is, 0 where it always was
	Span      float64            // s of tape left of the now-line; 0 shows the whole Tape
	TimeScale float64            // picture seconds are this many seconds of the drive; 0 for a still
	Playing   bool               //
	Beads     Beads              //
	Hover     Part               // drawn as pointed at
	Emphasis  Part               // drawn in full colour, all other parts fainter; none if zero
	Numbering inverter.Numbering // of the switches' labels
	Theme     Theme              //
	Bare      bool               // no ground is drawn, so that what lies below shows through
	Warmth    *Warmth            // of the bridge's devices; nil leaves it out
	Scales    Scales             // full scales; each that is 0 is chosen from Tape and Now
	Cursors   []float64          // s; none, A, or A and B, on the tape; see [Layout.WithCursors]
}

// A PartKind is a kind of thing on the stage that can be pointed at.
type PartKind uint8

// The kinds of parts. Gate, Device and Diode are of a switch, Wire and LegPart of a phase.
const (
	Nowhere      PartKind = iota
	SentencePart          // the band of words
	BridgePart            // between the bridge's symbols
	WheelPart             // around the machine
	TapePart              // the tape outside its lanes
	LedgerPart            // a row of the power column; Part.Row
	GatePart              // a gate's drive; Part.Switch
	DevicePart            // a switch's channel; Part.Switch
	DiodePart             // a switch's diode; Part.Switch
	WirePart              // a phase's wire to the machine; Part.Phase
	SupplyPart            // the battery
	LinkPart              // the link capacitor
	RotorPart             // the rotor, or the middle of a passive load
	CornerPart            // a corner of the hexagon; Part.Corner
	LanePart              // a lane of the tape; Part.Lane
	StatorPart            // the stator with its windings, or the coils of a passive load
)

// A Part is one thing on the stage. Parts are compared with ==.
type Part struct {
	Kind   PartKind
	Switch inverter.Switch // of a GatePart, DevicePart or DiodePart
	Phase  inverter.Phase  // of a WirePart
	Corner int             // of a CornerPart: index in inverter.Active
	Lane   Lane            // of a LanePart
	Row    int             // of a LedgerPart: from the top; -1 between rows
}
