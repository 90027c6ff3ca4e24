package device

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"sextant/inverter/file"
	"sextant/inverter/heat"
	"sextant/inverter/si"
	"sextant/inverter/slip"
)

// A Finder returns the curve file that name means in device file from, and what it holds.
type Finder func(from, name string) (found string, data []byte, err error)

// Load reads a device from TOML. An error is [file.Findings]: all that is wrong with the file and with the
// curves that it names, each with its line. Curves are looked for with [FindCurve].
func Load(name string, data []byte) (Device, error) { return LoadWith(name, data, FindCurve) }

// LoadWith is [Load] with another way to find the curves.
func LoadWith(name string, data []byte, find Finder) (Device, error) {
	d, wrong := file.Parse(name, data)
	if wrong != nil {
		return Device{}, file.Findings{wrong}
	}
	r := reader{doc: d, find: find}
	x := r.device()
	if len(r.findings) > 0 {
		return Device{}, r.findings.Sorted()
	}
	return x, nil
}

// A reader gathers what a device's files say, and what is wrong with them.
type reader struct {
	doc      file.Document
	find     Finder
	findings file.Findings
}

// A key is one of a section: where its value goes, and what to give where it is missing; nothing if it may be.
type key struct {
	name string
	need string
	read func(any) error
}

// report adds a finding about a key of a section; a section is itself a key of section "".
func (r *reader) report(section, key string, err error) {
	f := &file.Finding{File: r.doc.File, Key: key, Err: err, Line: r.doc.Line(key)}
	if section != "" {
		f.Key, f.Line = section+"."+key, r.doc.Line(section, key)
		if f.Line == 0 {
			f.Line = r.doc.Line(section)
		}
	}
	f.Line = max(f.Line, 1)
	r.findings = append(r.findings, f)
}

// section returns the table of a section; false where there is none, which is a finding.
func (r *reader) section(name string) (map[string]any, bool) {
	value, ok := r.doc.Values[name]
	if !ok {
		r.report("", name, fmt.Errorf("section [%s] is missing", name))
		return nil, false
	}
	values, ok := value.(map[string]any)
	if !ok {
		r.report("", name, fmt.Errorf("is a section; write [%s] on a line of its own, once", name))
	}
	return values, ok
}

// keys reads the keys of a section, and reports those that it does not have and those that it lacks. It
// returns whether all is well.
func (r *reader) keys(section string, values map[string]any, keys []key, others ...string) bool {
	before := len(r.findings)
	known := make([]string, 0, len(keys)+len(others))
	for _, k := range keys {
		known = append(known, k.name)
	}
	known = append(known, others...)
	meant := map[string]bool{}
	for _, k := range slices.Sorted(maps.Keys(values)) {
		if slices.Contains(known, k) {
			continue
		}
		meant[slip.Nearest(k, known)] = true
		r.report(section, k, fmt.Errorf("no such key%s; allowed: %s", slip.Meant(k, known), strings.Join(known, ", ")))
	}
	for _, k := range keys {
		value, ok := values[k.name]
		switch {
		case ok:
			if err := k.read(value); err != nil {
				r.report(section, k.name, err)
			}
		case k.need != "" && !meant[k.name]:
			r.report(section, k.name, errors.New("is missing; give "+k.need))
		}
	}
	return len(r.findings) == before
}

// device reads the whole of a device.
func (r *reader) device() Device {
	d := Device{Heat: Heat{Limit: math.Inf(1)}}
	r.keys("", r.doc.Values, []key{
		{"name", "what the device is, in quotes", func(v any) (err error) { d.Name, err = file.Prose(v); return }},
		{"technology", "one of " + strings.Join(technologyWords, ", "), func(v any) error {
			if v == "sic-igbt" {
				return errors.New("silicon-carbide switches for traction are MOSFETs, whatever they are called; give sic-mosfet")
			}
			i, err := file.Word(v, "technology", technologyWords)
			d.Technology = Technology(max(i, 0))
			return err
		}},
		{"voltage", si.Voltage.Advice(), positive(&d.Voltage, si.Voltage)},
		{"current", si.Current.Advice(), positive(&d.Current, si.Current)},
		{"price", "", func(v any) error {
			err := positive(&d.Price, si.Number)(v)
			if err != nil {
				err = fmt.Errorf("%w; leave it out where it is not known", err)
			}
			return err
		}},
	}, "channel", "diode", "energy", "heat")
	d.Channel = r.drop("channel", d.Technology.BothWays(), d.Current)
	d.Diode = r.drop("diode", false, d.Current)
	d.Switching = r.switching(d.Current)
	d.Heat = r.heat(d.Technology.BothWays())
	return d
}

// heat reads the section of that name.
func (r *reader) heat(mosfet bool) Heat {
	h := Heat{Limit: math.Inf(1)}
	values, ok := r.section("heat")
	if !ok {
		return h
	}
	const pair = "{ resistance = 0.06, time = 0.05 }"
	diode := "a list of pairs like " + pair
	if mosfet { // whose diode may be of the same chip
		diode = ""
	}
	r.keys("heat", values, []key{
		{"switch_to_case", "a list of pairs like " + pair, chain(&h.Switch)},
		{"diode_to_case", diode, chain(&h.Diode)},
		{"case_to_sink", "a pair like " + pair, func(v any) error {
			p, err := thermalPair(v)
			h.Case = heat.Chain{p}
			return err
		}},
		{"junction_limit", "", func(v any) error {
			x, err := file.Quantity(v, si.Temperature)
			if err == nil {
				h.Limit = x
			}
			return err
		}},
	})
	return h
}

// chain returns a reader of a list of pairs.
func chain(at *heat.Chain) func(any) error {
	return func(value any) error {
		list, ok := value.([]any)
		if !ok || len(list) == 0 {
			return fmt.Errorf("%s is not a list of pairs; give [{ resistance = 0.06, time = 0.05 }]", file.Called(value))
		}
		*at = nil
		for i, v := range list {
			p, err := thermalPair(v)
			if err != nil {
				return fmt.Errorf("pair %d: %w", i+1, err)
			}
			*at = append(*at, p)
		}
		return nil
	}
}

// thermalPair reads a table of a thermal resistance and a time.
func thermalPair(value any) (p heat.Pair, err error) {
	values, ok := value.(map[string]any)
	if !ok {
		return p, fmt.Errorf("%s is not a pair; give { resistance = 0.06, time = 0.05 }", file.Called(value))
	}
	for _, k := range slices.Sorted(maps.Keys(values)) {
		switch k {
		case "resistance":
			err = positive(&p.Resistance, si.ThermalResistance)(values[k])
		case "time":
			err = positive(&p.Time, si.Time)(values[k])
		default:
			err = fmt.Errorf("no such key%s; allowed: resistance, time", slip.Meant(k, []string{"resistance", "time"}))
		}
		if err != nil {
			return p, fmt.Errorf("%s: %w", k, err)
		}
	}
	if p.Resistance == 0 || p.Time == 0 {
		return p, errors.New("a pair has both a resistance, in K/W, and a time, in s")
	}
	return p, nil
}
