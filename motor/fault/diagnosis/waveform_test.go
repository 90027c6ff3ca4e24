package diagnosis_test

import (
	"fmt"
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
	f := drive.Fault{}
	strikes := true
	switch truth.Fault {
	case diagnosis.SwitchOpen:
		f.Kind = drive.SwitchOpen
		must(f.Switch.UnmarshalText([]byte(truth.At)))
	case diagnosis.PhaseOpen:
		f.Kind, f.Phase = drive.PhaseOpen, phase(truth)
	case diagnosis.PhaseResistance:
		f.Kind, f.Phase, f.Value = drive.PhaseResistance, phase(truth), o.impedance*(0.3+1.7*r.Float64())
	case diagnosis.SensorOffset:
		f.Kind, f.Phase, f.Value = drive.CurrentSensorOffset, phase(truth), o.current*(0.2+0.4*r.Float64())*float64(1-2*r.IntN(2))
		w.own = m.controlled() && r.IntN(2) == 0
		strikes = w.own
	default:
		strikes = false
	}
	if strikes {
		s.Faults = append(s.Faults, f)
	}
	w.scene = fmt.Sprintf("%s %v %.0f V, load %.2f, %.4g Hz, sense %+g, value %.3g", m, s.Gating.Kind, s.Supply.Voltage, o.load, o.hz(), o.sense, f.Value)
	x := &sampling{next: s.Run.Settle, step: w.step}
	_, err := drive.Simulate(s, x)
	w.current = x.x
	return w, err
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

// display judges the waveform. A current control evens a bad joint out while it has voltage to spare; a bridge
// whose diodes alone carry the current does not miss an open switch.
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
	mean, _ := s.MeanVector()
	switch {
	case w.Fault == diagnosis.SwitchOpen && mean < 0.05 && s.Even() < 0.05,
		w.Fault == diagnosis.PhaseResistance && s.Negative() < 0.08:
		return hidden
	}
	return shown
}
