package render

import (
	"sextant/inverter"
	"sextant/motor/drive"
)

// A strip is a row of the tape with one zero line: a lane has one, or one a phase or switch.
type strip struct {
	name  string
	value func(*drive.Instant) float64
	line  int // whose colour and line style: a phase, plain or other
}

// Lines of strips that are no phase's.
const (
	plain = -1 // whole, in the text's colour
	other = -2 // dashed, in the field's colour, beside a plain one
)

// A laneKind says what a lane shows and how tall it is, in shares of the tape.
type laneKind struct {
	name   string
	share  float64
	strips []strip // overlaid if shared, else one below the other
	shared bool
	signed bool
	tells  PartKind // of what part, if one
	scale  func(*Scales) float64
	unit   string
}

var laneKinds = [lanes]laneKind{
	GateLane: {name: "gates", share: 9.2},
	PoleLane: {
		name: "pole", unit: "V", share: 4.8, scale: voltageScale,
		strips: phaseStrips(func(i *drive.Instant) *inverter.ABC { return &i.Pole }),
	},
	LineLane: {
		name: "line", unit: "V", share: 5.4, signed: true, scale: voltageScale,
		strips: []strip{
			{name: "UV", line: 0, value: func(i *drive.Instant) float64 { return i.Line()[0] }},
			{name: "VW", line: 1, value: func(i *drive.Instant) float64 { return i.Line()[1] }},
			{name: "WU", line: 2, value: func(i *drive.Instant) float64 { return i.Line()[2] }},
		},
	},
	PhaseLane: {
		name: "phase", unit: "V", share: 6, signed: true, scale: phaseScale,
		strips: phaseStrips(func(i *drive.Instant) *inverter.ABC { return &i.Phase }),
	},
	CurrentLane: {
		name: "current", unit: "A", share: 7.6, signed: true, shared: true, scale: func(s *Scales) float64 { return s.Current },
		strips: phaseStrips(func(i *drive.Instant) *inverter.ABC { return &i.Current }),
	},
	TorqueLane: {
		name: "torque", unit: "N m", share: 3.4, signed: true, tells: RotorPart, scale: func(s *Scales) float64 { return s.Torque },
		strips: []strip{{line: plain, value: func(i *drive.Instant) float64 { return i.Torque }}},
	},
	LinkLane: {
		name: "link", unit: "A", share: 3.4, signed: true, tells: SupplyPart, scale: func(s *Scales) float64 { return s.Supply },
		strips: []strip{{line: plain, value: func(i *drive.Instant) float64 { return i.LinkCurrent }}},
	},
	LinkVoltageLane: {
		name: "link", unit: "V", share: 3.4, tells: LinkPart, scale: voltageScale,
		strips: []strip{{line: plain, value: func(i *drive.Instant) float64 { return i.Link }}},
	},
	SupplyLane: {
		name: "supply", unit: "A", share: 3.4, signed: true, tells: SupplyPart, scale: func(s *Scales) float64 { return s.Supply },
		strips: []strip{{line: plain, value: func(i *drive.Instant) float64 { return i.Supply }}},
	},
	EMFLane: {
		name: "emf", unit: "V", share: 7.6, signed: true, shared: true, scale: func(s *Scales) float64 { return s.EMF },
		strips: phaseStrips(func(i *drive.Instant) *inverter.ABC { return &i.EMF }),
	},
	DQLane: {
		name: "current", unit: "A", share: 5.4, signed: true, shared: true, scale: func(s *Scales) float64 { return s.Current },
		strips: []strip{
			{name: "d", line: other, value: func(i *drive.Instant) float64 { return i.ID }},
			{name: "q", line: plain, value: func(i *drive.Instant) float64 { return i.IQ }},
		},
	},
	PowerLane: {
		name: "power", unit: "W", share: 5.4, signed: true, shared: true, scale: func(s *Scales) float64 { return s.Power },
		strips: []strip{
			{name: "in", line: other, value: func(i *drive.Instant) float64 { return i.Power.Supply }},
			{name: "out", line: plain, value: func(i *drive.Instant) float64 { return i.Power.Shaft }},
		},
	},
	SpeedLane: {
		name: "speed", unit: "rpm", share: 3.4, signed: true, tells: RotorPart, scale: func(s *Scales) float64 { return s.Speed },
		strips: []strip{{line: plain, value: func(i *drive.Instant) float64 { return i.RPM() }}},
	},
}

func voltageScale(s *Scales) float64 { return s.Voltage }
func phaseScale(s *Scales) float64   { return s.Voltage * 2 / 3 }

func phaseStrips(of func(*drive.Instant) *inverter.ABC) []strip {
	var s []strip
	for _, ph := range inverter.Phases {
		s = append(s, strip{name: ph.String(), line: int(ph), value: func(i *drive.Instant) float64 { return of(i)[ph] }})
	}
	return s
}

// rows returns how many strips of a lane lie one below the other.
func (k *laneKind) rows() int {
	switch {
	case k.strips == nil:
		return len(inverter.Switches)
	case k.shared:
		return 1
	}
	return len(k.strips)
}
