package drive

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// Simulate runs scenario s through its settling and its measured window and sums the window up; further
// observers are shown the window, or all of the run with [Simulation].
func Simulate(s Scenario, observers ...Observer) (Summary, error) {
	return Simulation{Scenario: s, Window: observers}.Run()
}

// A Simulation is a run from start to end.
type Simulation struct {
	Scenario Scenario
	Settling []Observer // shown the settling
	Window   []Observer // shown the measured window
	Orders   int        // harmonics to take, over the whole turns in the window
	Strides  *int       // left to take, where they are bounded: all runs take from them
}

// ErrStrides says that a simulation would take more strides than it was given.
var ErrStrides = errors.New("the run takes more steps from event to event than it was given")

// Run runs it. Where the gating follows a free rotor, nobody knows the fundamental's frequency before: the
// run is made once to find the mean speed, and again to measure. Where a device's junctions are as warm as their heat
// makes them, it is made until they are steady, and again to measure.
func (r Simulation) Run() (Summary, error) {
	frequency := r.Scenario.ElectricalFrequency()
	if s := &r.Scenario; s.Shaft.Free && s.clockFrequency() == 0 {
		first, err := Simulation{Scenario: *s, Strides: r.Strides}.run(frequency, s.Switches.allUnheated())
		if err != nil {
			return Summary{}, err
		}
		frequency = math.Abs(first.Machine.SpeedMean) / 60 * float64(s.Machine.PolePairs)
	}
	at, err := r.Scenario.warm(frequency, r.Strides)
	if err != nil {
		return Summary{}, err
	}
	return r.run(frequency, at)
}

// run runs it with the junctions at temperatures.
func (r Simulation) run(frequency float64, at temperatures) (Summary, error) {
	d, err := newDrive(r.Scenario, at)
	if err != nil {
		return Summary{}, err
	}
	d.left = r.Strides
	w := r.Scenario.Run
	m := newMeter(frequency)
	settling, window := slices.Clone(r.Settling), append([]Observer{m}, r.Window...)
	var t *tally
	if x := r.Scenario.Switches.Device; x != nil {
		t = &tally{device: x, at: at, from: w.Settle, to: w.Settle + w.Measure}
		settling, window = append(settling, t), append(window, t)
	}
	d.watchers = settling
	if err := d.finish(w.Settle); err != nil {
		return Summary{}, err
	}
	d.watchers = window
	before := d.account.Broken
	harmonics, err := r.harmonics(d, frequency)
	if err != nil {
		return Summary{}, err
	}
	if err := d.finish(w.Settle + w.Measure); err != nil {
		return Summary{}, err
	}
	m.account.lose(d.account.Broken - before)
	sum := m.summary()
	sum.Fundamental, sum.Harmonics = frequency, harmonics
	sum.Title, sum.Events, sum.Notices = r.Scenario.Title, d.events, d.Notices()
	if t != nil {
		sum.heat(&r.Scenario.Switches, at, t.losses(m))
		sum.doubt(&r.Scenario)
	}
	return sum, nil
}

// harmonics runs the whole turns of the window, if harmonics are asked for, and returns them.
func (r Simulation) harmonics(d *Drive, frequency float64) ([]HarmonicSummary, error) {
	if r.Orders <= 0 {
		return nil, nil
	}
	w := r.Scenario.Run
	turns := math.Floor(w.Measure*frequency + 1e-9)
	if turns < 1 {
		return nil, tooShort(frequency, w.Measure)
	}
	f := &series{omega: 2 * math.Pi * frequency, lines: make([][5]complex128, r.Orders)}
	others := d.watchers
	d.watchers = append(slices.Clone(others), f)
	err := d.finish(min(w.Settle+turns/frequency, w.Settle+w.Measure))
	d.watchers = others
	return f.summary(), err
}

// tooShort is what is wrong with a window of so many seconds that harmonics are asked of.
func tooShort(frequency, measure float64) error {
	if frequency == 0 {
		return &KeyError{"run.measure", errors.New("nothing turns, so there is no fundamental to have harmonics")}
	}
	return &KeyError{"run.measure", fmt.Errorf("%g s is shorter than a turn at %.6g Hz, and harmonics need one; measure %.6g s or more", measure, frequency, 1/frequency)}
}

// finish advances to time t and ends a segment there.
func (d *Drive) finish(t float64) error {
	if t <= d.now {
		return nil
	}
	d.stop = t
	if d.seg.T1 > t { // the pending segment was integrated without regard to t
		s := d.seg.stride.from
		if err := d.fill(d.seg.T0, &s); err != nil {
			return err
		}
	}
	for d.seg.T1 < t {
		if err := d.pass(); err != nil {
			return err
		}
	}
	d.stop = math.Inf(1)
	return d.pass()
}

// ElectricalFrequency returns the frequency that the scenario's currents repeat with, in Hz: that of the
// gating, or where the gating makes none, that of the rotor as it starts.
func (s *Scenario) ElectricalFrequency() float64 {
	if f := s.clockFrequency(); f > 0 {
		return f
	}
	return math.Abs(s.startSpeed()) * float64(s.Machine.PolePairs) / (2 * math.Pi)
}
