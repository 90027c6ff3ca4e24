package plots

import (
	"math"

	"sextant/motor/drive"
)

// A Recorder observes a run and keeps its waveforms for a picture.
type Recorder struct {
	from, to float64 // s
	columns  float64
	panels   []panel
	err      error
}

// NewRecorder returns a recorder for the measured window of s and a picture of so many pixels' width. What it
// keeps grows with the width, not with the length of the run.
func NewRecorder(s *drive.Scenario, width int) *Recorder {
	return &Recorder{
		from:    s.Run.Settle,
		to:      s.Run.Settle + s.Run.Measure,
		columns: float64(max(width, 1)),
		panels:  panelsOf(s),
	}
}

// Observe keeps a segment: both its ends, and points between them at least once a column.
func (r *Recorder) Observe(s *drive.Segment) {
	perColumn := (r.to - r.from) / r.columns
	n := max(1, math.Ceil((s.T1-s.T0)/perColumn))
	for j := range int(n) + 1 {
		i := s.At(s.T0 + (s.T1-s.T0)*(float64(j)/n))
		column := math.Floor((i.Time - r.from) / perColumn)
		for k := range r.panels {
			for c := range r.panels[k].curves {
				curve := &r.panels[k].curves[c].curve
				y := curve.value(&i)
				if math.IsNaN(y) || math.IsInf(y, 0) {
					r.err = errNoNumber
					return
				}
				curve.add(column, point{i.Time, y})
			}
		}
	}
}
