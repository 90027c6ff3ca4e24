package drive

import (
	"fmt"

	"sextant/inverter/si"
)

// A Notice tells of something that happened to the drive and that its figures alone would not say.
type Notice struct {
	Time float64 `json:"time_s"`
	Text string  `json:"text"`
}

// A linkError says that the bridge draws more from the link than its source can give, so that the voltage
// between the rails turns round, where every leg's diodes would conduct together.
type linkError struct {
	time    float64 // s
	voltage float64 // V
}

// Error says when, and what would help.
func (e *linkError) Error() string {
	return fmt.Sprintf("at %.9g s: the link collapses to %.4g V: its source is too weak for what the bridge draws; lower supply.resistance or the current", e.time, e.voltage)
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
