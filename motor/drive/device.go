package drive

import (
	"sextant/inverter"
	"sextant/inverter/device"
)

// A junction is the temperatures of a switch and of the diode beside it, in °C.
type junction struct{ channel, diode float64 }

// temperatures are those of all switches.
type temperatures [len(inverter.Switches)]junction

// coldest and hottest bound the temperatures of sinks and junctions, in °C.
const coldest, hottest = -273.15, 1000.0

// unheated returns the temperatures of a junction that is held, or that no heat has warmed above the sink yet.
func (s *Switches) unheated() junction {
	x := s.Sink
	if s.Fixed {
		x = s.Junction
	}
	return junction{x, x}
}

// allUnheated returns those of all.
func (s *Switches) allUnheated() (t temperatures) {
	for k := range t {
		t[k] = s.unheated()
	}
	return t
}

// Cold returns s with the drops of its device as no heat has warmed it yet; s itself without a device.
func (s Switches) Cold() Switches { return s.at(s.unheated()) }

// at returns s with the drops that its device has with its junctions at t; s itself without a device.
func (s Switches) at(t junction) Switches {
	d := s.Device
	if d == nil {
		return s
	}
	s.ChannelThreshold, s.ChannelResistance = straight(d.Channel.At(t.channel), d.Current)
	s.DiodeThreshold, s.DiodeResistance = straight(d.Diode.At(t.diode), d.Current)
	s.BothWays = d.Technology.BothWays()
	return s
}

// straight returns threshold and resistance of a characteristic. A digitised one is replaced by the line through its
// points at half the rated current and at all of it, or, where that would start below zero, at none and half of it
// (common practice).
func straight(c device.Characteristic, rated float64) (threshold, resistance float64) {
	if c.Threshold != 0 || c.Resistance != 0 {
		return c.Threshold, c.Resistance
	}
	half, full := c.Voltage(rated/2), c.Voltage(rated)
	if threshold = 2*half - full; threshold < 0 {
		return 0, half / (rated / 2)
	}
	return threshold, (full - half) / (rated / 2)
}
