package lesson

import (
	"fmt"
	"math"
	"strings"

	"sextant/motor/drive"
	"sextant/motor/fault/capture"
	"sextant/motor/fault/diagnosis"
)

// A recording has recordedTurns electrical turns of samples at recordedRows a turn, as a logger takes them.
const recordedTurns, recordedRows = 12, 512

// A recorder observes a run and reads the three currents at even times.
type recorder struct {
	capture.Capture
	next, step float64 // s
}

// Observe reads what falls into a segment.
func (r *recorder) Observe(seg *drive.Segment) {
	for ; r.next < seg.T1; r.next += r.step {
		r.Time, r.Current = append(r.Time, r.next), append(r.Current, seg.At(r.next).Current)
	}
}

// judged tells what a recording of the currents says when it is judged like any other, without knowing the drive.
func judged(s *drive.Scenario, _ figures, left *int) []string {
	hz := s.ElectricalFrequency()
	if !(hz > 0) {
		return []string{"Nothing turns, so there are no turns to record."}
	}
	run := *s
	run.Run.Measure = recordedTurns / hz
	r := recorder{next: run.Run.Settle, step: 1 / (hz * recordedRows)}
	if _, err := (drive.Simulation{Scenario: run, Window: []drive.Observer{&r}, Strides: left}).Run(); err != nil {
		return []string{"No recording: " + err.Error() + "."}
	}
	report := diagnosis.Diagnose(&r.Capture, nil)
	verdict := string(report.Verdict)
	if report.At != "" {
		verdict += " at " + report.At
	}
	if report.Verdict != diagnosis.Unclear {
		verdict += fmt.Sprintf(", confidence %.0f %%", math.Floor(100*report.Confidence))
	}
	return []string{
		fmt.Sprintf("Recorded, %d turns of the three currents, and judged by sextant diagnose: %s.", recordedTurns, verdict),
		"Because " + strings.TrimSuffix(report.Because, ".") + ".",
	}
}
