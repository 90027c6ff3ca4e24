package drive

import (
	"math"
	"math/cmplx"

	"sextant/motor"
)

// An Operating is a stretch of record taken for sines, as formulas of averages want it.
type Operating struct {
	Frequency float64 // Hz, of the fundamental; 0 at standstill
	Current   float64 // A, peak of the phase currents' fundamental
	Voltage   float64 // V, peak of the phase voltages' fundamental
	Lag       float64 // rad, of the current behind the voltage, -π to π; beyond ±π/2 the machine generates
	Angle     float64 // rad, of the current vector at the end
}

// OperatingOf returns the operating point of s over the latest whole turn of a record, oldest first, or over all
// of it at standstill; false where the record is shorter than a turn. Between two instants a quantity is taken
// to run straight; at an event there are two.
func OperatingOf(record []Instant, s *Scenario) (Operating, bool) {
	if len(record) < 2 {
		return Operating{}, false
	}
	end := &record[len(record)-1]
	from := record[0].Time
	f := s.Gating.Frequency
	if s.Machine.Kind != motor.Passive {
		f = end.Speed * float64(s.Machine.PolePairs) / (2 * math.Pi)
	}
	const slowest = 0.1 // Hz: a slower turn is as good as none
	switch turn := 1 / math.Abs(f); {
	case math.Abs(f) < slowest:
		f = 0
	case end.Time-turn < from:
		return Operating{}, false
	default:
		from = end.Time - turn
	}
	if !(end.Time > from) {
		return Operating{}, false
	}
	// Vectors are seen from a frame that turns with the fundamental.
	seen := func(i *Instant) (v, a complex128) {
		back := cmplx.Rect(1, -2*math.Pi*f*(i.Time-end.Time))
		voltage, _ := i.Phase.Clarke() // as the bridge sees them, which its frequency is of
		current, _ := i.Current.Clarke()
		return complex(voltage.Alpha, voltage.Beta) * back, complex(current.Alpha, current.Beta) * back
	}
	var v, i complex128
	var lastV, lastI complex128
	for k := range record {
		newV, newI := seen(&record[k])
		if k > 0 && record[k].Time > from {
			h := record[k].Time - record[k-1].Time
			if cut := from - record[k-1].Time; cut > 0 {
				share := complex(cut/h, 0)
				lastV += (newV - lastV) * share
				lastI += (newI - lastI) * share
				h -= cut
			}
			v += (lastV + newV) * complex(h/2, 0)
			i += (lastI + newI) * complex(h/2, 0)
		}
		lastV, lastI = newV, newI
	}
	time := complex(end.Time-from, 0)
	v, i = v/time, i/time
	lag := math.Remainder(cmplx.Phase(v)-cmplx.Phase(i), 2*math.Pi)
	if f < 0 { // the other way round, behind is ahead
		lag = -lag
	}
	return Operating{Frequency: math.Abs(f), Current: cmplx.Abs(i), Voltage: cmplx.Abs(v), Lag: lag, Angle: cmplx.Phase(i)}, true
}
