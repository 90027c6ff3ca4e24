package handout

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"

	"sextant/inverter"
	"sextant/motor"
	"sextant/motor/drive"
	"sextant/motor/fault/symptom"
	"sextant/render"
)

// A patient is a drive with a fault, or with none, that has been run and measured.
type patient struct {
	fault    drive.Fault
	words    string
	readings []reading
	meter    symptom.Meter
	summary  drive.Summary
	record   []drive.Instant
}

// A reading is what an instrument tells: what is measured, and how large a value counts as the whole of it.
type reading struct {
	name  string
	value float64 // +Inf is open
	unit  string
	whole float64
}

// apart is by what part of the whole two readings must differ to tell one fault from another.
const apart = 0.12

// differs returns the reading by which two patients differ most, and by what part.
func differs(a, b *patient) (at int, part float64) {
	for i := range a.readings {
		x, y := a.readings[i].value, b.readings[i].value
		d := 0.0
		switch {
		case math.IsInf(x, 1) && math.IsInf(y, 1):
		case math.IsInf(x, 1) || math.IsInf(y, 1):
			d = 2
		default:
			d = math.Abs(x-y) / a.readings[i].whole
		}
		if d > part {
			at, part = i, d
		}
	}
	return at, part
}

// suspects lists the faults that are tried on a drive whose greatest current is peak.
func suspects(s *drive.Scenario, peak float64) (all []drive.Fault) {
	for _, k := range []drive.FaultKind{drive.PhaseOpen, drive.SwitchOpen, drive.PhaseResistance, drive.CurrentSensorOffset, drive.Demagnetised} {
		f := drive.Fault{Kind: k}
		if k.TakesValue() {
			f.Value = symptom.Value(k, s, peak)
		}
		switch {
		case k == drive.Demagnetised && s.Machine.FluxLinkage == 0, k == drive.CurrentSensorOffset && s.Gating.Follow != drive.Current:
		case k.OfPhase():
			for _, f.Phase = range inverter.Phases {
				all = append(all, f)
			}
		case k.OfSwitch():
			for _, f.Switch = range inverter.Switches {
				all = append(all, f)
			}
		default:
			all = append(all, f)
		}
	}
	return all
}

// examine runs a drive with faults and takes readings; whole figures are those of the healthy one.
func examine(s drive.Scenario, faults []drive.Fault, healthy *patient) (*patient, error) {
	s.Faults = faults
	span := s.Run.Measure
	if f := math.Abs(s.ElectricalFrequency()); f > 0 {
		span = min(span, 2/f)
	}
	tape := drive.NewTape(100_000, span/500)
	sum, err := drive.Simulate(s, tape)
	if err != nil {
		return nil, err
	}
	p := &patient{summary: sum}
	f := drive.Fault{Kind: drive.PhaseResistance} // of none
	if len(faults) > 0 {
		f = faults[0]
		words := render.Lost(&f)
		p.fault, p.words = f, words
	}
	_, to := tape.Span()
	p.record = thinned(tape.Between(to-span, to), span/400)
	s.Faults = nil
	p.meter = symptom.MeterOf(&s, f)
	if healthy == nil {
		healthy = p
	}
	most := 0.0
	for _, x := range healthy.summary.Phases {
		most = max(most, x.CurrentRMS)
	}
	for _, x := range sum.Phases {
		p.readings = append(p.readings, reading{"the current of " + x.Phase.String(), x.CurrentRMS, "A rms", most})
	}
	for _, x := range sum.Phases {
		p.readings = append(p.readings, reading{"the mean of " + x.Phase.String(), x.CurrentMean, "A", most})
	}
	if s.Machine.Kind != motor.Passive {
		pull := max(math.Abs(healthy.summary.Machine.TorqueMean), 1e-3)
		p.readings = append(p.readings,
			reading{"the torque's mean", sum.Machine.TorqueMean, "N m", pull},
			reading{"the torque's swing", sum.Machine.TorqueRipple, "N m", pull})
	}
	for i, x := range p.meter.PhaseToPhase {
		r := reading{"the ohmmeter's reading " + x.Between, math.Inf(1), "Ω", max(ohmsOf(healthy.meter.PhaseToPhase[i]), 1e-6)}
		if x.Ohms != nil {
			r.value = *x.Ohms
		}
		p.readings = append(p.readings, r)
	}
	return p, nil
}

func ohmsOf(r symptom.Resistance) float64 {
	if r.Ohms == nil {
		return 0
	}
	return *r.Ohms
}

// thinned leaves out instants that lie closer together than gap, but for those where currents turn.
func thinned(record []drive.Instant, gap float64) (kept []drive.Instant) {
	for i := range record {
		if i == 0 || i == len(record)-1 || record[i].Time-kept[len(kept)-1].Time >= gap {
			kept = append(kept, record[i])
		}
	}
	return kept
}

