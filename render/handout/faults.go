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
	words     string     // that name the fault
	rms, mean [3]reading // of the currents
	torque    []reading  // mean and swing; none without a rotor
	ohms      [3]reading // between leads, the drive being off
	record    []drive.Instant
	trips     bool // or falls out of step
}

// peak returns the greatest current of the record, in A.
func (p *patient) peak() (most float64) {
	for i := range p.record {
		for _, x := range p.record[i].Current {
			most = max(most, math.Abs(x))
		}
	}
	return most
}

// readings returns all of them.
func (p *patient) readings() []reading {
	return slices.Concat(p.rms[:], p.mean[:], p.torque, p.ohms[:])
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
	others := b.readings()
	for i, r := range a.readings() {
		x, y := r.value, others[i].value
		d := 0.0
		switch {
		case math.IsInf(x, 1) && math.IsInf(y, 1):
		case math.IsInf(x, 1) || math.IsInf(y, 1):
			d = 2
		default:
			d = math.Abs(x-y) / r.whole
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
	p := &patient{trips: len(sum.Notices) > 0}
	f := drive.Fault{Kind: drive.PhaseResistance} // of none
	if len(faults) > 0 {
		f = faults[0]
		p.words = render.FaultSentence(&f)
	}
	_, to := tape.Span()
	p.record = thinned(tape.Between(to-span, to), span/400)
	most, pull, meter := 0.0, math.Abs(sum.Machine.TorqueMean), symptom.MeterOf(&s, f)
	for _, x := range sum.Phases {
		most = max(most, x.CurrentRMS)
	}
	if healthy != nil {
		most = healthy.rms[0].whole
	}
	for i, x := range sum.Phases {
		p.rms[i] = reading{"the current of " + x.Phase.String(), x.CurrentRMS, "A", most}
		p.mean[i] = reading{"the mean of " + x.Phase.String(), x.CurrentMean, "A", most}
	}
	if s.Machine.Kind != motor.Passive {
		if healthy != nil {
			pull = healthy.torque[0].whole
		}
		pull = max(pull, 1e-3)
		p.torque = []reading{{"the torque's mean", sum.Machine.TorqueMean, "N m", pull}, {"the torque's swing", sum.Machine.TorqueRipple, "N m", pull}}
	}
	for i, x := range meter.PhaseToPhase {
		p.ohms[i] = reading{"the ohmmeter's reading " + x.Between, ohmsOf(x), "Ω", max(ohmsOf(meter.Healthy[i]), 1e-6)}
	}
	return p, nil
}

// ohmsOf returns a resistance, +Inf where it is open.
func ohmsOf(r symptom.Resistance) float64 {
	if r.Ohms == nil {
		return math.Inf(1)
	}
	return *r.Ohms
}

// thinned leaves out instants that lie closer together than gap, in s.
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
	if math.Abs(r.value) < 0.01*r.whole {
		return written(0, r.unit) // no clamp tells so little from none
	}
	return written(r.value, r.unit)
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
	for i, r := range healthy.rms {
		if math.Abs(r.value-r.whole) > 0.05*r.whole || math.Abs(healthy.mean[i].value) > 0.05*r.whole {
			return w // currents that are not alike to begin with tell no fault
		}
	}
	faults := suspects(&s, peak)
	tried := make([]*patient, len(faults))
	var all sync.WaitGroup
	for i, f := range faults {
		all.Go(func() {
			// A drive that trips or falls out of step has no steady readings.
			if p, err := examine(s, []drive.Fault{f}, healthy); err == nil && !p.trips {
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
	for i, ph := range inverter.Phases {
		x.Table.Rows = append(x.Table.Rows, row(true, ph.String(), p.rms[i].text(), p.mean[i].text(), ph.String()+"-"+ph.Next().String(), p.ohms[i].text()))
	}
	x.Ask = w.usual() + " Now something is wrong with it; figure and table show what is measured."
	if p.torque != nil {
		x.Ask += fmt.Sprintf(" The torque is %s in the mean and swings by %s from least to most.", p.torque[0].text(), p.torque[1].text())
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
		says := letter(i) + " would give " + o.readings()[best].text()
		if n := slices.Index(at, best); n >= 0 {
			because[n] += ", " + says
		} else {
			at, because = append(at, best), append(because, says)
		}
	}
	for n, i := range at {
		because[n] = upper(p.readings()[i].name) + " is " + p.readings()[i].text() + ": " + because[n] + "."
	}
	x.Working = strings.Join(because, " ")
	return x
}

// usual tells the readings of the healthy drive.
func (w *ward) usual() string {
	h := w.healthy
	said := "Healthy, this drive on " + Given{Value: w.supply, Unit: "V"}.text() + " has " + h.rms[0].text() + " rms in each lead, with no mean"
	if h.torque != nil {
		said += ", and a torque of " + h.torque[0].text() + " that swings by " + h.torque[1].text()
	}
	return said + "; an ohmmeter reads " + h.ohms[0].text() + " between any two leads."
}
