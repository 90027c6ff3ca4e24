package scenario

import (
	"strings"

	"sextant/inverter/si"
)

// byNameplate ends what is said of a figure that nameplates have in another form.
const byNameplate = `"sextant nameplate" converts what nameplates and meters say`

// inTrade holds, by words of nameplates and data sheets in lower case, what a file has for them. They are asked
// first: a slip of the hand is a worse guess, such as resistance for what lies between two leads.
var inTrade = func() map[string]string {
	all := map[string]string{}
	add := func(says string, words ...string) {
		for _, w := range words {
			all[w] = says
		}
	}
	add("give pole_pairs, half the number of poles", "poles", "pole_number", "number_of_poles", "pole_count")
	add("give resistance, of a phase: half of what lies between two leads; "+byNameplate, "r", "rs", "r_ll", "rll", "resistance_ll", "resistance_line", "line_resistance", "phase_resistance", "terminal_resistance", "winding_resistance", "stator_resistance")
	add("give inductance_d and inductance_q, of a phase: half of what lies between two leads; "+byNameplate, "l", "ls", "l_ll", "lll", "ld", "lq", "inductance_ll", "inductance_line", "line_inductance", "phase_inductance", "terminal_inductance", "stator_inductance")
	add("give flux_linkage, peak of a phase; "+byNameplate, "ke", "k_e", "kv", "kt", "k_t", "emf_constant", "voltage_constant", "back_emf", "bemf", "back_emf_constant", "torque_constant", "flux", "psi", "lambda")
	return all
}()

// sectionsInTrade holds the section that other words for it mean.
var sectionsInTrade = map[string]string{
	"motor": "machine", "engine": "machine", "battery": "supply", "link": "supply", "dc_link": "supply", "inverter": "switches", "devices": "switches",
	"modulation": "gating", "control": "gating", "pwm": "gating", "load": "shaft", "mechanics": "shaft", "simulation": "run",
}

// sheetWord returns what to give for a key of a section that is a word of the trade's; it is empty where it is none.
func sheetWord(sec, key string) string {
	key = strings.ReplaceAll(strings.ToLower(key), "-", "_")
	switch sec {
	case "machine":
		return inTrade[key]
	case "":
		if section := sectionsInTrade[key]; section != "" {
			return "give [" + section + "]"
		}
	}
	return ""
}

// conversion returns how to convert a value that nameplates have in another form, to end what is said of it; it is
// empty where there is nothing to say.
func conversion(d si.Dimension, value any) string {
	text, _ := value.(string)
	text = strings.ToLower(text)
	switch {
	case d == si.Flux && strings.Contains(text, "/"):
		return "; " + byNameplate
	case d == si.Voltage && (strings.Contains(text, "rms") || strings.Contains(text, "ac") || strings.Contains(text, "eff")):
		return "; the link's is direct: of a rectified three-phase supply 1.35 times the rms between two leads"
	case d == si.Current && (strings.Contains(text, "rms") || strings.Contains(text, "eff")):
		return "; here it is the peak, 1.414 times the rms"
	}
	return ""
}
