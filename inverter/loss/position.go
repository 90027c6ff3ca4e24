package loss

import (
	"math"

	"sextant/inverter/device"
)

// Losses is what one position, a switch with its diode, turns to heat, in W. The reverse current of a
// MOSFET's channel counts to the switch's conduction.
type Losses struct {
	Conduction, TurnOn, TurnOff float64 // the switch's
	Diode, Recovery             float64 // the diode's
}

// Switch returns the heat of the switch.
func (l Losses) Switch() float64 { return l.Conduction + l.TurnOn + l.TurnOff }

// Rectifier returns the heat of the diode.
func (l Losses) Rectifier() float64 { return l.Diode + l.Recovery }

// Sum returns the heat of both.
func (l Losses) Sum() float64 { return l.Switch() + l.Rectifier() }

// add adds share times more to l.
func (l *Losses) add(share float64, more Losses) {
	l.Conduction += share * more.Conduction
	l.TurnOn += share * more.TurnOn
	l.TurnOff += share * more.TurnOff
	l.Diode += share * more.Diode
	l.Recovery += share * more.Recovery
}

// A pair is the junction temperatures of a position in °C.
type pair struct{ channel, diode float64 }

// A position is a device at the temperatures of its junctions.
type position struct {
	channel, diode device.Characteristic
	energy         [3]device.Energy
	bothWays       bool
}

func at(d *device.Device, volts float64, t pair) position {
	s := &d.Switching
	return position{
		channel: d.Channel.At(t.channel), diode: d.Diode.At(t.diode), bothWays: d.Technology.BothWays(),
		energy: [3]device.Energy{s.At(device.TurnOn, volts, t.channel), s.At(device.TurnOff, volts, t.channel), s.At(device.Recovery, volts, t.diode)},
	}
}

// A leg is its two positions.
type leg struct {
	upper, lower position
	carrier      float64 // Hz
}

// heat returns the power of a leg that carries a current, over a carrier period.
func (l *leg) heat(g gating, current float64) (upper, lower Losses) {
	if current >= 0 {
		return exchange(&l.upper, &l.lower, g.high, g.low, current, l.rate(g))
	}
	lower, upper = exchange(&l.lower, &l.upper, g.low, g.high, -current, l.rate(g))
	return upper, lower
}

func (l *leg) rate(g gating) float64 {
	if g.switches {
		return l.carrier
	}
	return 0
}

// exchange returns the power of the switch side, which drives a current i ≥ 0 while gated, and of the other side,
// which it goes back to.
func exchange(drives, returns *position, driven, returning, i, rate float64) (d, r Losses) {
	if i == 0 {
		return
	}
	d.Conduction = driven * i * drives.channel.Voltage(i)
	if driven > 0 {
		d.TurnOn, d.TurnOff = rate*drives.energy[device.TurnOn].Of(i), rate*drives.energy[device.TurnOff].Of(i)
		r.Recovery = rate * returns.energy[device.Recovery].Of(i)
	}
	bare := 1 - driven // the share of the diode alone
	if returns.bothWays && returning > 0 {
		channel, diode, volts := device.Share(returns.channel, returns.diode, i)
		r.Conduction, r.Diode = returning*channel*volts, returning*diode*volts
		bare -= returning
	}
	if bare > 1e-12 { // more than rounding leaves
		r.Diode += bare * i * returns.diode.Voltage(i)
	}
	return d, r
}

// knee returns the current above which a gated channel shares its reverse current with the diode beside it;
// +Inf if it never does.
func (p *position) knee() float64 {
	if !p.bothWays {
		return math.Inf(1)
	}
	threshold := p.diode.Voltage(0)
	low, high := 0.0, 1.0
	for p.channel.Voltage(high) <= threshold {
		if high *= 2; high > most {
			return math.Inf(1)
		}
	}
	for range 60 {
		mid := (low + high) / 2
		if p.channel.Voltage(mid) <= threshold {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}
