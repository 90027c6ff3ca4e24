// Package device describes the semiconductors of a bridge's six positions, each a switch with its diode:
// what they drop when they conduct, what a switching costs, and how their heat leaves. The data come from
// files; see [Load].
//
// What the data say:
//
//   - Energies are those of IEC 60747-9 (IGBT), 60747-8 (MOSFET) and 60747-2 (diode). Turn-on energy as
//     measured already holds what the opposite diode's recovery does to the switch; the recovery energy is
//     what the diode itself turns to heat. Neither counts twice.
//   - Between the temperatures of the data, values go in straight lines; outside they are held.
//   - A MOSFET, of silicon or of silicon carbide, conducts both ways through its channel while it is gated;
//     its diode carries current in dead time, and beside the channel when the channel's drop would exceed
//     the diode's. In traction what is called a "SiC IGBT" is such a MOSFET.
//
// Temperatures are in degrees Celsius; all else is SI.
package device

import (
	"fmt"
	"math"

	"sextant/inverter/heat"
)

// A Technology is what the switch is made of.
type Technology uint8

// The technologies.
const (
	SiIGBT Technology = iota
	SiMOSFET
	SiCMOSFET
)

var technologyWords = []string{"si-igbt", "si-mosfet", "sic-mosfet"}

// String returns the word that device files have for t.
func (t Technology) String() string {
	if int(t) < len(technologyWords) {
		return technologyWords[t]
	}
	return fmt.Sprintf("Technology(%d)", uint8(t))
}

// MarshalText returns the word that device files have for t.
func (t Technology) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

// BothWays reports whether a gated channel conducts in reverse, too.
func (t Technology) BothWays() bool { return t != SiIGBT }

// A Device is a switch with its diode.
type Device struct {
	Name       string
	Technology Technology
	Voltage    float64 // rated, V
	Current    float64 // rated, A
	Price      float64 // in any money; 0 where it is not known
	Channel    Drop
	Diode      Drop
	Switching  Switching
	Heat       Heat
}

// Heat is how the heat of a position leaves, the sink being the reference.
type Heat struct {
	Switch heat.Chain // junction to case
	Diode  heat.Chain // nil where the diode is of the switch's chip, whose junction is then that of both
	Case   heat.Chain // case to sink; carries the heat of both
	Limit  float64    // highest junction temperature allowed, °C; +Inf where it is not known
}

// Share divides a current i ≥ 0 that flows from source to drain between a gated channel and the diode beside
// it, at their temperatures: the channel takes all of it until its drop would exceed the diode's. It also
// returns the voltage over both. It is for devices whose channel conducts [Technology.BothWays].
func Share(channel, diode Characteristic, i float64) (inChannel, inDiode, volts float64) {
	if v := channel.Voltage(i); i == 0 || v <= diode.Voltage(0) {
		return i, 0, v
	}
	if channel.straight() && diode.straight() && diode.Resistance > 0 {
		// v = r_c i_c = V_d + r_d (i - i_c)
		inChannel = (diode.Threshold - channel.Threshold + diode.Resistance*i) / (channel.Resistance + diode.Resistance)
		return inChannel, i - inChannel, channel.Voltage(inChannel)
	}
	low, high := 0.0, i // the channel drops less than the diode at low, and more at high
	for range 60 {
		mid := (low + high) / 2
		if channel.Voltage(mid) < diode.Voltage(i-mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return low, i - low, channel.Voltage(low)
}

// Hottest returns the highest temperature that the data speak of, in °C.
func (d *Device) Hottest() float64 {
	hottest := math.Inf(-1)
	for _, t := range []table{d.Channel.table, d.Diode.table, d.Switching.table} {
		hottest = max(hottest, t.at[len(t.at)-1])
	}
	return hottest
}

// Continued returns d with its trends going on beyond its hottest data instead of being held there: what it
// then comes to tells a junction that would settle from one that would run away.
func (d Device) Continued() Device {
	d.Channel.goesOn, d.Diode.goesOn, d.Switching.goesOn = true, true, true
	return d
}

// UsualSink is the temperature of a heat sink that nobody gives, in °C.
const UsualSink = 65
