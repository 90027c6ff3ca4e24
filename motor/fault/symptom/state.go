package symptom

import (
	"math"

	"sextant/motor"
	"sextant/motor/drive"
)

// A State is what a drive does when the fault shows.
type State uint8

// The states. At Standstill the rotor is held still at one angle after another.
const (
	Motoring State = iota
	Generating
	Standstill
)

// String returns the state's name.
func (s State) String() string { return [...]string{"motoring", "generating", "standstill"}[s] }

// MarshalText returns the state's name.
func (s State) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// held returns s without faults, with its shaft held at a mechanical speed in rad/s, its control holding the
// current iq in A if it was to hold the speed, and a window of whole turns after what was stored at the start
// has died away.
func held(s drive.Scenario, speed, iq float64) drive.Scenario {
	s.Faults = nil
	if s.Machine.Kind != motor.Passive {
		s.Shaft = drive.Shaft{Speed: speed, StartAngle: s.Shaft.StartAngle}
	}
	if s.Gating.SpeedLoop {
		s.Gating.SpeedLoop, s.Gating.IQ = false, iq
		s.Gating.SpeedCommand, s.Gating.SpeedBandwidth, s.Gating.CurrentLimit = 0, 0, 0
	}
	s.Gating.Ramp, s.Gating.Boost = 0, 0
	s.Run = drive.Window{Settle: settling(&s), Measure: s.Run.Measure}
	if f := s.ElectricalFrequency(); f > 0 {
		turns := math.Max(2, math.Ceil(leastWindow*f))
		s.Run.Measure = turns / f
		s.Run.Settle = math.Ceil(s.Run.Settle*f) / f
	}
	return s
}

// leastWindow is how long is measured at least, s.
const leastWindow = 0.02

// settling returns the time in which what was stored at the start has died away to e⁻⁸, in s: currents by L/R,
// the link by what its source and capacitor make.
func settling(s *drive.Scenario) float64 {
	m := s.Machine.Star()
	t := s.Supply.Resistance * s.Supply.Capacitance
	if r := m.Resistance + s.Switches.ChannelResistance; r > 0 {
		t = math.Max(t, math.Max(m.InductanceD, m.InductanceQ)/r)
	}
	return math.Min(8*t, longestSettling)
}

// longestSettling bounds the settling of machines with hardly any resistance, s.
const longestSettling = 1

// mirrored returns held scenario s with its power turned round: where a clock makes the voltage, its angle
// is mirrored at the axis of the EMF; where a control makes the current, that of the q axis is reversed; where
// sensors step the bridge, the shaft is driven as much faster as reverses the current iq, in A. It reports
// whether there is a way.
func mirrored(s drive.Scenario, iq float64) (drive.Scenario, bool) {
	if s.Machine.Kind == motor.Passive || s.Machine.FluxLinkage == 0 || s.Shaft.Speed == 0 {
		return s, false
	}
	switch g := &s.Gating; {
	case g.Follow == drive.Current:
		g.IQ = -g.IQ
	case g.Follow == drive.Rotor:
		m := s.Machine.Star()
		s.Shaft.Speed += 2 * m.Resistance * iq / m.FluxLinkage / float64(m.PolePairs)
		s = held(s, s.Shaft.Speed, 0)
	case g.Kind.Stepped() || g.Kind.Compares():
		g.Phase = math.Remainder(math.Pi+2*s.Shaft.StartAngle-g.Phase, 2*math.Pi)
	default:
		return s, false
	}
	return s, true
}
