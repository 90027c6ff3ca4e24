package duty

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"sextant/inverter/device"
	"sextant/inverter/file"
	"sextant/inverter/pattern"
	"sextant/inverter/si"
	"sextant/inverter/slip"
)

// A Setup is what a vehicle's file says.
type Setup struct {
	File    string
	Title   string
	Vehicle Vehicle
	Battery Battery
	Drive   Drive
}

// A Drive is the machine and the bridge that a vehicle has, as far as its file says; what it leaves out is
// zero.
type Drive struct {
	Machine  string   // a machine's name or file
	Devices  []string // names or files, to be compared
	Supply   float64  // V
	Current  float64  // greatest peak of a phase's current, A
	Pattern  pattern.Kind
	Carrier  float64 // Hz
	DeadTime float64 // s
	Drag     float64 // N m, and
	Slope    float64 // N m s/rad, as of [pair.Pair]
	Sink     float64 // °C
}

// Default returns what a [Drive] is where nothing is said about it: space-vector, 2 µs of dead time, a sink at
// [device.UsualSink].
func Default() Drive {
	return Drive{Pattern: pattern.SpaceVector, DeadTime: 2e-6, Sink: device.UsualSink}
}

// A key is one of a section of a vehicle's file.
type key struct {
	section, name string
	read          func(any) error
	need          string // what to give where it is missing; empty where it may be
}

// keys lists all keys of a vehicle's file as places in s.
func keys(s *Setup) []key {
	v, b, d := &s.Vehicle, &s.Battery, &s.Drive
	return []key{
		{"vehicle", "mass", positive(&v.Mass, si.Mass), si.Mass.Advice()},
		{"vehicle", "rotating_mass", ranged(&v.RotatingMass, si.Mass, 0, 1e6), ""},
		{"vehicle", "rolling", ranged(&v.Rolling, si.Number, 0, 1), "the coefficient of rolling resistance, like 0.015"},
		{"vehicle", "drag_area", ranged(&v.DragArea, si.Area, 0, 1e3), si.Area.Advice()},
		{"vehicle", "air_density", ranged(&v.AirDensity, si.Density, 0, 10), ""},
		{"vehicle", "wheel_radius", positive(&v.WheelRadius, si.Length), si.Length.Advice()},
		{"vehicle", "gear", positive(&v.Gear, si.Number), "turns of the machine in one of the wheel, like 12"},
		{"vehicle", "efficiency", ranged(&v.Efficiency, si.Number, 0.01, 1), ""},
		{"battery", "capacity", positive(&b.Capacity, si.Energy), si.Energy.Advice()},
		{"battery", "charge", ranged(&b.Charge, si.Number, 0, 1), `how full it is at the start, like "90 %"`},
		{"battery", "charge_limit", positive(&b.ChargeLimit, si.Power), ""},
		{"drive", "machine", func(v any) (err error) { d.Machine, err = file.Prose(v); return }, ""},
		{"drive", "devices", list(&d.Devices), ""},
		{"drive", "supply", positive(&d.Supply, si.Voltage), ""},
		{"drive", "current", positive(&d.Current, si.Current), ""},
		{"drive", "pattern", func(v any) error {
			text, err := file.Prose(v)
			if err == nil {
				err = d.Pattern.UnmarshalText([]byte(text))
			}
			return err
		}, ""},
		{"drive", "carrier", positive(&d.Carrier, si.Frequency), ""},
		{"drive", "dead_time", ranged(&d.DeadTime, si.Time, 0, 1), ""},
		{"drive", "drag", ranged(&d.Drag, si.Torque, 0, 1e6), ""},
		{"drive", "drag_slope", ranged(&d.Slope, si.Friction, 0, 1e6), ""},
		{"drive", "sink", ranged(&d.Sink, si.Temperature, -100, 200), ""},
	}
}

// positive returns a reader of a quantity above zero.
func positive(at *float64, of si.Dimension) func(any) error {
	return func(value any) error {
		x, err := file.Quantity(value, of)
		if err == nil && !(x > 0 && x <= 1e12) {
			err = fmt.Errorf("%s is out of range; give more than 0", of.Text(x))
		}
		if err == nil {
			*at = x
		}
		return err
	}
}

