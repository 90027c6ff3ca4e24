package duty

import (
	"math"

	"sextant/inverter/device"
	"sextant/inverter/heat"
)

// warmth is the rises of a position's Foster pairs, in K. They are stepped exactly under a power that is
// constant: y goes to y e + R P (1 - e), e = exp(-t/τ).
type warmth struct {
	heat                *device.Heat
	channel, diode, box []float64
}

func newWarmth(h *device.Heat) warmth {
	return warmth{h, make([]float64, len(h.Switch)), make([]float64, len(h.Diode)), make([]float64, len(h.Case))}
}

// step goes on by a time (s) with the heat (W) of the switch and of its diode.
func (w *warmth) step(channel, diode, dt float64) {
	both := channel + diode
	advance(w.heat.Case, w.box, both, dt)
	if w.heat.Diode == nil { // of the switch's chip
		channel = both
	}
	advance(w.heat.Switch, w.channel, channel, dt)
	advance(w.heat.Diode, w.diode, diode, dt)
}

func advance(c heat.Chain, rises []float64, power, dt float64) {
	for i, p := range c {
		gone := -math.Expm1(-dt / p.Time)
		rises[i] += (p.Resistance*power - rises[i]) * gone
	}
}

// junctions returns the rises of both junctions over the sink.
func (w *warmth) junctions() (channel, diode float64) {
	box := sum(w.box)
	channel = box + sum(w.channel)
	if w.heat.Diode == nil {
		return channel, channel
	}
	return channel, box + sum(w.diode)
}

// copyFrom makes w as warm as another of the same device.
func (w *warmth) copyFrom(o *warmth) {
	copy(w.channel, o.channel)
	copy(w.diode, o.diode)
	copy(w.box, o.box)
}

func sum(xs []float64) float64 {
	s := 0.0
	for _, x := range xs {
		s += x
	}
	return s
}
