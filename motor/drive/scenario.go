package drive

import (
	"cmp"
	"fmt"
	"slices"

	"sextant/inverter"
	"sextant/inverter/device"
	"sextant/inverter/pattern"
	"sextant/motor"
)

// A Scenario is everything that a run starts from, in SI units and radians.
type Scenario struct {
	Title    string
	Supply   Supply
	Gating   Gating
	Machine  motor.Machine
	Shaft    Shaft
	Switches Switches
	Faults   []Fault
	Run      Window
}

// A Supply is the direct-current source and the link behind it.
type Supply struct {
	Voltage             float64 // V
	Resistance          float64 // Ω, of the source
	Capacitance         float64 // F, of the link; 0 is a stiff supply
	CapacitorResistance float64 // Ω, in series with it
	Refuses             bool    // takes no current back, or
	ChargeLimit         float64 // takes back no more than this, A; 0 is no limit
	Start               float64 // V across the link's capacitor at t = 0, where
	StartSet            bool    // that is given; else the source's voltage
}

// A Follow is what the gating goes by.
type Follow uint8

// The gating follows a clock, the rotor's position sensors (six-step), or a current command
// (field-oriented control).
const (
	Clock Follow = iota
	Rotor
	Current
)

// String returns the word that scenario files have for f.
func (f Follow) String() string { return word(int(f), "clock", "rotor", "current") }

// A ChopSide is the switch that chopping acts on.
type ChopSide uint8

// The sides.
const (
	ChopHigh ChopSide = iota
	ChopLow
	ChopBoth
)

// String returns the word that scenario files have for c.
func (c ChopSide) String() string { return word(int(c), "high", "low", "both") }

// word returns the word of value i.
func word(i int, words ...string) string {
	if i < len(words) {
		return words[i]
	}
	return fmt.Sprintf("value %d", i)
}

// Gating is what commands the six gates.
type Gating struct {
	pattern.Settings          // for Clock; its carrier and dead time for the others too
	Follow           Follow   // what commands the gates
	Advance          float64  // Rotor: voltage vector ahead of the q axis by this much, rad
	Chop             float64  // Rotor: duty of the chopped switch, 0 to 1
	ChopSide         ChopSide // Rotor
	ID, IQ           float64  // Current: commands, A
	Bandwidth        float64  // Current: of the current loops, Hz; 0 is a twentieth of the carrier
	SpeedLoop        bool     // Current: a speed loop commands iq
	SpeedCommand     float64  // mechanical, rad/s
	SpeedBandwidth   float64  // Hz; 0 is a twentieth of the current loops'
	CurrentLimit     float64  // the largest iq the speed loop commands, A
	Ramp             float64  // Clock: how fast the frequency may change, Hz/s, modulation with it; 0 is at once
	Boost            float64  // Clock with Ramp: modulation at standstill
}

// A Shaft is held at a speed or free to turn.
type Shaft struct {
	Free       bool
	Speed      float64 // held speed, mechanical rad/s
	StartSpeed float64 // free: at t = 0, mechanical rad/s
	StartAngle float64 // electrical angle of the d axis at t = 0, rad
	Inertia    float64 // kg m²
	LoadTorque float64 // N m, against forward turning, whichever way the shaft turns
	Friction   float64 // viscous, N m s/rad
	Coulomb    float64 // dry friction, N m, against whichever way the shaft turns, and holding it at rest
	Quadratic  float64 // of fans and pumps, N m s²/rad², against whichever way the shaft turns
}

// Switches holds the drops of the six switches and their diodes; the zero value is ideal. With a device the
// drops are the device's.
type Switches struct {
	ChannelThreshold  float64 // V
	ChannelResistance float64 // Ω
	DiodeThreshold    float64 // V
	DiodeResistance   float64 // Ω
	BothWays          bool    // the channel conducts in reverse when gated, as a MOSFET's does

	Use      string         // the name or the file of the device, and
	Device   *device.Device // its data; nil without one
	Fixed    bool           // all junctions are at Junction, whatever their heat; else it warms them above Sink
	Junction float64        // °C
	Sink     float64        // °C
}

// A Window is how long a run settles and how long it is measured after that.
type Window struct {
	Settle          float64      // s
	Measure         float64      // s
	InitialCurrents inverter.ABC // A
}

// ready validates s, gives it the drops of its unheated device, and puts the faults in order of time.
func (s *Scenario) ready() error {
	if err := s.Validate(); err != nil {
		return err
	}
	s.Switches = s.Switches.Cold()
	s.Faults = slices.Clone(s.Faults)
	slices.SortStableFunc(s.Faults, func(a, b Fault) int { return cmp.Compare(a.Time, b.Time) })
	return nil
}
