// Package diagnosis reasons from a capture of phase currents back to the fault that explains it: by the signs
// of package signature, with its reasons in words and numbers, and with `unclear` for an answer where they
// do not decide.
package diagnosis

import "fmt"

// A Fault is a verdict's word.
type Fault string

// The verdicts that currents alone lead to.
const (
	Healthy         Fault = "healthy"
	SwitchOpen      Fault = "switch-open"
	SwitchShort     Fault = "switch-short"
	PhaseOpen       Fault = "phase-open"
	PhaseResistance Fault = "phase-resistance"
	SensorOffset    Fault = "current-sensor-offset"
	SensorGain      Fault = "current-sensor-gain"
	PositionStuck   Fault = "position-sensor-stuck"
	Unclear         Fault = "unclear"
)

// The verdicts that the drive's own scenario adds.
const (
	TurnsShorted    Fault = "turns-shorted"
	DiodeOpen       Fault = "diode-open"
	SupplySag       Fault = "supply-sag"
	CapacitorAged   Fault = "capacitor-aged"
	Demagnetised    Fault = "demagnetised"
	PositionOffset  Fault = "position-sensor-offset"
	PositionSwapped Fault = "position-sensor-swapped"
	ShaftBlocked    Fault = "shaft-blocked"
)

// A Suspect is a fault at a place.
type Suspect struct {
	Fault Fault  `json:"fault"`
	At    string `json:"at"` // a phase or a switch; empty for healthy and unclear
}

// String returns the fault and where it is.
func (s Suspect) String() string {
	if s.At == "" {
		return string(s.Fault)
	}
	return fmt.Sprintf("%s at %s", s.Fault, s.At)
}

// A Ranked suspect has a score from 0 to 1 and what speaks for it.
type Ranked struct {
	Suspect
	Score    float64 `json:"score"`
	Why      string  `json:"because"`
	value    float64 // of a sensor's error: A, or part of the true current
	own      bool    // the sensor is the drive's own
	distance float64 // of the simulated signature, over the fundamental; 0 where none was compared
}
