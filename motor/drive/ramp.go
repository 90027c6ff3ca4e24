package drive

import (
	"math"

	"sextant/inverter"
)

// A ramp turns a voltage vector whose frequency moves towards its command at a bounded rate, and whose
// length goes with its frequency, from a boost at standstill that overcomes the windings' resistance.
type ramp struct {
	since   float64 // s, when frequency and angle were as follows
	from    float64 // Hz
	angle0  float64 // rad
	to      float64 // Hz
	rate    float64 // Hz/s
	full    float64 // modulation at the commanded frequency
	boost   float64 // modulation at standstill
	started bool
}

// retune takes a new command from t on; frequency and angle go on from where they are.
func (r *ramp) retune(t float64, g *Gating) {
	next := ramp{since: t, to: g.Frequency, rate: g.Ramp, full: g.Modulation, boost: g.Boost, started: true, angle0: g.Phase}
	if r.started {
		next.from, next.angle0 = r.frequency(t), r.angle(t)
	}
	*r = next
}

// way returns how long the ramp takes to its command, in s, and its rate with its sign.
func (r *ramp) way() (time, rate float64) {
	rise := r.to - r.from
	return math.Abs(rise) / r.rate, math.Copysign(r.rate, rise)
}

func (r *ramp) frequency(t float64) float64 {
	time, rate := r.way()
	if t-r.since >= time {
		return r.to
	}
	return r.from + rate*(t-r.since)
}

// angle returns the angle of the voltage vector at time t, in rad.
func (r *ramp) angle(t float64) float64 {
	time, rate := r.way()
	x := t - r.since
	up := min(x, time)
	return r.angle0 + 2*math.Pi*(r.from*up+rate*up*up/2+r.to*(x-up))
}

func (r *ramp) reference(t float64) inverter.ABC {
	m := r.boost
	if r.to != 0 {
		m += (r.full - r.boost) * math.Abs(r.frequency(t)/r.to)
	}
	s, c := math.Sincos(r.angle(t))
	return inverter.Vector{Alpha: m * c, Beta: m * s}.ABC()
}
