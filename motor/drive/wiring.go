package drive

import (
	"math"

	"sextant/inverter"
)

// A wiring is what the faults that have happened made of the circuit.
type wiring struct {
	struck  int // how many of the scenario's faults have happened, in the order of their times
	cut     [3]bool
	dead    inverter.Gates // switches that no longer turn on
	shorted inverter.Gates // switches that no longer turn off
}

// next returns when the next fault happens, in s; +Inf if none is left. Faults are in order of time.
func (w *wiring) next(faults []Fault) float64 {
	if w.struck < len(faults) {
		return faults[w.struck].Time
	}
	return math.Inf(1)
}

// strike lets the faults that are due at time t happen, and reports whether any did.
func (d *Drive) strike(t float64, s *state) (bool, error) {
	struck := false
	for d.wiring.next(d.scenario.Faults) <= t {
		f := &d.scenario.Faults[d.wiring.struck]
		d.wiring.struck++
		struck = true
		switch f.Kind {
		case PhaseOpen:
			before := d.plant.stored(s)
			d.wiring.cut[f.Phase] = true
			d.plant.clear(s, f.Phase)
			for k, cut := range d.wiring.cut {
				if cut && inverter.Phase(k) != f.Phase {
					s.i = inverter.Vector{}
				}
			}
			d.account.lose(before - d.plant.stored(s))
		case SwitchOpen:
			d.wiring.dead = d.wiring.dead.With(f.Switch)
		case SwitchShort:
			d.wiring.shorted = d.wiring.shorted.With(f.Switch)
		case PhaseSwap:
			v, w := f.Phase.Next(), f.Phase.Next().Next()
			d.plant.axes[v], d.plant.axes[w] = d.plant.axes[w], d.plant.axes[v]
			// The currents of the windings go on; those of the two legs change places.
		case PositionSensorStuck:
			d.gate.commute.stick(t, f.Phase, f.Value != 0)
		case PhaseResistance:
			d.plant.resistance[f.Phase] += f.Value
		}
	}
	return struck, nil
}