func upper(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

func (r reading) text() string {
	if math.IsInf(r.value, 1) {
		return "open"
	}
	unit, more := r.unit, ""
	if head, ok := strings.CutSuffix(unit, " rms"); ok {
		unit, more = head, " rms"
	}
	x := r.value
	if math.Abs(x) < 0.01*r.whole {
		x = 0 // no clamp tells so little from none
	}
	return written(x, unit) + more
}

// A ward is a drive healthy and with each of its faults.
type ward struct {
	supply  float64 // V
	peak    float64 // A, of the healthy drive
	healthy *patient
	ill     []*patient
}

// newWard runs a drive with all faults that can be told from health.
func newWard(s drive.Scenario, healthy *patient, peak float64) *ward {
	w := &ward{supply: s.Supply.Voltage, peak: peak, healthy: healthy}
	for i, r := range healthy.readings[:3] {
		if math.Abs(r.value-r.whole) > 0.05*r.whole || math.Abs(healthy.readings[3+i].value) > 0.05*r.whole {
			return w // currents that are not alike to begin with tell no fault
		}
	}
	faults := suspects(&s, peak)
	tried := make([]*patient, len(faults))
	var all sync.WaitGroup
	for i, f := range faults {
		all.Go(func() {
			// A drive that trips or falls out of step has no steady readings.
			if p, err := examine(s, []drive.Fault{f}, healthy); err == nil && len(p.summary.Notices) == 0 {
				tried[i] = p
			}
		})
	}
	all.Wait()
	for _, p := range tried {
		if p == nil {
			continue
		}
		if _, part := differs(p, healthy); part > apart {
			w.ill = append(w.ill, p)
		}
	}
	return w
}

// fault asks which of four faults the readings tell of; false where not enough can be told apart.
func (w *ward) fault(rng *rand.Rand) (Exercise, bool) {
	for _, k := range rng.Perm(len(w.ill)) {
		p := w.ill[k]
		others := []*patient{}
		for _, i := range rng.Perm(len(w.ill)) {
			if _, part := differs(p, w.ill[i]); i != k && part > apart && len(others) < 3 {
				others = append(others, w.ill[i])
			}
		}
		if len(others) == 3 {
			return w.ask(p, others, rng), true
		}
	}
	return Exercise{}, false
}

func (w *ward) ask(p *patient, others []*patient, rng *rand.Rand) Exercise {
	x := Exercise{
		Name: "fault", Points: 3, Shown: true, Figure: &course{p.record}, Right: rng.IntN(4), Answer: p.words,
		Table: &Table{Groups: []Group{
			{"running, clamp meters", []string{"lead", "rms", "mean"}},
			{"de-energised, motor leads off", []string{"between", "ohmmeter"}},
		}},
	}
	for i, ph := range p.summary.Phases {
		x.Table.Rows = append(x.Table.Rows, row(true, ph.Phase.String(), strings.TrimSuffix(p.readings[i].text(), " rms"), p.readings[3+i].text(),
			p.meter.PhaseToPhase[i].Between, p.readings[len(p.readings)-3+i].text()))
	}
	x.Ask = w.usual() + " Now something is wrong with it; figure and table show what is measured."
	if len(p.readings) > 9 {
		x.Ask += fmt.Sprintf(" The torque is %s in the mean and swings by %s from least to most.", p.readings[6].text(), p.readings[7].text())
	}
	x.Ask += " Which of these faults is it?"
	var because []string // by reading, what the others would show
	var at []int
	k := 0
	for i := range 4 {
		if i == x.Right {
			x.Choices = append(x.Choices, p.words)
			continue
		}
		o := others[k]
		k++
		x.Choices = append(x.Choices, o.words)
		best, _ := differs(p, o)
		says := letter(i) + " would give " + o.readings[best].text()
		if n := slices.Index(at, best); n >= 0 {
			because[n] += ", " + says
		} else {
			at, because = append(at, best), append(because, says)
		}
	}
	for n, i := range at {
		because[n] = upper(p.readings[i].name) + " is " + p.readings[i].text() + ": " + because[n] + "."
	}
	x.Working = strings.Join(because, " ")
	return x
}

// usual tells the readings of the healthy drive.
func (w *ward) usual() string {
	h := w.healthy
	said := "Healthy, this drive on " + Given{Value: w.supply, Unit: "V"}.text() + " has " + h.readings[0].text() + " in each lead, with no mean"
	if len(h.readings) > 9 {
		said += ", and a torque of " + h.readings[6].text() + " that swings by " + h.readings[7].text()
	}
	return said + "; an ohmmeter reads " + h.readings[len(h.readings)-1].text() + " between any two leads."
}
