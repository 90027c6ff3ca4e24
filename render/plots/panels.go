package plots

import (
	"errors"

	"sextant/inverter"
	"sextant/motor"
	"sextant/motor/drive"
)

var errNoNumber = errors.New("the run went out of the range of numbers")

// A panel is an axis of values with the curves that share it.
type panel struct {
	caption string // empty for a panel that goes on with what the one above says
	unit    string
	weight  float64 // of its height
	zero    bool    // the axis includes zero
	strip   bool    // low, with marks at zero and near its ends only, and one scale for all strips
	curves  []line
	mean    func(*drive.Summary) float64 // nil for none
}

// A line is a curve with how it is told from others. A line of no phase is drawn in the colour of text.
type line struct {
	curve
	name    string // written at its end
	phase   inverter.Phase
	ofPhase bool
	rank    int  // from 1, of what is compared; 0 for none
	pale    bool // to let what is drawn over it be seen
}

// panelsOf returns the panels that tell about s, from the top.
func panelsOf(s *drive.Scenario) []panel {
	var ps []panel
	for _, k := range inverter.Phases {
		p := panel{unit: "V", weight: 0.55, zero: true, strip: true, curves: []line{ofPhase(k, func(i *drive.Instant) float64 { return i.Phase[k] })}}
		if k == inverter.U {
			p.caption = "Phase voltages, terminal to star point"
		}
		ps = append(ps, p)
	}
	currents := panel{caption: "Phase currents, into the machine", unit: "A", weight: 1.5, zero: true}
	for _, k := range inverter.Phases {
		currents.curves = append(currents.curves, ofPhase(k, func(i *drive.Instant) float64 { return i.Current[k] }))
	}
	ps = append(ps, currents)
	if s.Machine.Kind != motor.Passive {
		ps = append(ps, panel{
			caption: "Torque", unit: "N m", weight: 1, zero: true,
			curves: []line{{curve: curve{value: func(i *drive.Instant) float64 { return i.Torque }}, pale: true}},
			mean:   func(s *drive.Summary) float64 { return s.Machine.TorqueMean },
		})
	}
	if s.Shaft.Free {
		ps = append(ps, panel{
			caption: "Speed", unit: "rpm", weight: 0.8,
			curves: []line{plain("", func(i *drive.Instant) float64 { return i.RPM() })},
		})
	}
	link := panel{
		caption: "Link current, into the bridge", unit: "A", weight: 1, zero: true,
		curves: []line{plain("", func(i *drive.Instant) float64 { return i.LinkCurrent })},
		mean:   func(s *drive.Summary) float64 { return s.Supply.CurrentMean },
	}
	link.curves[0].pale = true
	if s.Supply.Capacitance > 0 {
		link.caption, link.mean = "Currents of the link: into the bridge, and out of the source", nil
		link.curves[0].name = "bridge"
		link.curves = append(link.curves, plain("source", func(i *drive.Instant) float64 { return i.Supply }))
	}
	ps = append(ps, link)
	if s.Supply.Capacitance > 0 || s.Supply.Resistance > 0 {
		ps = append(ps, panel{
			caption: "Link voltage", unit: "V", weight: 0.8,
			curves: []line{plain("", func(i *drive.Instant) float64 { return i.Link })},
		})
	}
	return ps
}

func ofPhase(k inverter.Phase, value func(*drive.Instant) float64) line {
	return line{curve: curve{value: value}, name: k.String(), phase: k, ofPhase: true}
}

func plain(name string, value func(*drive.Instant) float64) line {
	return line{curve: curve{value: value}, name: name}
}

// nothing in volts, amperes or newton metres is left over from rounding.
const nothing = 1e-9

// bounds returns what a panel's axis covers: its curves, those of all strips if it is one, and a little more.
func bounds(all []panel, p *panel) (low, high float64) {
	low, high = p.curves[0].bounds()
	for i := range all {
		if q := &all[i]; q != p && !(q.strip && p.strip) {
			continue
		}
		for j := range all[i].curves {
			l, h := all[i].curves[j].bounds()
			low, high = min(low, l), max(high, h)
		}
	}
	if p.zero {
		low, high = min(low, 0), max(high, 0)
	}
	size := max(-low, high)
	room := 0.06 * (high - low)
	switch {
	case size < nothing:
		return -1, 1
	case high-low < 1e-3*size: // what hardly changes is not blown up
		room = 0.02 * size
	}
	return low - room, high + room
}
