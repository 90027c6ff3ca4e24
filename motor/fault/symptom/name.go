package symptom

import (
	"fmt"
	"math"
	"strings"

	"sextant/inverter/slip"
	"sextant/motor/drive"
)

// Parse reads a fault's name, a kind and, after a colon, the phase or switch that it is at: "phase-open:V",
// "switch-open:U+", "demagnetised". Without a place it is at U or U+. The fault's value is left at NaN where
// its kind takes one; [Value] has one that shows.
func Parse(name string) (drive.Fault, error) {
	word, at, placed := strings.Cut(name, ":")
	var f drive.Fault
	kinds := drive.FaultKinds()
	words := make([]string, len(kinds))
	found := false
	for i, k := range kinds {
		words[i] = k.String()
		if words[i] == word {
			f.Kind, found = k, true
		}
	}
	if !found {
		return f, fmt.Errorf("%q is not a fault%s; faults are %s", word, slip.Meant(word, words), strings.Join(words, ", "))
	}
	if f.Kind.TakesValue() {
		f.Value = math.NaN()
	}
	switch {
	case !placed:
		return f, nil
	case f.Kind.OfSwitch():
		return f, f.Switch.UnmarshalText([]byte(at))
	case f.Kind.OfPhase():
		return f, f.Phase.UnmarshalText([]byte(at))
	}
	return f, fmt.Errorf("%s is of the whole drive; leave out :%s", word, at)
}

// Place returns the switch or the phase that a fault is at, or "".
func Place(f drive.Fault) string {
	switch {
	case f.Kind.OfSwitch():
		return f.Switch.String()
	case f.Kind.OfPhase():
		return f.Phase.String()
	}
	return ""
}

// Name returns a fault as [Parse] reads it.
func Name(f drive.Fault) string {
	if at := Place(f); at != "" {
		return f.Kind.String() + ":" + at
	}
	return f.Kind.String()
}

// Value returns how severe a fault of a kind is taken to be where nobody says: a joint that drops a tenth of
// the supply at the greatest current of the healthy drive, peak in A; a third of the capacitance; a current
// sensor that is off by a fifth of that current, or tells 0.7 of what flows; a position that is 30 electrical
// degrees ahead, or a sensor stuck low; a supply or a magnet with 0.7 of its strength; a tenth of a phase's
// turns; a resistance at the capacitor that drops a twentieth of the supply at that current.
func Value(k drive.FaultKind, s *drive.Scenario, peak float64) float64 {
	switch k {
	case drive.PhaseResistance:
		if peak == 0 {
			return s.Machine.Resistance
		}
		return s.Supply.Voltage / 10 / peak
	case drive.SupplySag:
		return 0.7 * s.Supply.Voltage
	case drive.CapacitorAged:
		return 1. / 3
	case drive.PositionSensorOffset:
		return math.Pi / 6
	case drive.CurrentSensorOffset:
		return peak / 5
	case drive.CurrentSensorGain, drive.Demagnetised:
		return 0.7
	case drive.TurnsShorted:
		return 0.1
	case drive.CapacitorResistance:
		if peak == 0 {
			return s.Supply.Resistance
		}
		return s.Supply.Voltage / 20 / peak
	}
	return 0
}
