package scenario

import (
	"errors"
	"maps"
	"slices"

	"sextant/inverter/file"
	"sextant/motor"
)

// OpenMachine reads the machine that name means, a built-in one or a file, and its title. An error is
// [file.Findings].
func OpenMachine(name string) (title string, m motor.Machine, err error) {
	found, data, err := machineShelf.Find(name)
	if err != nil {
		return "", m, err
	}
	return LoadMachine(found, data)
}

// LoadMachine reads a machine from a file with nothing but a title and a section [machine]. An error is
// [file.Findings].
func LoadMachine(name string, data []byte) (title string, m motor.Machine, err error) {
	r := reader{places: map[string]place{}, bad: map[string]bool{}}
	s := blank()
	title = r.machine(name, data, &s.Machine)
	if r.has("machine") {
		for _, p := range append(r.missing(&s), s.Problems()...) {
			if sectionOf(p.Key) == "machine" && !r.moot(p.Key) {
				r.report(r.locate(name, p.Key), p.Key, p.Err)
			}
		}
	}
	if len(r.findings) > 0 {
		return "", motor.Machine{}, r.findings.Sorted()
	}
	return title, s.Machine, nil
}

// machine reads a machine's file, and returns its title.
func (r *reader) machine(name string, data []byte, m *motor.Machine) (title string) {
	d, wrong := file.Parse(name, data)
	if wrong != nil {
		r.findings = append(r.findings, wrong)
		r.bad["machine"] = true
		return ""
	}
	sec := section{"machine", machineEntries(m)}
	table, ok := d.Values["machine"].(map[string]any)
	if !ok {
		r.report(place{name, 1}, "machine", errors.New("a machine's file has a section [machine]"))
		return ""
	}
	if !r.has("machine") {
		r.places["machine"] = place{name, d.Line("machine")}
	}
	for _, key := range slices.Sorted(maps.Keys(d.Values)) {
		if key != "machine" && key != "title" {
			r.unknown(d, "", key, []string{"title", "machine"}, nil)
		}
	}
	for _, key := range slices.Sorted(maps.Keys(table)) {
		if known := names(sec.keys); !slices.Contains(known, key) {
			r.unknown(d, "machine", key, known, nil)
		}
	}
	r.table(d, sec, table)
	if value, ok := d.Values["title"]; ok {
		if title, err := file.Prose(value); err != nil {
			r.report(place{name, d.Line("title")}, "title", err)
		} else {
			return title
		}
	}
	return ""
}

// Check reads data as what it is, a scenario, or a machine where it has a [machine] and nothing to run it
// by, and returns its title and what is hard to believe of it. An error is [file.Findings].
func Check(name string, data []byte) (title string, doubts []string, err error) {
	d, wrong := file.Parse(name, data)
	if wrong != nil {
		return "", nil, file.Findings{wrong}
	}
	if IsMachine(d) {
		title, m, err := LoadMachine(name, data)
		return title, MachineDoubts(m), err
	}
	s, err := Load(name, data)
	if err != nil {
		return "", nil, err
	}
	return s.Title, Doubts(s), nil
}

// IsMachine reports whether d is of a machine: it has one, and nothing to run it by.
func IsMachine(d file.Document) bool {
	_, ok := d.Values["machine"]
	return ok && d.Values["supply"] == nil && d.Values["gating"] == nil && d.Values["run"] == nil
}
