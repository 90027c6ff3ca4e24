package drive

import (
	"math"

	"sextant/inverter"
)

// A lag watches whether a free rotor keeps step with the field that a clock turns.
type lag struct {
	watched bool
	last    float64 // rad, how far the voltage vector is ahead of the q axis, within a turn
	total   float64 // rad, the same with whole turns counted
	told    bool
}

// begin starts to watch where there is a free magnet and a field that turns by itself.
func (s *lag) begin(d *Drive, t float64, st *state) {
	*s = lag{told: s.told}
	if !d.plant.free || d.plant.psi == 0 || d.scenario.clockFrequency() == 0 {
		return
	}
	if _, ok := d.gate.angle(t); ok {
		s.watched = true
		s.last = d.ahead(t, st)
		s.total = s.last
	}
}

// ahead returns how far the clock's voltage vector is ahead of the q axis, in the sense in which its field
// turns, in rad within half a turn. Crossed leads mirror the vector at the axis of the phase that is not.
func (d *Drive) ahead(t float64, st *state) float64 {
	angle, _ := d.gate.angle(t)
	sense := math.Copysign(1, d.scenario.Gating.Frequency)
	for k := range axes {
		if right := d.plant.winding(k) == k; right && d.plant.axes != axes {
			angle = 2*inverter.Phase(k).Axis() - angle
			sense = -sense
		}
	}
	return off(angle, st.theta+sense*math.Pi/2)
}

// follow looks again. When the voltage has run half a turn ahead of the q axis, or fallen half a turn
// behind, its pull has changed sign: the rotor is out of step.
func (s *lag) follow(d *Drive, t float64, st *state) {
	if !s.watched {
		return
	}
	now := d.ahead(t, st)
	s.total += off(now, s.last)
	s.last = now
	if math.Abs(s.total) < math.Pi {
		return
	}
	s.total -= math.Copysign(2*math.Pi, s.total)
	if !s.told {
		s.told = true
		d.tell(t, "the rotor fell out of step at %.6g s: the field turns without it", t)
	}
}
