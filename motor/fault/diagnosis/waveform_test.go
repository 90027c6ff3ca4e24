package diagnosis_test

import (
	"fmt"
	"math"
	"math/rand/v2"

	"sextant/inverter"
	"sextant/motor/drive"
	"sextant/motor/fault/capture"
	"sextant/motor/fault/diagnosis"
	"sextant/motor/fault/signature"
)

// A waveform is the currents of a simulated drive, evenly sampled, finer than any recording of the bench.
type waveform struct {
	diagnosis.Suspect // the truth
	operation
	scene   string // for messages
	own     bool   // the sensor at fault is the drive's, so that the currents themselves are wrong
	value   float64
	healthy drive.Scenario
	step    float64
	current []inverter.ABC
}

const (
	turnsKept    = 7
	samplesATurn = 720
)

// sampling observes a run and reads the currents at even times.
type sampling struct {
	next, step float64
	x          []inverter.ABC
}

func (s *sampling) Observe(seg *drive.Segment) {
	for ; s.next < seg.T1; s.next += s.step {
		s.x = append(s.x, seg.At(s.next).Current)
	}
}

// simulate makes a waveform at a drawn operation with the fault in it. Errors of clamps are no affair of the
// drive; they are laid on when it is recorded.
func simulate(r *rand.Rand, m mode, truth diagnosis.Suspect) (waveform, error) {
	o := draw(r, m)
	s := o.scenario(r)
	w := waveform{Suspect: truth, operation: o, step: 1 / (o.hz() * samplesATurn)}
	if truth.Fault == diagnosis.SensorOffset || truth.Fault == diagnosis.SensorGain {
		w.own = m.controlled() && r.IntN(2) == 0
	}
	before := s.Faults
	if f, strikes := o.fault(r, &s, truth); strikes && (w.own || truth.Fault != diagnosis.SensorOffset && truth.Fault != diagnosis.SensorGain) {
		s.Faults = append(s.Faults, f)
		w.value = f.Value
	}
	w.healthy = s
	w.healthy.Faults = before
	w.scene = fmt.Sprintf("%s %v %.0f V, load %.2f, %.4g Hz, sense %+g, value %.3g", m, s.Gating.Kind, s.Supply.Voltage, o.load, o.hz(), o.sense, w.value)
	x := &sampling{next: s.Run.Settle, step: w.step}
	_, err := drive.Simulate(s, x)
	w.current = x.x
	return w, err
}

// kinds is the drive's faults by their words.
var kinds = func() map[diagnosis.Fault]drive.FaultKind {
	m := map[diagnosis.Fault]drive.FaultKind{}
	for _, k := range drive.FaultKinds() {
		m[diagnosis.Fault(k.String())] = k
	}
	return m
}()

// fault draws how severe a fault is, and gives the drive a link where one is to age.
func (o *operation) fault(r *rand.Rand, s *drive.Scenario, truth diagnosis.Suspect) (f drive.Fault, strikes bool) {
	if f.Kind, strikes = kinds[truth.Fault]; !strikes {
		return f, false
	}
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	sign := float64(1 - 2*r.IntN(2))
	switch {
	case f.Kind.OfSwitch():
		must(f.Switch.UnmarshalText([]byte(truth.At)))
	case f.Kind.OfPhase():
		f.Phase = phase(truth)
	}
	switch f.Kind {
	case drive.PhaseResistance:
		f.Value = o.impedance * between(0.3, 2)
	case drive.TurnsShorted:
		f.Value = between(0.05, 0.3)
	case drive.CurrentSensorOffset:
		f.Value = sign * o.current * between(0.2, 0.6)
	case drive.CurrentSensorGain:
		f.Value = 1 + sign*between(0.25, 0.5)
	case drive.PositionSensorStuck:
		f.Value = float64(r.IntN(2))
	case drive.PositionSensorOffset:
		f.Value = sign * between(10, 45) * math.Pi / 180
	case drive.SupplySag:
		f.Value = s.Supply.Voltage * between(0.5, 0.9)
	case drive.Demagnetised:
		f.Value = between(0.5, 0.9)
	case drive.CapacitorAged:
		f.Value = between(0.1, 0.5)
		s.Supply.Resistance = 0.02 * s.Supply.Voltage / o.rig.current
		s.Supply.Capacitance = 5 / (2 * math.Pi * o.rig.carrier * s.Supply.Resistance)
	}
	return f, true
}

func phase(s diagnosis.Suspect) (p inverter.Phase) {
	must(p.UnmarshalText([]byte(s.At)))
	return p
}

func must(err error) {
	if err != nil {
		panic(err)
	}
}

// whole returns the waveform as a capture without noise.
func (w *waveform) whole() capture.Capture {
	c := capture.Capture{Current: w.current}
	for i := range w.current {
		c.Time = append(c.Time, float64(i)*w.step)
	}
	return c
}

// A display says what the currents themselves, free of noise, show of the drive's fault.
type display uint8

const (
	shown  display = iota
	hidden         // less than any method could be asked to see in a noisy record
	faint          // hardly any current
)

// display judges the waveform: whether it is lopsided or unbalanced. A current control evens a bad joint out while
// it has voltage to spare, a bridge whose diodes alone carry the current does not miss an open switch, and a weak
// magnet leaves the currents as even as a strong one.
func (w *waveform) display() display {
	c := w.whole()
	near, err := signature.Near(&c)
	if err != nil {
		return faint
	}
	s, err := signature.Of(&c, near)
	if err != nil || s.Amplitude() < 0.08*w.rig.current {
		return faint
	}
	if mean, _ := s.MeanVector(); w.Fault != diagnosis.Healthy && (w.own || w.Fault != diagnosis.SensorOffset && w.Fault != diagnosis.SensorGain) &&
		mean < 0.05 && s.Even() < 0.05 && s.Negative() < 0.08 {
		return hidden
	}
	return shown
}
