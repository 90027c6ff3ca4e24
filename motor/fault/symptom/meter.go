package symptom

import (
	"fmt"
	"math"
	"strings"

	"sextant/motor"
	"sextant/motor/drive"
)

// A Meter is what meters read with the drive de-energised, proved dead and its shaft held.
type Meter struct {
	PhaseToPhase []Resistance `json:"phase_to_phase"`           // motor leads off
	Inside       []Resistance `json:"winding_open,omitempty"`   // the same where a delta's winding is open, not a lead
	Healthy      []Resistance `json:"healthy_phase_to_phase"`   // of the motor without the fault
	Diodes       []DiodeCheck `json:"diode_checks"`             // every check, motor leads off, then on
	Differ       []DiodeCheck `json:"diode_checks_that_differ"` // from those of a healthy drive
	Says         []string     `json:"says"`
	Capacitor    *Capacitor   `json:"capacitor,omitempty"` // where the link has one
}

// none is a fault that changes nothing: a phase with no more resistance than before.
var none = drive.Fault{Kind: drive.PhaseResistance}

// MeterOf returns what meters read on drive s with fault f, whose own faults are left out.
func MeterOf(s *drive.Scenario, f drive.Fault) Meter { return metered(s, f) }

// metered returns the readings of drive s with fault f.
func metered(s *drive.Scenario, f drive.Fault) Meter {
	carbide := s.Switches.BothWays
	m := Meter{
		PhaseToPhase: phaseToPhase(s.Machine, f), Healthy: phaseToPhase(s.Machine, none),
		Diodes: diodeChecks(f, carbide), Differ: []DiodeCheck{}, Capacitor: capacitor(s, f),
	}
	for i, c := range diodeChecks(none, carbide) {
		if x := m.Diodes[i]; (x.Drops == nil) != (c.Drops == nil) || x.Drops != nil && *x.Drops != *c.Drops {
			m.Differ = append(m.Differ, x)
		}
	}
	if f.Kind == drive.PhaseOpen && s.Machine.Connection == motor.Delta {
		m.Inside = openWinding(s.Machine, f.Phase)
	}
	m.Says = m.sentences(f, carbide)
	return m
}

func (m *Meter) sentences(f drive.Fault, carbide bool) []string {
	says := []string{"Phase to phase, motor leads off: " + ohms(m.PhaseToPhase) + "; healthy " + ohms(m.Healthy[:1]) + " each way round" + fourWire(m.Healthy) + "."}
	if spread(m.PhaseToPhase) <= alike {
		says[0] = "Phase to phase, motor leads off: all three alike, " + ohms(m.PhaseToPhase[:1]) + ", as in a healthy motor" + fourWire(m.Healthy) + "."
	}
	if m.Inside != nil {
		says = append(says, fmt.Sprintf("Were not the lead open but the winding from %v to %v: %s.", f.Phase, f.Phase.Next(), ohms(m.Inside)))
	}
	for _, leads := range []string{"off", "on"} {
		says = append(says, m.diodes(leads))
	}
	if m.Capacitor != nil {
		says = append(says, m.Capacitor.sentence())
	}
	if carbide {
		says = append(says, "Switches that conduct both ways are MOSFETs: their body diodes have a high knee (about 1 to 2.5 V in silicon carbide), which some meters cannot reach; compare legs with each other.")
	}
	return append(says, "A diode check sees neither a dead gate nor an open channel. Insulation to earth is not modelled: test it as the maker says, with the inverter off the leads.")
}

// diodes says what the diode checks tell with the motor's leads off or on.
func (m *Meter) diodes(leads string) string {
	var odd []string
	for _, c := range m.Differ {
		if c.Leads == leads {
			odd = append(odd, fmt.Sprintf("+ lead on %s, - lead on %s: %s", point(c.Plus), point(c.Minus), c.Reading))
		}
	}
	start := "Diode test, motor leads " + leads + ": "
	if odd == nil {
		return start + "as in a healthy drive: forward (" + m.Diodes[0].Reading + ") from - rail to each phase and from each phase to + rail, open with the leads swapped."
	}
	return start + strings.Join(odd, "; ") + "; the rest as in a healthy drive."
}

func point(name string) string {
	if name == "+" || name == "-" {
		return name + " rail"
	}
	return name
}

// alike is how far readings of a good motor may differ, as a part: common practice.
const alike = 0.05

// spread returns how far readings differ as a part of the least, +Inf where some are open and some are not.
func spread(r []Resistance) float64 {
	low, high := math.Inf(1), 0.
	for _, x := range r {
		v := math.Inf(1)
		if x.Ohms != nil {
			v = *x.Ohms
		}
		low, high = math.Min(low, v), math.Max(high, v)
	}
	if math.IsInf(low, 1) || low == high {
		return 0
	}
	return high/low - 1
}

func ohms(r []Resistance) string {
	var words []string
	for _, x := range r {
		reading := "open"
		if x.Ohms != nil {
			reading = quantity(*x.Ohms, "ohm")
		}
		if len(r) > 1 {
			reading = x.Between + " " + reading
		}
		words = append(words, reading)
	}
	return strings.Join(words, ", ")
}

// fourWire warns where an ordinary meter's leads are more than what they measure: common practice.
func fourWire(r []Resistance) string {
	if r[0].Ohms != nil && *r[0].Ohms < 0.5 {
		return " (so little needs a four-wire meter)"
	}
	return ""
}
