package drive

import (
	"sextant/inverter/file"
	"sextant/motor"
)

// LoadMachine reads a machine's file, a [machine] section and perhaps a title. An error is [Findings].
func LoadMachine(name string, data []byte) (motor.Machine, error) {
	r := reader{places: map[string]place{"machine": {name, 1}}, bad: map[string]bool{}}
	s := blank()
	r.machine(name, data, &s.Machine)
	for _, p := range append(r.missing(&s), s.problems()...) {
		if sectionOf(p.key) == "machine" && !r.moot(p.key) {
			r.report(r.locate(name, p.key), p.key, p.err)
		}
	}
	if len(r.findings) > 0 {
		return motor.Machine{}, r.findings.Sorted()
	}
	return s.Machine, nil
}

// Check reads data as what it is, a scenario, or a machine where it has a [machine] and nothing to run it
// by, and returns its title. An error is [Findings].
func Check(name string, data []byte) (title string, err error) {
	d, wrong := file.Parse(name, data)
	if wrong != nil {
		return "", Findings{wrong}
	}
	if _, ok := d.Values["machine"]; ok && d.Values["supply"] == nil && d.Values["gating"] == nil && d.Values["run"] == nil {
		_, err = LoadMachine(name, data)
	} else {
		_, err = Load(name, data)
	}
	title, _ = d.Values["title"].(string)
	return title, err
}
