package scenario

import (
	"errors"
	"fmt"

	"sextant/inverter/device"
	"sextant/inverter/file"
	"sextant/motor/drive"
)

// device reads the file of the device that a scenario's switches use, which gives the drops.
func (r *reader) device(d file.Document, s *drive.Switches) {
	if !r.has("switches.use") || r.bad["switches.use"] {
		return
	}
	for _, key := range []string{"channel_threshold", "channel_resistance", "diode_threshold", "diode_resistance", "both_ways"} {
		if key := "switches." + key; r.has(key) {
			r.report(r.places[key], key, errors.New("is said by the device, too; leave it out, or leave use out"))
		}
	}
	switch {
	case s.Fixed && r.has("switches.sink") && !r.bad["switches.sink"]:
		r.report(r.places["switches.sink"], "switches.sink", errors.New("warms nothing where temperature holds the junctions; give one or the other"))
	case !s.Fixed && !r.has("switches.sink"):
		s.Sink = device.UsualSink
	}
	at := r.places["switches.use"]
	if s.Use == "" {
		r.report(at, "switches.use", errors.New("is empty; give the name or the file of a device"))
		return
	}
	found, data, err := device.FindFrom(d.File, s.Use)
	if err != nil {
		r.report(at, "switches.use", err)
		return
	}
	x, err := device.Load(found, data)
	var wrong file.Findings
	switch {
	case errors.As(err, &wrong):
		r.bad["switches.use"] = true
		r.findings = append(r.findings, wrong...)
		return
	case err != nil:
		r.report(at, "switches.use", fmt.Errorf("%s: %w", found, err))
		return
	}
	s.Device = &x
	*s = s.Cold()
}
