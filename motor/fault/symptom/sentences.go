package symptom

import (
	"fmt"
	"math"
	"slices"

	"sextant/motor/drive"
)

// sentences says all signs, by state.
func (x *Symptoms) sentences() (says []string) {
	if s := x.unread(); s != "" {
		says = append(says, s)
	}
	for _, c := range x.States {
		for _, s := range c.Signs {
			says = append(says, title(c.State.String())+": "+s)
		}
	}
	if len(x.States) == 1 {
		says = append(says, "No other state of running follows from this drive's settings.")
	}
	switch {
	case x.Start == nil:
	case x.stalled():
		says = append(says, "Standstill: the torque to start is there, the shaft does not follow.")
	default:
		says = append(says, "Standstill: "+x.Start.sentence())
	}
	return says
}

// stalled reports whether the shaft stands still in spite of being turned.
func (x *Symptoms) stalled() bool {
	return slices.ContainsFunc(x.States, func(c Comparison) bool { return c.Healthy.Speed != 0 && c.Faulty.Speed == 0 && c.Failed == "" })
}

// unread says why a fault cannot show: nothing in this drive reads what is wrong, or it is not there.
func (x *Symptoms) unread() string {
	follow := x.Scenario.Gating.Follow
	switch x.As.Kind {
	case drive.PositionSensorStuck, drive.PositionSensorSwapped:
		if follow != drive.Rotor {
			return "This drive's gating reads no such sensors, so they cannot show."
		}
	case drive.PositionSensorOffset:
		if follow == drive.Clock {
			return "This drive's gating follows a clock and reads no position."
		}
	case drive.CurrentSensorOffset, drive.CurrentSensorGain:
		if follow != drive.Current {
			return "This drive's gating reads no currents."
		}
	case drive.CapacitorAged, drive.CapacitorResistance:
		if x.Scenario.Supply.Capacitance == 0 {
			return "This drive's link is stiff and has no capacitor to age; give supply.capacitance and supply.resistance."
		}
	}
	return ""
}

// sentence says whether the drive starts, and from where not.
func (s *Start) sentence() string {
	if s.Tripped {
		return "it trips before it starts."
	}
	low, high := extremes(s.Faulty)
	was, most := extremes(s.Healthy)
	with := fmt.Sprintf("start torque %s to %s N m by rotor angle (healthy %s to %s, needed %s)", number(low), number(high), number(was), number(most), number(s.Needed))
	switch share := s.Share(); {
	case s.Clocked && s.Field < 0:
		return "the field turns backward, and the rotor with it; were the field held across the magnet, " + with + "."
	case len(s.Dead) == 0:
		return "it starts from every rotor angle; " + with + "."
	case share == 1 && high <= 0:
		return "it does not start forward from any rotor angle; " + with + "."
	case share == 1:
		return "it does not start from any rotor angle; " + with + "."
	}
	var where []string
	for _, d := range s.Dead {
		where = append(where, fmt.Sprintf("%.0f deg (from %.0f to %.0f)", d.Middle(), d.From, d.To))
	}
	how := "it hums and does not start"
	if low < -s.Needed {
		how = "it stays, or is driven backward,"
	}
	return how + " with the rotor near " + and(where) + ", electrical; pushed off them it does; " + with + "."
}

// extremes returns the least and the greatest of x, rounded to a thousandth of the greatest size.
func extremes(x []float64) (low, high float64) {
	low, high = slices.Min(x), slices.Max(x)
	grain := math.Max(-low, high) / 1000
	if grain == 0 {
		return 0, 0
	}
	return grain * math.Round(low/grain), grain * math.Round(high/grain)
}

func title(s string) string { return string(s[0]-'a'+'A') + s[1:] }
