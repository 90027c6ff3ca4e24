package device

import (
	"errors"
	"fmt"

	"sextant/inverter/si"
)

// drop reads a forward characteristic: straight lines, or a curve file that reaches the rated current.
func (r *reader) drop(section string, mosfet bool, rated float64) Drop {
	values, ok := r.section(section)
	if !ok {
		return Drop{}
	}
	if name, ok := values["curve"]; ok {
		if r.curveOnly(section, values, "temperature", "threshold", "resistance") && r.keys(section, values, nil, "curve") {
			return r.dropCurves(section, name, mosfet, rated)
		}
		return Drop{}
	}
	var temperature, threshold, resistance []float64
	need := si.Voltage.Advice() + ", for each temperature; or curve"
	if mosfet {
		need = ""
	}
	if !r.keys(section, values, []key{
		{"temperature", `the temperatures of the data, like ["25 C", "150 C"]; or curve`, ascending(&temperature)},
		{"threshold", need, numbers(&threshold, si.Voltage, 0, 0)},
		{"resistance", si.Resistance.Advice() + ", for each temperature; or curve", numbers(&resistance, si.Resistance, 0, 0)},
	}, "curve") {
		return Drop{}
	}
	if threshold == nil {
		threshold = make([]float64, len(temperature))
	}
	if !r.sameLength(section, len(temperature), map[string]int{"threshold": len(threshold), "resistance": len(resistance)}) {
		return Drop{}
	}
	for _, v := range threshold {
		if mosfet && v != 0 {
			r.report(section, "threshold", errors.New("a MOSFET's channel has none; give 0 or leave it out"))
			return Drop{}
		}
	}
	return NewDrop(temperature, threshold, resistance)
}

// curveOnly reports keys of a section that say again what its curve says.
func (r *reader) curveOnly(section string, values map[string]any, keys ...string) bool {
	ok := true
	for _, k := range keys {
		if _, given := values[k]; given {
			r.report(section, k, errors.New("the curve says that; give one or the other"))
			ok = false
		}
	}
	return ok
}

// sameLength reports lists that are not as long as the list of temperatures.
func (r *reader) sameLength(section string, n int, lengths map[string]int) bool {
	ok := true
	for _, name := range []string{"threshold", "resistance", "turn_on", "turn_off", "recovery"} {
		if have, given := lengths[name]; given && have != n {
			r.report(section, name, fmt.Errorf("is a list of %d, but there are %d temperatures; give one for each", have, n))
			ok = false
		}
	}
	return ok
}

// switching reads the energies: references with exponents, or a curve file that reaches the rated current.
func (r *reader) switching(rated float64) Switching {
	var s Switching
	const section = "energy"
	values, ok := r.section(section)
	if !ok {
		return s
	}
	const three = "turn-on, turn-off and recovery"
	volts := []key{
		{"voltage", "the voltage of the data: " + si.Voltage.Advice(), positive(&s.Voltage, si.Voltage)},
		{"voltage_exponent", "exponents of voltage for " + three + ", like [1.3, 1.3, 0.6]", exponents(&s.VoltageExponent)},
	}
	if name, ok := values["curve"]; ok {
		if r.curveOnly(section, values, "temperature", "current", "current_exponent", "turn_on", "turn_off", "recovery") && r.keys(section, values, volts, "curve") {
			r.energyCurves(&s, name, rated)
		}
		return s
	}
	each := si.Energy.Advice() + ", for each temperature; or curve"
	keys := append(volts,
		key{"current", "the current of the data: " + si.Current.Advice(), positive(&s.Current, si.Current)},
		key{"current_exponent", "exponents of current for " + three + ", like [1.0, 1.0, 0.6]", exponents(&s.CurrentExponent)},
		key{"temperature", `the temperatures of the data, like ["25 C", "150 C"]`, ascending(&s.at)},
	)
	for _, e := range Events {
		keys = append(keys, key{e.String(), each, numbers(&s.energy[e], si.Energy, 0, 0)})
	}
	if r.keys(section, values, keys, "curve") {
		r.sameLength(section, len(s.at), map[string]int{
			TurnOn.String(): len(s.energy[TurnOn]), TurnOff.String(): len(s.energy[TurnOff]), Recovery.String(): len(s.energy[Recovery]),
		})
	}
	return s
}
