package main

import (
	"fmt"
	"strings"

	"sextant/inverter/loss"
	"sextant/inverter/si"
)

// A junctionLimit is a temperature that junctions keep to, as a flag has it: junction=150C.
type junctionLimit struct {
	set     bool
	celsius float64
}

func (j *junctionLimit) Set(text string) error {
	name, value, ok := strings.Cut(text, "=")
	if !ok || strings.TrimSpace(name) != "junction" {
		return fmt.Errorf("%q is not a limit; give junction=150C", text)
	}
	x, err := si.Temperature.Parse(value)
	if err == nil {
		*j = junctionLimit{true, x}
	}
	return err
}

func (j *junctionLimit) String() string {
	if !j.set {
		return ""
	}
	return "junction=" + si.Temperature.Text(j.celsius)
}

func (j *junctionLimit) Type() string { return "limit" }

// limitReport is what a device can do within a limit; nothing bounds what is null.
type limitReport struct {
	Junction float64  `json:"junction_c"`
	Current  *float64 `json:"current_a"`
	Carrier  *float64 `json:"carrier_hz"`
	Notices  []string `json:"notices"`
}

// find returns what each device can do within the limit; nil without one.
func (j *junctionLimit) find(l *losses) ([]limitReport, error) {
	if !j.set {
		return nil, nil
	}
	reports := make([]limitReport, len(l.devices))
	for i := range l.devices {
		d := &l.devices[i].device
		r := limitReport{Junction: j.celsius, Notices: []string{}}
		current, bounded, err := loss.GreatestCurrent(d, l.point, j.celsius)
		if err != nil {
			return nil, err
		}
		if bounded {
			r.Current = &current
			if current > d.Current {
				r.Notices = append(r.Notices, fmt.Sprintf("the junctions would bear %.4g A, but the device is rated %s: what it may switch off, and its bonds and terminals, end there", current, si.Current.Text(d.Current)))
			}
		}
		if j.celsius > d.Heat.Limit {
			r.Notices = append(r.Notices, fmt.Sprintf("%g C is above the junction's own limit of %g C", j.celsius, d.Heat.Limit))
		}
		if l.point.Pattern.NeedsCarrier() {
			carrier, bounded, err := loss.GreatestCarrier(d, l.point, j.celsius)
			if err != nil {
				return nil, err
			}
			if bounded {
				r.Carrier = &carrier
			}
		}
		reports[i] = r
	}
	return reports, nil
}
