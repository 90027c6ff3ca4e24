package drive

import (
	"math"

	"sextant/inverter"
	"sextant/inverter/device"
	"sextant/inverter/loss"
)

// A tally observes a run, settling and window, and books what each switching in the window costs: by its own
// current and by the voltage that the switch blocks before it turns on or after it has turned off. A switching is
// a current that goes from one rail to the other; where it comes to its end first, or goes to a channel from the
// diode beside it, nothing is paid.
type tally struct {
	device   *device.Device
	at       temperatures
	from, to float64 // s, the window
	seen     bool
	ways     [3]inverter.Way // of the segment before
	link     float64         // V, at its end
	energy   [6][len(device.Events)]float64
}

// sameInstant is the time, in s, by which rounding may move an edge across an end of the window. An edge at the
// start counts, one at the end does not, so that windows of whole turns have whole turns of edges.
const sameInstant = 1e-12

// noCurrent is the part of the rated current below which a switching costs nothing.
const noCurrent = 1e-9

// Observe books how the segment began.
func (y *tally) Observe(seg *Segment) {
	n, p := &seg.net, seg.plant
	voltage := func(s *state) float64 { return p.linkVoltage(s, dot(n.g, s.i)) }
	start := &seg.stride.from
	if y.seen && y.from-sameInstant <= seg.T0 && seg.T0 < y.to-sameInstant {
		for _, k := range inverter.Phases {
			if i := dot(p.axes[k], start.i); math.Abs(i) > noCurrent*y.device.Current {
				y.commute(k, n.way[k], i, voltage(start))
			}
		}
	}
	y.seen, y.ways, y.link = true, n.way, voltage(&seg.stride.to)
}

// commute books what it costs that leg k goes over to carry current i, not zero, by way is, with a voltage between
// the rails afterwards.
func (y *tally) commute(k inverter.Phase, is inverter.Way, i, voltage float64) {
	was := y.ways[k]
	drives, returns := inverter.High(k), inverter.Low(k)
	on, off := was.Lower() && is.Upper(), was.Upper() && is.Lower()
	if i < 0 {
		drives, returns = returns, drives
		on, off = off, on
	}
	switch {
	case on:
		y.book(device.TurnOn, drives, i, y.link, y.at[drives].channel)
		y.book(device.Recovery, returns, i, y.link, y.at[returns].diode)
	case off:
		y.book(device.TurnOff, drives, i, voltage, y.at[drives].channel)
	}
}

func (y *tally) book(e device.Event, s inverter.Switch, i, voltage, temperature float64) {
	y.energy[s][e] += y.device.EnergyOf(e, i, max(0, voltage), temperature)
}

// losses returns the mean heat of each position with what m has metered of its conduction.
func (y *tally) losses(m *meter) (all [6]loss.Losses) {
	t := m.to - m.from
	for s := range all {
		all[s] = loss.Losses{
			Conduction: m.channel[s].heat / t, Diode: m.diode[s].heat / t,
			TurnOn:   y.energy[s][device.TurnOn] / t,
			TurnOff:  y.energy[s][device.TurnOff] / t,
			Recovery: y.energy[s][device.Recovery] / t,
		}
	}
	return all
}
