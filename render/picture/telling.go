package picture

import (
	"sextant/inverter"
	"sextant/motor/drive"
	"sextant/render"
)

// Telling returns the view of s at t in s, or where all windings then lie on one rail, so that nothing drives the
// current, amid the longest stretch of the next turn in which something does. It fails as [At] does.
func Telling(s drive.Scenario, t float64) (*render.View, error) {
	v, err := At(s, t)
	if err != nil || !idle(v.Now.Gates) {
		return v, err
	}
	end := t + Turn(&s)
	best, longest := t, 0.0
	for i := 1; i < len(v.Tape); i++ {
		from, to := &v.Tape[i-1], &v.Tape[i]
		if from.Time < t || to.Time > end || idle(from.Gates) || from.Gates != to.Gates {
			continue
		}
		if dt := to.Time - from.Time; dt > longest {
			best, longest = (from.Time+to.Time)/2, dt
		}
	}
	if longest < 1e-3*Turn(&s) {
		return v, nil
	}
	return At(s, best)
}

// idle reports whether all upper or all lower switches are on, and no others.
func idle(g inverter.Gates) bool {
	return g == inverter.On(inverter.UHigh, inverter.VHigh, inverter.WHigh) || g == inverter.On(inverter.ULow, inverter.VLow, inverter.WLow)
}
