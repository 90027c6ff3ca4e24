package capture

import (
	"errors"
	"fmt"
	"strings"

	"sextant/inverter"
)

// Options is what a file does not say itself.
type Options struct {
	Rate float64 // samples a second, for files without time; 0 is none
	Unit float64 // A that a recorded 1 stands for, whatever the header says; 0 leaves it to the header
	// Phases holds the heads of the columns of U, V and W, where they are not to be had from the heads
	// themselves; an empty one was not recorded.
	Phases [3]string
	Clamp  float64 // V that the clamps make of an ampere, where columns hold volts; 0 where they hold currents
}

// Columns reads the heads of the columns of U, V and W, parted by commas; one of three may be left out, or "-".
func Columns(text string) (heads [3]string, err error) {
	parts := strings.Split(text, ",")
	given := 0
	for i, part := range parts {
		if i >= len(heads) {
			break
		}
		if part = strings.TrimSpace(part); part != "-" && part != "" {
			heads[i] = part
			given++
		}
	}
	if len(parts) > len(heads) || given < 2 {
		return heads, fmt.Errorf("%q does not name two or three columns; give the heads of those of U, V and W, like CH1,CH2,CH3, with - for one that was not recorded", text)
	}
	return heads, nil
}

// chosen reports whether the phases' columns are given.
func (o *Options) chosen() bool { return o.Phases != [3]string{} }

// phase returns the phase whose current the column with a head holds.
func (o *Options) phase(head string, t title) (inverter.Phase, bool) {
	if !o.chosen() {
		p, ok := phaseTitles[t.base]
		return p, ok
	}
	bare := strings.TrimSpace(head)
	if i := strings.LastIndexAny(bare, "(["); i > 0 {
		bare = strings.TrimSpace(bare[:i])
	}
	for _, p := range inverter.Phases {
		if want := o.Phases[p]; want != "" && (strings.EqualFold(want, strings.TrimSpace(head)) || strings.EqualFold(want, bare)) {
			return p, true
		}
	}
	return 0, false
}

// scale returns how many amperes one of a unit stands for, and whether a column in it can hold a current.
func (o *Options) scale(unit string) (amperes float64, counts bool, err error) {
	volts, isVoltage := voltageUnits[unit]
	amperes, isCurrent := currentUnits[unit]
	switch {
	case o.Unit != 0 && (o.chosen() || !isVoltage && !otherUnits[unit]):
		return 1, true, nil
	case isVoltage && o.Clamp > 0:
		return volts / o.Clamp, true, nil
	case isVoltage && o.chosen():
		return 0, false, errors.New("holds a voltage; say what the clamp makes of an ampere, like --clamp 100mV/A")
	case isCurrent && o.Clamp > 0:
		return 0, false, errors.New("holds a current; leave --clamp out")
	case unit == "" && o.Clamp > 0:
		return 1 / o.Clamp, true, nil
	case unit == "":
		return 1, true, nil
	case isCurrent:
		return amperes, true, nil
	case isVoltage, otherUnits[unit]:
		return 0, false, nil
	}
	return 0, false, fmt.Errorf("%q is not a unit of current; allowed are A, mA, uA and kA", unit)
}
