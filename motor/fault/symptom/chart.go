package symptom

import (
	"math"
	"slices"

	"sextant/inverter/cores"
	"sextant/motor/drive"
)

// A Chart holds what every fault does to one drive, and how often each sign goes with it: the table that reasoning
// from signs goes by.
type Chart struct {
	Title string
	Rows  []Row
}

// A Row is of one fault.
type Row struct {
	*Symptoms           // at the severity that Value has
	Share     []float64 // by Signs: in which part of states and severities the sign shows
	Hidden    string    // why the fault cannot show in this drive, or ""
}

// NewChart runs drive s under every fault that it has equations for, once with each of the severities of [severities].
func NewChart(s drive.Scenario) (*Chart, error) {
	b, err := baseOf(s)
	if err != nil {
		return nil, err
	}
	type trial struct {
		kind  drive.FaultKind
		value float64
		*Symptoms
	}
	var trials []trial
	kinds := slices.DeleteFunc(drive.FaultKinds(), func(k drive.FaultKind) bool { return !b.bears(k) })
	for _, k := range kinds {
		for _, v := range b.severities(k) {
			trials = append(trials, trial{kind: k, value: v})
		}
	}
	if err := cores.Each(len(trials), func(i int) (err error) {
		t := &trials[i]
		t.Symptoms, err = b.symptoms(drive.Fault{Kind: t.kind, Value: t.value}, chartPoints)
		return err
	}); err != nil {
		return nil, err
	}
	c := &Chart{Title: b.summary.Title}
	for _, k := range kinds {
		row := Row{Share: make([]float64, len(Signs))}
		n := 0.0
		for _, t := range trials {
			if t.kind != k {
				continue
			}
			if row.Symptoms == nil {
				row.Symptoms, row.Hidden = t.Symptoms, t.unread()
			}
			n++
			for i := range Signs {
				row.Share[i] += Signs[i].Seen(t.Symptoms)
			}
		}
		for i := range row.Share {
			row.Share[i] /= n
		}
		c.Rows = append(c.Rows, row)
	}
	return c, nil
}

// bears reports whether the drive has equations for a fault of a kind: a machine in delta has none for shorted turns.
func (b *base) bears(k drive.FaultKind) bool {
	s := b.scenario
	s.Faults = []drive.Fault{{Kind: k, Value: Value(k, &b.scenario, b.peak)}}
	return s.Validate() == nil
}

// chartPoints is at how many rotor angles a chart tries a start.
const chartPoints = 24

// severities returns the values that a kind is tried with: that of [Value], half and one and a half times as far
// from health; a stuck sensor low and high.
func (b *base) severities(k drive.FaultKind) []float64 {
	v := Value(k, &b.scenario, b.peak)
	from := 0.0 // what is healthy
	switch k {
	case drive.PositionSensorStuck:
		return []float64{0, 1}
	case drive.SupplySag:
		from = b.scenario.Supply.Voltage
	case drive.CapacitorAged, drive.CurrentSensorGain, drive.Demagnetised:
		from = 1
	}
	if !k.TakesValue() {
		return []float64{0}
	}
	least := math.Inf(-1)
	if k == drive.CapacitorAged {
		least = 0.1
	}
	return []float64{v, from + (v-from)/2, math.Max(least, from+1.5*(v-from))}
}
