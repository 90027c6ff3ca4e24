package loss

import (
	"fmt"

	"sextant/inverter/device"
)

// fewCarriers is the ratio of carrier to fundamental below which averages over a carrier period are rough.
const fewCarriers = 20

// notices says what makes a result doubtful.
func notices(d *device.Device, p *Point, r *Result) []string {
	list := d.Doubts()
	say := func(sure bool, format string, args ...any) {
		if sure {
			list = append(list, fmt.Sprintf(format, args...))
		}
	}
	say(p.Supply > d.Voltage, "the supply of %g V is above the rated %g V", p.Supply, d.Voltage)
	say(p.Current > d.Current, "the current's peak of %g A is above the rated %g A", p.Current, d.Current)
	for _, x := range []struct {
		what string
		upTo float64
	}{{"channel", d.Channel.Covers()}, {"diode", d.Diode.Covers()}, {"energy", d.Switching.Covers()}} {
		say(p.Current > x.upTo, "the %s curve ends at %g A; beyond, its last slope goes on", x.what, x.upTo)
	}
	ratio := p.Supply / d.Switching.Voltage
	say(ratio < 0.5 || ratio > 2, "the energies are of %g V, far from the supply of %g V", d.Switching.Voltage, p.Supply)
	_, steps := p.stepped()
	say(!steps && p.Pattern.NeedsCarrier() && p.Carrier < fewCarriers*p.Frequency,
		"there are only %.3g carrier periods a turn; averages take many", p.Carrier/p.Frequency)
	say(!steps && p.Pattern.Compares() && p.Modulation > p.Pattern.Linear(),
		"the reference is clipped: modulation is beyond %.4g", p.Pattern.Linear())
	peak := r.Peak()
	switch {
	case r.Settling.Runaway:
		say(true, "thermal runaway: as the data go on beyond %g C, no temperature is steady", d.Hottest())
	case peak > d.Heat.Limit && !p.Fixed:
		say(true, "a junction's peak of %.0f C is above its limit of %g C", peak, d.Heat.Limit)
	}
	say(peak > d.Hottest() && !r.Settling.Runaway, "a junction's peak of %.0f C is beyond the data, which are held at %g C", peak, d.Hottest())
	return list
}
