package device

import (
	"fmt"
	"math"
)

// An Event is one of the three that cost energy.
type Event uint8

// The events: turning on and off are the switch's, recovery is that of the diode opposite, which the
// switch's turning on drives out of conduction.
//
// Data sheets integrate voltage times current between limits (from memory; see the edition that a data sheet
// names): an IGBT's turn-on from 10 % of current to 2 % of voltage, its turn-off from 10 % of voltage to 2 %
// of current (IEC 60747-9); a MOSFET's from 10 % to 10 % (60747-8); a diode's recovery from 10 % of reverse
// voltage to 2 % of the peak recovery current (60747-2).
const (
	TurnOn Event = iota
	TurnOff
	Recovery
)

// Events lists all three, for ranging over.
var Events = [3]Event{TurnOn, TurnOff, Recovery}

var eventNames = [3]string{"turn_on", "turn_off", "recovery"}

// String returns the event's key in files.
func (e Event) String() string {
	if int(e) < len(eventNames) {
		return eventNames[e]
	}
	return fmt.Sprintf("Event(%d)", uint8(e))
}

// Switching is the energies of the events by current, voltage and junction temperature:
//
//	E = Eref (i/iref)^ci (v/vref)^cv
//
// with Eref by temperature; or a digitised curve in place of Eref (i/iref)^ci.
//
// IEC 61800-9-2 scales so, with exponents of common practice; IEC 60747-9, -8 and -2 define the energies.
type Switching struct {
	table
	Voltage float64 // vref, V
	Current float64 // iref, A; not used by curves

	CurrentExponent [3]float64 // by [Event]; not used by curves
	VoltageExponent [3]float64

	energy [3][]float64 // Eref in J, by temperature; or
	curves [3][]curve
}

// An Energy is what an event costs at one voltage and temperature, by current.
type Energy struct {
	factor    float64 // of the curves, or of (i/iref)^exponent
	exponent  float64
	reference float64

	low, high *curve
	share     float64
}

// At returns the energy of an event at a voltage, in V, and a junction temperature.
func (s *Switching) At(e Event, volts, temperature float64) Energy {
	low, high, share := s.between(temperature)
	scale := math.Pow(volts/s.Voltage, s.VoltageExponent[e])
	if s.curves[e] != nil {
		return Energy{factor: scale, low: &s.curves[e][low], high: &s.curves[e][high], share: share}
	}
	reference := max(0, blend(s.energy[e][low], s.energy[e][high], share))
	return Energy{factor: scale * reference, exponent: s.CurrentExponent[e], reference: s.Current}
}

// Of returns the energy, in J, at a current i ≥ 0 in A.
func (e Energy) Of(i float64) float64 {
	switch {
	case e.low != nil:
		x := e.low.at(i)
		if e.share != 0 {
			x = blend(x, e.high.at(i), e.share)
		}
		return e.factor * max(0, x)
	case e.exponent == 1:
		return e.factor * i / e.reference
	}
	return e.factor * math.Pow(i/e.reference, e.exponent)
}

// Covers returns the current, in A, up to which the data go; +Inf where a power law goes on.
func (s *Switching) Covers() float64 {
	least := math.Inf(1)
	for _, c := range s.curves {
		least = min(least, reach(c))
	}
	return least
}

// EnergyOf returns what one event costs, in J, at a current of any sign in A, a voltage in V and the junction
// temperature of the device that it heats.
func (d *Device) EnergyOf(e Event, i, volts, temperature float64) float64 {
	return d.Switching.At(e, volts, temperature).Of(math.Abs(i))
}
