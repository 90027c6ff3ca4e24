package drive

import (
	"math"

	"sextant/inverter"
)

// An Instant is the whole drive at one time, in SI units: what a picture draws and a table prints.
// At a switching event there are two, one on either side, with the same Time.
type Instant struct {
	Time        float64         // s
	Gates       inverter.Gates  // as commanded, dead time applied
	Ways        [3]inverter.Way // how each leg carries its current
	Astray      [3]uint8        // how many phases behind its own the winding is that a leg's lead goes to; see Winding
	Current     inverter.ABC    // A, into the machine
	Pole        inverter.ABC    // V, leg terminal to the negative rail
	Phase       inverter.ABC    // V, terminal to star point
	EMF         inverter.ABC    // V, of the turning magnet, per phase
	Link        float64         // V, between the rails
	Supply      float64         // A, out of the source
	LinkCurrent float64         // A, into the bridge from the link
	Rotor       float64         // electrical angle of the d axis, 0 to 2π
	Shaft       float64         // mechanical angle, 0 to 2π
	Speed       float64         // mechanical, rad/s
	ID, IQ      float64         // A, current in the rotor's frame
	Torque      float64         // N m, electromagnetic, positive U to V to W
	Turns       float64         // A, in the shorted turns of a winding; 0 where there are none
	Beside      inverter.Vector // A, what those turns add to the current vector that makes the field
	Power       Power
}

// Power is where power goes at an instant, in W: Supply = Bridge + Copper + Capacitor + Shaft + Store.
type Power struct {
	Supply    float64 // out of the source at the link; negative charges it
	Bridge    float64 // heat in switches and diodes
	Copper    float64 // heat in the windings
	Capacitor float64 // heat in the resistance in series with the link's capacitor
	Shaft     float64 // torque times speed; negative when the shaft drives
	Store     float64 // into magnetic field and link capacitor
}

// Line returns the line voltages UV, VW, WU.
func (i Instant) Line() inverter.ABC { return i.Pole.Lines() }

// Winding returns the winding that a leg's lead goes to: its own, unless leads are crossed.
func (i *Instant) Winding(leg inverter.Phase) inverter.Phase {
	return (leg + inverter.Phase(i.Astray[leg])) % inverter.Phase(len(i.Astray))
}

// ByWinding returns by windings what x says by legs.
func (i *Instant) ByWinding(x inverter.ABC) (w inverter.ABC) {
	for _, leg := range inverter.Phases {
		w[i.Winding(leg)] = x[leg]
	}
	return w
}

// VoltageVector returns the space vector of the windings' voltages, in V.
func (i Instant) VoltageVector() inverter.Vector {
	v, _ := i.ByWinding(i.Phase).Clarke()
	return v
}

// CurrentVector returns the space vector of the windings' currents, in A.
func (i Instant) CurrentVector() inverter.Vector {
	v, _ := i.ByWinding(i.Current).Clarke()
	return v
}

// FieldVector returns the space vector of all currents that make the machine's field, in A: the phase currents', and
// what shorted turns add.
func (i Instant) FieldVector() inverter.Vector {
	v := i.CurrentVector()
	return inverter.Vector{Alpha: v.Alpha + i.Beside.Alpha, Beta: v.Beta + i.Beside.Beta}
}

// RPM returns the mechanical speed in turns a minute.
func (i Instant) RPM() float64 { return i.Speed * 30 / math.Pi }
