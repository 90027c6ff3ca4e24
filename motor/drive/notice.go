package drive

import (
	"fmt"
	"math"

	"sextant/inverter"
	"sextant/inverter/si"
)

// A Notice tells of something that happened to the drive and that its figures alone would not say.
type Notice struct {
	Time float64 `json:"time_s"`
	Text string  `json:"text"`
}

// A LinkError says that the bridge draws more from the link than its source can give, so that the voltage
// between the rails turns round, where every leg's diodes would conduct together.
type LinkError struct {
	Time    float64 // s
	Voltage float64 // V
}

// Error says when, and what would help.
func (e *LinkError) Error() string {
	return fmt.Sprintf("at %.9g s: the link collapses to %.4g V: its source is too weak for what the bridge draws; lower supply.resistance or the current", e.Time, e.Voltage)
}

// mostNotices is how many are kept; what happens more often says nothing new.
const mostNotices = 100

// Notices returns what has happened, in order of time.
func (d *Drive) Notices() []Notice { return d.notices[:len(d.notices):len(d.notices)] }

func (d *Drive) tell(t float64, format string, args ...any) {
	if len(d.notices) < mostNotices {
		d.notices = append(d.notices[:len(d.notices):len(d.notices)], Notice{t, fmt.Sprintf(format, args...)})
	}
}

// tellRefusal tells of the first time that the source takes back no more.
func (d *Drive) tellRefusal(t float64) {
	if !d.plant.refusing || d.refused {
		return
	}
	d.refused = true
	if d.plant.limit == 0 {
		d.tell(t, "the supply takes no charge from %s on: what the machine sends back raises the link's voltage", si.Time.Format(t, 3))
		return
	}
	d.tell(t, "the supply takes back no more than %.4g A from %s on: the rest raises the link's voltage", d.plant.limit, si.Time.Format(t, 3))
}

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

// clockFrequency returns the frequency in Hz at which the clock turns a voltage vector, 0 where it turns
// none.
func (s *Scenario) clockFrequency() float64 {
	g := &s.Gating
	if g.Follow != Clock || !g.Kind.Stepped() && !g.Kind.Compares() {
		return 0
	}
	return math.Abs(g.Frequency)
}
