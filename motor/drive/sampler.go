package drive

import (
	"math"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// A sampler commands by references that it renews at the carrier's minima and maxima (at the minima alone
// under regular sampling) and holds between, as a processor does. What is computed from one sample is
// applied from the next.
type sampler struct {
	kind    pattern.Kind
	slope   float64      // s, half a carrier period
	origin  float64      // s, where the carrier is at its minimum
	begun   float64      // slopes begun
	single  bool         // samples at the minima alone
	ref     inverter.ABC // held now
	next    inverter.ABC // computed from the last sample
	half    pattern.Half
	edge    int
	dead    pattern.DeadTime
	ramped  bool // the references come from the ramp, else from the control
	ramp    ramp
	control control
	sense   sensors
}

func newSampler(s *Scenario, p *plant, st *state, t float64) sampler {
	x := sampler{origin: t, sense: perfect}
	x.retune(t, s, p)
	x.next = x.reference(t, st, p, p.voltage, 0.5)
	x.dead = pattern.NewDeadTime(s.Gating.DeadTime, 0)
	x.slopeBegins(t, st, p, p.voltage)
	x.dead = pattern.NewDeadTime(s.Gating.DeadTime, x.half.Start)
	return x
}

// retune takes over the scenario's settings and leaves what has been learnt as it is.
func (x *sampler) retune(t float64, s *Scenario, p *plant) {
	g := &s.Gating
	x.kind, x.slope = g.Kind, 0.5/g.Carrier
	x.single = g.Sampling == pattern.Regular
	x.ramped = g.Follow == Clock
	x.dead.Delay = g.DeadTime
	if x.ramped {
		x.ramp.retune(t, g)
		return
	}
	x.control.tune(s, p, x.every())
}

// every returns the sampling period, in s.
func (x *sampler) every() float64 {
	if x.single {
		return 2 * x.slope
	}
	return x.slope
}

// takeOver begins with gates that another rule has left on.
func (x *sampler) takeOver(t, delay float64, gates inverter.Gates) {
	x.dead = pattern.NewDeadTime(delay, gates)
	x.dead.Command(t, x.half.Start)
}

// reference returns the pole references for a stretch whose middle lies so many sampling periods ahead.
func (x *sampler) reference(t float64, st *state, p *plant, link, ahead float64) inverter.ABC {
	ahead *= x.every()
	if x.ramped {
		return x.ramp.reference(t + ahead)
	}
	v := x.control.voltage(x.sense.read(st, p), p, link)
	v = v.Turn(-(st.theta + x.sense.ahead + p.pairs*st.speed*ahead))
	ref := v.ABC()
	for k := range ref {
		ref[k] /= max(link, 1e-9*p.voltage) / 2
	}
	return ref
}

func (x *sampler) slopeEnds() float64 { return x.origin + x.begun*x.slope }

func (x *sampler) peek() float64 {
	t := min(x.slopeEnds(), x.dead.Peek())
	if x.edge < x.half.N {
		t = min(t, x.half.Edges[x.edge].Time)
	}
	return t
}

func (x *sampler) take(t float64, st *state, p *plant, link float64) {
	for x.edge < x.half.N && x.half.Edges[x.edge].Time <= t {
		x.dead.Command(t, x.half.Edges[x.edge].Gates)
		x.edge++
	}
	if x.slopeEnds() <= t {
		x.slopeBegins(t, st, p, link)
	}
	x.dead.Expire(t)
}

// slopeBegins puts the reference of the last sample to work and computes the next from a new sample.
func (x *sampler) slopeBegins(t float64, st *state, p *plant, link float64) {
	rising := math.Mod(x.begun, 2) == 0
	sample := rising || !x.single
	if sample {
		x.ref = x.next
	}
	x.begun++
	x.half = pattern.HalfPeriod(x.kind, x.ref, t, x.slopeEnds(), rising)
	x.edge = 0
	x.dead.Command(t, x.half.Start)
	if sample {
		x.next = x.reference(t, st, p, link, 1.5)
	}
}
