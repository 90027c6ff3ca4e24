package drive

import (
	"fmt"
	"math"

	"sextant/inverter"
	"sextant/inverter/si"
)

// A FaultKind is a change to the wiring, a switch, a sensor or the gating. It prints as files have it.
type FaultKind uint8

// The faults.
const (
	PhaseOpen             FaultKind = iota // the phase carries nothing; what it carried sparks away
	SwitchOpen                             // the channel no longer conducts; its diode does
	SwitchShort                            // the device conducts both ways whatever its gate does
	PhaseResistance                        // the phase has that much more resistance, a bad joint
	PhaseSwap                              // the leads of the other two phases are crossed
	PositionSensorStuck                    // the sensor, first for U, tells low (0) or high (1) for ever
	GateStuckOn                            // the channel is gated whatever the command
	GateStuckOff                           // the channel is never gated
	DiodeOpen                              // the diode no longer conducts
	SupplySag                              // the source falls to that voltage
	CapacitorAged                          // the link's capacitor has that share of its capacitance left
	PositionSensorOffset                   // the position is told that much ahead
	PositionSensorSwapped                  // the signals of the other two sensors are crossed
	CurrentSensorOffset                    // the phase's current is told that much too high
	CurrentSensorGain                      // the phase's current is told that many times as large
	Demagnetised                           // the magnet has that share of its flux left
	ShaftBlocked                           // the shaft stands still
	TurnsShorted                           // that share of the phase's turns is closed on itself
	CapacitorResistance                    // the link's capacitor has that much more resistance in series
)

// faultRule says how files give a fault of a kind.
type faultRule struct {
	word        string
	of          subject
	value       si.Dimension
	takes       bool // a value
	least, most float64
}

// A subject is what a fault is at.
type subject uint8

const (
	ofDrive subject = iota // nothing in particular
	ofPhase
	ofSwitch
)

var faultRules = [...]faultRule{
	PhaseOpen:             {word: "phase-open", of: ofPhase},
	SwitchOpen:            {word: "switch-open", of: ofSwitch},
	SwitchShort:           {word: "switch-short", of: ofSwitch},
	PhaseResistance:       {word: "phase-resistance", of: ofPhase, value: si.Resistance, takes: true, least: math.SmallestNonzeroFloat64, most: math.MaxFloat64},
	PhaseSwap:             {word: "phase-swap", of: ofPhase},
	PositionSensorStuck:   {word: "position-sensor-stuck", of: ofPhase, value: si.Number, takes: true, most: 1},
	GateStuckOn:           {word: "gate-stuck-on", of: ofSwitch},
	GateStuckOff:          {word: "gate-stuck-off", of: ofSwitch},
	DiodeOpen:             {word: "diode-open", of: ofSwitch},
	SupplySag:             {word: "supply-sag", value: si.Voltage, takes: true, most: math.MaxFloat64},
	CapacitorAged:         {word: "capacitor-aged", value: si.Number, takes: true, least: 1e-6, most: 1},
	PositionSensorOffset:  {word: "position-sensor-offset", value: si.Angle, takes: true, least: -math.MaxFloat64, most: math.MaxFloat64},
	PositionSensorSwapped: {word: "position-sensor-swapped", of: ofPhase},
	CurrentSensorOffset:   {word: "current-sensor-offset", of: ofPhase, value: si.Current, takes: true, least: -math.MaxFloat64, most: math.MaxFloat64},
	CurrentSensorGain:     {word: "current-sensor-gain", of: ofPhase, value: si.Number, takes: true, least: -10, most: 10},
	Demagnetised:          {word: "demagnetised", value: si.Number, takes: true, most: 1},
	ShaftBlocked:          {word: "shaft-blocked"},
	TurnsShorted:          {word: "turns-shorted", of: ofPhase, value: si.Number, takes: true, least: 1e-6, most: 1},
	CapacitorResistance:   {word: "capacitor-resistance", value: si.Resistance, takes: true, least: math.SmallestNonzeroFloat64, most: math.MaxFloat64},
}

// FaultKinds lists all kinds.
func FaultKinds() []FaultKind {
	kinds := make([]FaultKind, len(faultRules))
	for k := range kinds {
		kinds[k] = FaultKind(k)
	}
	return kinds
}

// String returns the word that scenario files have for k.
func (k FaultKind) String() string {
	if int(k) < len(faultRules) {
		return faultRules[k].word
	}
	return fmt.Sprintf("value %d", k)
}

// OfSwitch reports whether the fault is a switch's; OfPhase whether it is a phase's.
func (k FaultKind) OfSwitch() bool { return faultRules[k].of == ofSwitch }

// OfPhase reports whether the fault is a phase's.
func (k FaultKind) OfPhase() bool { return faultRules[k].of == ofPhase }

// TakesValue reports whether the fault has a value.
func (k FaultKind) TakesValue() bool { return faultRules[k].takes }

// Dimension returns what the fault's value is a quantity of; a number where it takes none.
func (k FaultKind) Dimension() si.Dimension { return faultRules[k].value }

// A Fault happens at a time, and stays or is mended.
type Fault struct {
	Kind   FaultKind
	Phase  inverter.Phase  // where the kind is of a phase
	Switch inverter.Switch // where the kind is of a switch
	Time   float64         // s
	Until  float64         // s; 0 is for good
	Value  float64         // where the kind takes one, in its SI unit
}

// On reports whether the fault is there at time t, in s.
func (f *Fault) On(t float64) bool { return f.Time <= t && (f.Until == 0 || t < f.Until) }
