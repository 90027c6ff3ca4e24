package device

import "fmt"

// Doubts says what of d is so far from common practice that a unit or a prefix may be wrong: drops at the rated
// current (power semiconductors drop 0.2 to 6 V), energies over voltage times current (switching takes 2 ns
// to 2 us), temperatures that such a drop would make if it lasted.
func (d *Device) Doubts() []string {
	var list []string
	say := func(sure bool, format string, args ...any) {
		if sure {
			list = append(list, fmt.Sprintf(format, args...))
		}
	}
	middle := (d.Channel.at[0] + d.Hottest()) / 2
	for _, x := range []struct {
		name string
		drop Drop
	}{{"channel", d.Channel}, {"diode", d.Diode}} {
		v := x.drop.At(middle).Voltage(d.Current)
		say(v < 0.2 || v > 6, "the %s drops %.3g V at the rated current, which is far from common practice", x.name, v)
	}
	amps := d.Current / 2
	for _, e := range [2]Event{TurnOn, TurnOff} {
		joules := d.EnergyOf(e, amps, d.Switching.Voltage, middle)
		seconds := joules / (amps * d.Switching.Voltage)
		say(seconds < 2e-9 || seconds > 2e-6, "%s of %.3g J at %g A and %g V is far from common practice", e.words(), joules, amps, d.Switching.Voltage)
	}
	rise := (d.Heat.Switch.Resistance() + d.Heat.Case.Resistance()) * d.Current / 2 * d.Channel.At(middle).Voltage(d.Current/2)
	say(rise < 2 || rise > 1000, "half the rated current would warm the junction by %.3g K, which is far from common practice", rise)
	return list
}

// words is what people call the event.
func (e Event) words() string { return [3]string{"turning on", "turning off", "recovery"}[e] }
