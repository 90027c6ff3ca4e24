package scenario

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"sextant/inverter/file"
	"sextant/inverter/si"
	"sextant/inverter/slip"
	"sextant/motor/drive"
)

var faultKeys = []string{"kind", "at", "time", "until", "value"}

// faultKey is a key of the fault of that index: "fault.2.at" for the third's.
func faultKey(index int, key string) string { return fmt.Sprintf("fault.%d.%s", index, key) }

// faults reads the faults, whose kind decides what the other keys are.
func (r *reader) faults(d file.Document) []drive.Fault {
	value, ok := d.Values["fault"]
	if !ok {
		return nil
	}
	list, ok := value.([]any)
	if !ok {
		r.report(place{d.File, d.Line("fault")}, "fault", errors.New("there may be many; write [[fault]]"))
		return nil
	}
	var faults []drive.Fault
	for i, value := range list {
		n := strconv.Itoa(i)
		at := func(key string) place {
			if line := d.Line("fault", n, key); line > 0 {
				return place{d.File, line}
			}
			return place{d.File, max(d.Line("fault", n), d.Line("fault"))}
		}
		table, ok := value.(map[string]any)
		if !ok {
			r.report(at(""), "fault", fmt.Errorf("%s is not a fault; write [[fault]] and its keys below", file.Called(value)))
			continue
		}
		f, problems := readFault(table)
		for _, p := range problems {
			r.report(at(p.Key), faultKey(i, p.Key), p.Err)
		}
		for _, key := range faultKeys {
			r.places[faultKey(i, key)] = at(key)
		}
		faults = append(faults, f)
	}
	return faults
}

// readFault reads one fault; the keys of its problems are its own.
func readFault(table map[string]any) (f drive.Fault, problems []*drive.KeyError) {
	add := func(key string, err error) {
		if err != nil {
			problems = append(problems, &drive.KeyError{Key: key, Err: err})
		}
	}
	for _, key := range slices.Sorted(maps.Keys(table)) {
		if !slices.Contains(faultKeys, key) {
			add(key, fmt.Errorf("no such key%s; allowed: %s", slip.Meant(key, faultKeys), strings.Join(faultKeys, ", ")))
		}
	}
	kind, ok := table["kind"]
	if !ok {
		add("kind", fmt.Errorf("is missing; allowed: %s", strings.Join(words(drive.FaultKinds()), ", ")))
		return f, problems
	}
	if err := (choice[drive.FaultKind]{&f.Kind, "fault", drive.FaultKinds()}).read(kind); err != nil {
		add("kind", err)
		return f, problems
	}
	at, ok := table["at"].(string)
	switch {
	case !ok && table["at"] != nil:
		add("at", fmt.Errorf("%s is neither a phase, like \"U\", nor a switch, like \"U+\"", file.Called(table["at"])))
	case f.Kind.OfSwitch():
		add("at", f.Switch.UnmarshalText([]byte(at)))
	case f.Kind.OfPhase():
		add("at", f.Phase.UnmarshalText([]byte(at)))
	case ok:
		add("at", fmt.Errorf("%v is of the whole drive; leave it out", f.Kind))
	}
	if value, ok := table["time"]; ok {
		add("time", quantity{&f.Time, si.Time}.read(value))
	}
	if value, ok := table["until"]; ok {
		add("until", quantity{&f.Until, si.Time}.read(value))
	}
	value, ok := table["value"]
	switch {
	case ok && !f.Kind.TakesValue():
		add("value", fmt.Errorf("%v takes no value; leave it out", f.Kind))
	case ok:
		add("value", quantity{&f.Value, f.Kind.Dimension()}.read(value))
	case f.Kind.TakesValue():
		add("value", fmt.Errorf("is missing; %v takes one", f.Kind))
	}
	return f, problems
}
