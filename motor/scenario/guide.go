package scenario

import (
	"strings"

	"sextant/inverter/si"
)

// A Key is a key of scenario files, explained.
type Key struct {
	Section string // "" before all sections
	Key     string
	Takes   string // what may be given, such as `volts, like "350 V"`
	About   string // what it is
}

// Keys lists the keys of scenario files in the order in which they are written; those of [machine] are the keys of
// machines' files, too.
func Keys() []Key {
	plain := blank()
	var all []Key
	for _, sec := range sections(&plain) {
		if sec.name == "run" {
			all = append(all, keysOfFault...)
		}
		if sec.name == "machine" {
			all = append(all, Key{sec.name, "use", "a name or a file", "the machine's file, over which the keys here go"})
		}
		for _, e := range sec.keys {
			all = append(all, Key{sec.name, e.key, takes(e.slot), about[strings.TrimPrefix(sec.name+"."+e.key, ".")]})
		}
	}
	return all
}

// keysOfFault lists the keys of a [[fault]].
var keysOfFault = []Key{
	{"fault", "kind", `"sextant list faults" shows them`, "what is amiss; there may be many [[fault]]s"},
	{"fault", "at", `a phase, like "U", or a switch, like "U+"`, "where, if the kind is of one"},
	{"fault", "time", si.Time.Advice(), "when it begins; at the start if not given"},
	{"fault", "until", si.Time.Advice(), "when it is mended; never if not given"},
	{"fault", "value", "as the kind says", "how severe it is"},
}

// takes says what a slot may be given.
func takes(s slot) string {
	switch s := s.(type) {
	case quantity:
		return s.of.Advice()
	case given:
		return s.of.Advice()
	case both:
		return s.of.Advice()
	case three:
		return "three " + s.of.Advice()
	case flag, denial:
		return "true or false"
	case count:
		return "a whole number"
	case gates:
		return `switches, like ["U+", "V-", "W-"]`
	case interface{ allowed() string }:
		return s.allowed()
	}
	return "words, in quotes"
}

// allowed lists a choice's words.
func (c choice[T]) allowed() string { return strings.Join(words(c.of), ", ") }

// about says what each key is. Where a key is of one way of gating, that comes first.
var about = map[string]string{
	"title": "what the drive is called",

	"supply.voltage":              "of the source, direct",
	"supply.resistance":           "of the source; 0 if not given",
	"supply.capacitance":          "of the link, behind the source's resistance; without it the link is stiff",
	"supply.start_voltage":        "of the link's capacitor at the start; the source's if not given",
	"supply.accepts":              "whether the source takes current back; true if not given",
	"supply.charge_limit":         "the most current that it takes back",
	"supply.capacitor_resistance": "in series with the link's capacitor",

	"gating.pattern":         "what the gates do",
	"gating.follow":          "what commands them: a clock, the rotor's position sensors (six-step), or a control of the currents id and iq",
	"gating.frequency":       "clock: of the fundamental",
	"gating.modulation":      "clock: peak of a pole's fundamental over half the supply, 0 to 4/pi",
	"gating.phase":           "clock: angle of the voltage vector at the start",
	"gating.carrier":         "of the patterns that have one",
	"gating.carrier_ratio":   "clock: carrier periods in a turn, in place of carrier",
	"gating.sampling":        "when the references are read",
	"gating.dead_time":       "by which each turn-on is late",
	"gating.duty":            "pulsed-low: part of the carrier period that the lower switches are on",
	"gating.gates":           "by-hand: the switches that are on",
	"gating.advance":         "rotor: of the voltage vector ahead of the q axis, electrical",
	"gating.chop":            "rotor: duty of the switch that is chopped by the carrier, 0 to 1",
	"gating.chop_side":       "rotor: which of the two switches is chopped",
	"gating.id":              "current: along the magnet, peak; negative weakens it",
	"gating.iq":              "current: across the magnet, peak; it makes the torque",
	"gating.bandwidth":       "current: of the control; a twentieth of the carrier if not given",
	"gating.speed_command":   "current: a speed to hold, by a loop that commands iq",
	"gating.speed_bandwidth": "current: of that loop",
	"gating.current_limit":   "current: the most iq that it commands",
	"gating.ramp":            "clock: how fast the frequency may rise, the modulation with it",
	"gating.boost":           "clock, with ramp: modulation at standstill",

	"machine.kind":         "a machine with magnets, or coils alone",
	"machine.connection":   "of the windings; star if not given",
	"machine.pole_pairs":   "half the number of poles",
	"machine.resistance":   "of a winding; in a star half of what lies between two leads",
	"machine.inductance":   "of a winding, where it is the same on both axes",
	"machine.inductance_d": "of a winding, along the magnet; in a star half of the least between two leads",
	"machine.inductance_q": "of a winding, across the magnet; in a star half of the most between two leads",
	"machine.flux_linkage": "of a winding by the magnet, peak; \"sextant nameplate\" makes it of an EMF or torque constant",
	"machine.emf":          "its shape; sine if not given",

	"shaft.free":             "whether it may change its speed; it is held if not given",
	"shaft.speed":            "that it is held at",
	"shaft.start_speed":      "free: at the start",
	"shaft.start_angle":      "of the magnet at the start, electrical, from the axis of U",
	"shaft.inertia":          "free: of rotor and load",
	"shaft.load_torque":      "free: against forward turning, whichever way it turns",
	"shaft.friction":         "free: that grows with speed",
	"shaft.coulomb_friction": "free: dry, and holding at rest",
	"shaft.quadratic_load":   "free: of fans and pumps, that grows with the square of the speed",

	"switches.use":                "the device's name or file; without it the drops below, and without those ideal switches",
	"switches.temperature":        "of all junctions, whatever their heat",
	"switches.sink":               "of the heat sink, above which their heat warms the junctions",
	"switches.channel_threshold":  "drop of a switch at no current",
	"switches.channel_resistance": "of a switch beyond that",
	"switches.diode_threshold":    "drop of a diode at no current",
	"switches.diode_resistance":   "of a diode beyond that",
	"switches.both_ways":          "whether a gated switch conducts in reverse, as a MOSFET does",

	"run.settle":           "run before anything is measured",
	"run.measure":          "the window that the summary is of; best some whole turns of the field",
	"run.initial_currents": "of U, V and W at the start, that sum to none",
}
