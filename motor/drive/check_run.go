package drive

import (
	"math"
)

// MostEvents is the largest number of switching events that a run may have.
const MostEvents = 1e9

func (c *checks) run(s *Scenario) {
	w := s.Run
	c.notNegative("run.settle", w.Settle, "s")
	c.positive("run.measure", w.Measure, "s")
	sum, size := 0.0, 0.0
	for _, i := range w.InitialCurrents {
		if !c.finite("run.initial_currents", i) {
			return
		}
		sum += i
		size = max(size, math.Abs(i))
	}
	// Decimal fractions such as 0.1, 0.2, -0.3 miss zero by their rounding.
	if math.Abs(sum) > 1e-9*size {
		c.add("run.initial_currents", "they sum to %g A; the star point is isolated, so give three that sum to 0", sum)
	}
	if n := s.events() * (w.Settle + w.Measure); n > MostEvents {
		c.add("run.measure", "the run would have %.2g switching events; settle and measure less, at most %g events in all", n, MostEvents)
	}
}

// events estimates the number of switching events in a second, those of a rotor that steps the gates or drives the
// diodes among them. Where little happens, the longest strides count as events.
func (s *Scenario) events() float64 {
	g := s.Gating
	turns := max(math.Abs(g.Frequency), math.Abs(s.startSpeed())*float64(s.Machine.PolePairs)/(2*math.Pi))
	switch {
	case g.Kind.NeedsCarrier() && g.Carrier > 0:
		return 6*g.Carrier + 12*turns
	case g.Kind.NeedsCarrier():
		return (6*g.CarrierRatio + 12) * turns
	}
	return max(12*turns, 1/longest)
}
