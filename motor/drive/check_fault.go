package drive

import (
	"fmt"
	"math"

	"sextant/inverter"
	"sextant/motor"
)

// faultKey is a key of the fault of that index.
func faultKey(index int, key string) string { return fmt.Sprintf("fault.%d.%s", index, key) }

func (c *checks) faults(s *Scenario) {
	for i, f := range s.Faults {
		if !known(c, faultKey(i, "kind"), f.Kind, FaultKind(len(faultRules)-1)) {
			continue
		}
		switch {
		case f.Kind.OfPhase():
			known(c, faultKey(i, "at"), f.Phase, inverter.W)
		case f.Kind.OfSwitch():
			known(c, faultKey(i, "at"), f.Switch, inverter.WLow)
		}
		c.notNegative(faultKey(i, "time"), f.Time, "s")
		if c.finite(faultKey(i, "until"), f.Until) && f.Until != 0 && f.Until <= f.Time {
			c.add(faultKey(i, "until"), "%g s is not after the fault's time, %g s", f.Until, f.Time)
		}
		c.faultValue(faultKey(i, "value"), f)
		switch {
		case f.Kind == TurnsShorted:
			c.turns(s, i)
		case f.Kind == CapacitorResistance && s.Supply.bounded():
			c.add(faultKey(i, "kind"), seriesBounded)
		}
	}
}

// turns checks shorted turns, the fault of that index.
func (c *checks) turns(s *Scenario, i int) {
	f := &s.Faults[i]
	if s.Machine.Connection == motor.Delta {
		c.add(faultKey(i, "kind"), "shorted turns drive a current round a delta's three windings, which this model leaves out; give connection = \"star\"")
	}
	for j := range s.Faults[:i] {
		o := &s.Faults[j]
		if o.Kind == TurnsShorted && (o.On(f.Time) || f.On(o.Time)) {
			c.add(faultKey(i, "kind"), "turns are shorted already from %g s on, and one group at a time is modelled; end that one with until, or leave one out", o.Time)
			return
		}
	}
}

func (c *checks) faultValue(key string, f Fault) {
	r := &faultRules[f.Kind]
	switch {
	case !c.finite(key, f.Value):
	case f.Kind == PositionSensorStuck && f.Value != 0 && f.Value != 1:
		c.add(key, "%g is neither 0, stuck low, nor 1, stuck high", f.Value)
	case (f.Kind == PhaseResistance || f.Kind == CapacitorResistance) && f.Value <= 0:
		c.add(key, "%g ohm is not positive; give more than 0", f.Value)
	case r.takes && f.Value < r.least && r.most == math.MaxFloat64:
		c.add(key, "%g is out of range; give %g or more", f.Value, r.least)
	case r.takes && (f.Value < r.least || f.Value > r.most):
		c.add(key, "%g is out of range; give %g to %g", f.Value, r.least, r.most)
	}
}