// ranged returns a reader of a quantity from least to most.
func ranged(at *float64, of si.Dimension, least, most float64) func(any) error {
	return func(value any) error {
		x, err := file.Quantity(value, of)
		if err == nil && !(x >= least && x <= most) {
			err = fmt.Errorf("%s is out of range; give %s to %s", of.Text(x), of.Text(least), of.Text(most))
		}
		if err == nil {
			*at = x
		}
		return err
	}
}

// list returns a reader of a list of words.
func list(at *[]string) func(any) error {
	return func(value any) error {
		words, ok := value.([]any)
		if !ok || len(words) == 0 {
			return fmt.Errorf(`%s is not a list of devices; give one like ["igbt-750", "sic-750"]`, file.Called(value))
		}
		for _, w := range words {
			text, err := file.Prose(w)
			if err != nil {
				return err
			}
			*at = append(*at, text)
		}
		return nil
	}
}

// LoadVehicle reads a vehicle's file. An error is [file.Findings], each with its line.
func LoadVehicle(name string, data []byte) (Setup, error) {
	s := Setup{File: name, Vehicle: Vehicle{AirDensity: 1.2, Efficiency: 1}, Drive: Default()}
	doc, wrong := file.Parse(name, data)
	if wrong != nil {
		return Setup{}, file.Findings{wrong}
	}
	r := setupReader{doc: doc}
	r.sections(keys(&s))
	if value, ok := doc.Values["title"]; ok {
		var err error
		if s.Title, err = file.Prose(value); err != nil {
			r.report(err, "title")
		}
	}
	if len(r.findings) > 0 {
		return Setup{}, r.findings.Sorted()
	}
	return s, nil
}

// IsVehicle reports whether d is of a vehicle.
func IsVehicle(d file.Document) bool { return d.Values["vehicle"] != nil }

// setupReader gathers what is wrong with a vehicle's file.
type setupReader struct {
	doc      file.Document
	findings file.Findings
}

// report adds a finding about a key, a section of which is two words, at its line or that of its section.
func (r *setupReader) report(err error, where ...string) {
	line := r.doc.Line(where...)
	if line == 0 && len(where) > 1 {
		line = r.doc.Line(where[0])
	}
	r.findings = append(r.findings, &file.Finding{File: r.doc.File, Line: max(line, 1), Key: strings.Join(where, "."), Err: err})
}

// sections reads all keys, and reports what is unknown or missing.
func (r *setupReader) sections(keys []key) {
	names := []string{"title", "vehicle", "battery", "drive"}
	r.unknown(r.doc.Values, names)
	for _, section := range names[1:] {
		value, given := r.doc.Values[section]
		values, ok := value.(map[string]any)
		switch {
		case given && !ok:
			r.report(fmt.Errorf("is a section; write [%s] on a line of its own, once", section), section)
			continue
		case !given && section == "vehicle":
			r.report(errors.New("section [vehicle] is missing; give mass, rolling, drag_area, wheel_radius and gear in it"), section)
			continue
		case !given:
			continue
		}
		mine := slices.DeleteFunc(slices.Clone(keys), func(k key) bool { return k.section != section })
		var known []string
		for _, k := range mine {
			known = append(known, k.name)
		}
		meant := r.unknown(values, known, section)
		for _, k := range mine {
			switch value, ok := values[k.name]; {
			case ok:
				if err := k.read(value); err != nil {
					r.report(err, section, k.name)
				}
			case k.need != "" && !meant[k.name]:
				r.report(errors.New("is missing; give "+k.need), section, k.name)
			}
		}
	}
}

// unknown reports the keys that are not known, and returns those that may be meant by them.
func (r *setupReader) unknown(values map[string]any, known []string, section ...string) map[string]bool {
	meant := map[string]bool{}
	for _, k := range slices.Sorted(maps.Keys(values)) {
		if slices.Contains(known, k) {
			continue
		}
		meant[slip.Nearest(k, known)] = true
		r.report(fmt.Errorf("no such key%s; allowed: %s", slip.Meant(k, known), strings.Join(known, ", ")), append(section, k)...)
	}
	return meant
}
