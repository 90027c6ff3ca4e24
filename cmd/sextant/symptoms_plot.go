package main

import (
	"sextant/inverter"
	"sextant/motor/drive"
	"sextant/motor/fault/symptom"
	"sextant/render/chart"
)

// draw draws the drive without and with the fault, in the first of its states, and its start.
func (s *symptoms) draw(x *symptom.Symptoms) error {
	if s.plot.file == "" {
		return nil
	}
	f := chart.Compared{Title: symptom.Name(x.As) + ": " + x.Healthy.Title, Lines: x.Cautions[:min(3, len(x.Cautions))], Theme: s.plot.theme}
	if len(x.States) > 0 {
		state := x.States[0]
		f.State = state.State.String()
		var err error
		if f.Healthy, err = waves(state.Scenario, nil); err != nil {
			return named(err, s.scenario)
		}
		if state.Failed == "" {
			if f.Faulty, err = waves(state.Scenario, []drive.Fault{x.As}); err != nil {
				return named(err, s.scenario)
			}
		}
	}
	if st := x.Start; st != nil {
		f.Start = &chart.Start{Angles: st.Angles, Healthy: st.Healthy, Faulty: st.Faulty, Needed: st.Needed}
		for _, d := range st.Dead {
			f.Start.Dead = append(f.Start.Dead, [2]float64{d.From, d.To})
		}
	}
	return s.plot.paint(f.Title, f.Draw)
}

// shown is how many turns of the fundamental the waves of a comparison cover, and wavePoints how many instants
// they keep.
const (
	shown      = 2
	wavePoints = 20000
)

// waves runs s under faults and returns what a picture shows of it.
func waves(s drive.Scenario, faults []drive.Fault) (chart.Waves, error) {
	s.Faults = faults
	if f := s.ElectricalFrequency(); f > 0 {
		s.Run.Measure = shown / f
	}
	tape := drive.NewTape(wavePoints, s.Run.Measure/500)
	if _, err := drive.Simulate(s, tape); err != nil {
		return chart.Waves{}, err
	}
	var w chart.Waves
	for i := range tape.Len() {
		at := tape.Instant(i)
		w.Time = append(w.Time, at.Time-s.Run.Settle)
		for _, k := range inverter.Phases {
			w.Current[k] = append(w.Current[k], at.Current[k])
		}
		w.Torque = append(w.Torque, at.Torque)
	}
	return w, nil
}
