package pair

import (
	"fmt"
	"math"

	"sextant/inverter/loss"
	"sextant/inverter/pattern"
	"sextant/motor"
)

// Validate returns a *[pattern.SettingError] for the first value that is out of range or at odds with another,
// or nil.
func (p *Pair) Validate() error {
	wrong := func(key, format string, args ...any) error {
		return &pattern.SettingError{Key: key, Problem: fmt.Sprintf(format, args...)}
	}
	m := &p.Machine
	switch {
	case m.Kind == motor.Passive:
		return wrong("machine", "is a passive load; give one with a magnet")
	case m.PolePairs < 1 || !(m.InductanceD > 0 && m.InductanceQ > 0 && m.Resistance >= 0 && m.FluxLinkage >= 0):
		return wrong("machine", "has parameters out of range")
	case m.FluxLinkage == 0 && m.InductanceD == m.InductanceQ:
		return wrong("machine", "has neither a magnet nor saliency and makes no torque")
	case !(p.Supply > 0 && p.Supply <= most):
		return wrong("supply", "%g V is out of range; give more than 0, up to %g V", p.Supply, most)
	case !(p.Current > 0 && p.Current <= most):
		return wrong("current", "%g A is out of range; give the greatest peak of a phase's current, more than 0, up to %g A", p.Current, most)
	case !(p.Drag >= 0 && p.Drag <= most):
		return wrong("drag", "%g N m is out of range; give 0 or more", p.Drag)
	case !(p.DragSlope >= 0 && p.DragSlope <= most):
		return wrong("drag_slope", "%g N m s/rad is out of range; give 0 or more", p.DragSlope)
	case !p.Pattern.Compares():
		return wrong("pattern", "%v has no carrier; give one that has, like space-vector", p.Pattern)
	case !(p.Carrier > 0) || math.IsInf(p.Carrier, 0):
		return wrong("carrier", "%g Hz is out of range; give the carrier's frequency, like 10kHz", p.Carrier)
	case !(p.Modulation > 0 && p.Modulation <= p.Pattern.Linear()*(1+1e-12)):
		return wrong("modulation", "%g is out of range; give more than 0, up to %.6g, to which %v is linear", p.Modulation, p.Pattern.Linear(), p.Pattern)
	}
	asks := loss.Point{Pattern: p.Pattern, Supply: p.Supply, Current: p.Current, Modulation: p.Modulation, Carrier: p.Carrier, DeadTime: p.DeadTime, Fixed: true}
	return asks.Validate()
}

// most bounds voltages and currents, so that no product overflows.
const most = 1e6
