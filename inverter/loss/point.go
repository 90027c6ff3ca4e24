// Package loss works out what a bridge's semiconductors turn to heat at one operating point and how warm
// they get: averages over a turn in closed form or by quadrature of the exact local duty, temperatures as the
// fixed point at which the heat is that of the junctions it makes.
//
// What is assumed: the phase currents are sines; the carrier is much faster than they are, so that a leg's
// share of a carrier period is that of its reference there; the link is stiff. [device] says what the data
// mean.
//
// Positive currents flow out of the leg. While one flows, the upper switch conducts when its gate is on, else
// the lower diode or, where gated, the lower channel of a MOSFET; a negative one, mirrored. In dead time it
// is the diode. Turning a switch on that takes over the current costs its turn-on energy and the opposite
// diode's recovery, turning it off its turn-off energy; a switch whose diode carries the current switches
// for nothing.
//
// F. Casanellas, IEE Proc. Electr. Power Appl. 141 (1994) 235; M. Bierhoff, F. Fuchs, PESC 2004; IEC
// 61800-9-2.
package loss

import (
	"fmt"
	"math"

	"sextant/inverter/pattern"
)

// A Point is an operating point.
type Point struct {
	Pattern    pattern.Kind
	Supply     float64 // V
	Current    float64 // peak of the phase current, A
	Modulation float64 // of the reference, before dead time
	Lag        float64 // angle by which the current lags the voltage, rad; beyond ±π/2 it generates
	Frequency  float64 // of the fundamental, Hz; 0 at standstill
	Carrier    float64 // Hz
	DeadTime   float64 // s
	Duty       float64 // pulsed-low only
	Angle      float64 // of the current vector at standstill, rad: at 0, phase U carries the peak

	Sink     float64 // °C
	Fixed    bool    // the junctions are at Junction, whatever the heat
	Junction float64 // °C
}

// settings returns what a pattern needs to know.
func (p *Point) settings() pattern.Settings {
	return pattern.Settings{
		Kind: p.Pattern, Frequency: p.Frequency, Modulation: p.Modulation, Carrier: p.Carrier,
		DeadTime: p.DeadTime, Duty: p.Duty,
	}
}

// Validate returns a *[pattern.SettingError] for the first value that is out of range or at odds with
// another, or nil.
func (p *Point) Validate() error {
	for _, x := range []struct {
		key   string
		value float64
	}{
		{"supply", p.Supply}, {"current", p.Current}, {"power_factor", p.Lag}, {"angle", p.Angle},
		{"sink", p.Sink}, {"junction", p.Junction},
	} {
		if math.IsNaN(x.value) || math.IsInf(x.value, 0) {
			return wrong(x.key, "is not a finite number")
		}
	}
	switch {
	case p.Pattern == pattern.ByHand:
		return wrong("pattern", "by-hand has no average over a turn; all-low, all-high and all-off have")
	case p.Supply <= 0 || p.Supply > most:
		return wrong("supply", "%g V is out of range; give more than 0, up to %g V", p.Supply, most)
	case p.Current < 0 || p.Current > most:
		return wrong("current", "%g A is out of range; give the peak of the phase current, 0 to %g A", p.Current, most)
	case p.Frequency < 0:
		return wrong("frequency", "%g Hz is negative; give 0 or more", p.Frequency)
	case p.Fixed && !sane(p.Junction):
		return wrong("junction", "%g C is out of range; give %g to %g C", p.Junction, coldest, hottest)
	case !p.Fixed && !sane(p.Sink):
		return wrong("sink", "%g C is out of range; give %g to %g C", p.Sink, coldest, hottest)
	}
	return p.settings().Validate()
}

// most bounds voltages and currents, so that no product overflows.
const most = 1e6

// coldest and hottest bound the temperatures of sinks and junctions, in °C.
const coldest, hottest = -273.15, 1000.0

func sane(celsius float64) bool { return celsius >= coldest && celsius <= hottest }

func wrong(key, format string, args ...any) error {
	return &pattern.SettingError{Key: key, Problem: fmt.Sprintf(format, args...)}
}

// stepped returns the pattern of fixed steps that p comes to, and whether it does.
func (p *Point) stepped() (pattern.Kind, bool) {
	k := p.Pattern.At(p.Modulation)
	return k, k.Stepped()
}
