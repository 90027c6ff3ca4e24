// Package scenario reads the files of scenarios and of machines, finding each mistake with its line, and writes scenarios.
// What values may be is what [drive.Scenario.Problems] says.
package scenario

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"sextant/inverter/file"
	"sextant/inverter/slip"
	"sextant/motor"
	"sextant/motor/drive"
)

// Load reads a scenario from TOML. An error is [file.Findings]: all that is wrong, each with its line. A
// machine that the scenario uses by name is looked for with [FindMachine].
func Load(name string, data []byte) (drive.Scenario, error) { return load(name, data, FindMachine) }

// A finder returns the file that name means in file from, and what it holds.
type finder func(from, name string) (found string, data []byte, err error)

// load is [Load] with another way to find a machine's file.
func load(name string, data []byte, find finder) (drive.Scenario, error) {
	r := reader{find: find, places: map[string]place{}, bad: map[string]bool{}}
	s := r.scenario(name, data)
	if len(r.findings) > 0 {
		return drive.Scenario{}, r.findings.Sorted()
	}
	return s, nil
}

// place is where a key stands.
type place struct {
	file string
	line int
}

// reader gathers what a scenario's files say, and what is wrong with them.
type reader struct {
	find     finder
	findings file.Findings
	places   map[string]place // of the keys read, by dotted key
	bad      map[string]bool  // dotted keys with a finding, which need no second one
}

func (r *reader) report(at place, key string, err error) {
	r.bad[key] = true
	if sec, rest, _ := strings.Cut(key, "."); sec == "fault" {
		// The line tells which fault is meant.
		key = sec + strings.TrimLeft(rest, "0123456789")
	}
	r.findings = append(r.findings, &file.Finding{File: at.file, Line: at.line, Key: key, Err: err})
}

// scenario reads a scenario and checks it.
func (r *reader) scenario(name string, data []byte) drive.Scenario {
	s := blank()
	d, wrong := file.Parse(name, data)
	if wrong != nil {
		r.findings = append(r.findings, wrong)
		return s
	}
	sections := sections(&s)
	known := append(names(sections[0].keys), "fault")
	for _, sec := range sections[1:] {
		known = append(known, sec.name)
	}
	for _, key := range slices.Sorted(maps.Keys(d.Values)) {
		if !slices.Contains(known, key) {
			r.unknown(d, "", key, known, sections)
		}
	}
	r.table(d, sections[0], d.Values)
	for _, sec := range sections[1:] {
		value, ok := d.Values[sec.name]
		if !ok {
			continue
		}
		at := place{name, d.Line(sec.name)}
		values, ok := value.(map[string]any)
		if !ok {
			r.report(at, sec.name, fmt.Errorf("is a section; write [%s] on a line of its own, once", sec.name))
			continue
		}
		r.places[sec.name] = at
		if sec.name == "machine" {
			r.use(d, values, &s.Machine)
		}
		r.keys(d, sec, values, sections)
		if sec.name == "switches" {
			r.device(d, &s.Switches)
		}
	}
	s.Faults = r.faults(d)
	for _, p := range append(r.missing(&s), s.Problems()...) {
		if !r.moot(p.Key) {
			r.report(r.locate(name, p.Key), p.Key, p.Err)
		}
	}
	return s
}

// leansOn lists, for a key, the others whose own mistakes may be why something seems wrong with it.
var leansOn = map[string][]string{
	"gating.carrier":       {"gating.carrier_ratio"},
	"gating.carrier_ratio": {"gating.carrier", "gating.frequency"},
	"gating.dead_time":     {"gating.carrier", "gating.carrier_ratio", "gating.frequency"},
	"gating.follow":        {"gating.pattern", "machine.kind"},
}

// moot reports whether another finding already covers what is wrong with a key.
func (r *reader) moot(key string) bool {
	return r.bad[key] || r.bad[sectionOf(key)] ||
		slices.ContainsFunc(leansOn[key], func(other string) bool { return r.bad[other] })
}

// keys reads a section, and reports the keys that it does not have.
func (r *reader) keys(d file.Document, sec section, values map[string]any, all []section) {
	known := names(sec.keys)
	if sec.name == "machine" {
		known = append(known, "use")
	}
	for _, key := range slices.Sorted(maps.Keys(values)) {
		if !slices.Contains(known, key) {
			r.unknown(d, sec.name, key, known, all)
		}
	}
	r.table(d, sec, values)
}

// table reads those keys of a section that it knows.
func (r *reader) table(d file.Document, sec section, values map[string]any) {
	for _, e := range sec.keys {
		value, ok := values[e.key]
		if !ok {
			continue
		}
		at, key := place{d.File, d.Line(sec.name, e.key)}, sec.name+"."+e.key
		if sec.name == "" {
			at.line, key = d.Line(e.key), e.key
		}
		r.places[key] = at
		if err := e.slot.read(value); err != nil {
			r.report(at, key, err)
		}
	}
}

// unknown reports a key that its section does not have, with the one that may be meant.
func (r *reader) unknown(d file.Document, sec, key string, known []string, all []section) {
	at, dotted := place{d.File, d.Line(key)}, key
	if sec != "" {
		at.line, dotted = d.Line(sec, key), sec+"."+key
	}
	hint := ""
	if says := sheetWord(sec, key); says != "" {
		hint = "; " + says
	} else if w := slip.Nearest(key, known); w != "" {
		hint = slip.Meant(key, known)
		r.bad[strings.TrimPrefix(sec+"."+w, ".")] = true
	} else {
		for _, other := range all {
			if other.name != "" && slices.Contains(names(other.keys), key) {
				hint = fmt.Sprintf("; it belongs under [%s]", other.name)
				break
			}
		}
	}
	r.report(at, dotted, fmt.Errorf("no such key%s; allowed: %s", hint, strings.Join(known, ", ")))
}

// use reads the machine's file that the scenario names, before the scenario's own keys, which go over it.
func (r *reader) use(d file.Document, values map[string]any, m *motor.Machine) {
	value, ok := values["use"]
	if !ok {
		return
	}
	at := place{d.File, d.Line("machine", "use")}
	r.places["machine.use"] = at
	name, ok := value.(string)
	if !ok {
		r.report(at, "machine.use", fmt.Errorf("%s is not a machine; give a name or a file, in quotes", file.Called(value)))
		return
	}
	found, data, err := r.find(d.File, name)
	if err != nil {
		r.report(at, "machine.use", err)
		r.bad["machine"] = true
		return
	}
	r.machine(found, data, m)
}

// sectionOf returns the section of a dotted key.
func sectionOf(key string) string {
	sec, _, _ := strings.Cut(key, ".")
	return sec
}

// locate returns where a key stands, or else its section, or else the file.
func (r *reader) locate(file, key string) place {
	if at, ok := r.places[key]; ok {
		return at
	}
	if at, ok := r.places[sectionOf(key)]; ok {
		return at
	}
	return place{file, 1}
}
