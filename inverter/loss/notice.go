package loss

import (
	"fmt"

	"sextant/inverter/device"
	"sextant/inverter/si"
)

// fewCarriers is the ratio of carrier to fundamental below which averages over a carrier period are rough.
const fewCarriers = 20

// notices says what makes a result doubtful.
func notices(d *device.Device, p *Point, r *Result) []string {
	var list []string
	say := func(sure bool, format string, args ...any) {
		if sure {
			list = append(list, fmt.Sprintf(format, args...))
		}
	}
	amps, volts, celsius := si.Current.Text, si.Voltage.Text, func(t float64) string { return fmt.Sprintf("%.0f C", t) }
	say(p.Supply > d.Voltage, "the supply of %s is above the rated %s", volts(p.Supply), volts(d.Voltage))
	say(p.Current > d.Current, "the current's peak of %s is above the rated %s", amps(p.Current), amps(d.Current))
	for _, x := range []struct {
		what string
		upTo float64
	}{{"channel", d.Channel.Covers()}, {"diode", d.Diode.Covers()}, {"energy", d.Switching.Covers()}} {
		say(p.Current > x.upTo, "the %s curve ends at %s; beyond, its last slope goes on", x.what, amps(x.upTo))
	}
	ratio := p.Supply / d.Switching.Voltage
	say(ratio < 0.5 || ratio > 2, "the energies are of %s, far from the supply of %s", volts(d.Switching.Voltage), volts(p.Supply))
	_, steps := p.stepped()
	say(!steps && p.Pattern.NeedsCarrier() && p.Frequency > 0 && p.Carrier < fewCarriers*p.Frequency,
		"there are only %.3g carrier periods a turn; averages take many", p.Carrier/p.Frequency)
	say(!steps && p.Pattern.Compares() && p.Modulation > p.Pattern.Linear(),
		"the reference is clipped: modulation is beyond %.4g", p.Pattern.Linear())
	peak := r.Peak()
	switch {
	case r.Settling.Runaway:
		say(true, "thermal runaway: as the data go on beyond %s, no temperature is steady", celsius(d.Hottest()))
	case peak > d.Heat.Limit && !p.Fixed:
		say(true, "a junction's peak of %s is above its limit of %s", celsius(peak), celsius(d.Heat.Limit))
	}
	say(peak > d.Hottest() && !r.Settling.Runaway, "a junction's peak of %s is beyond the data, which are held at %s", celsius(peak), celsius(d.Hottest()))
	return list
}
