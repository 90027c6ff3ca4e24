package symptom

import (
	"sextant/inverter"
	"sextant/motor/drive"
)

// A DiodeCheck is what a meter's diode test reads between two points of a de-energised drive.
type DiodeCheck struct {
	Plus    string `json:"plus_lead"`  // "+", "-" rail, or a phase
	Minus   string `json:"minus_lead"` // another of them
	Leads   string `json:"motor_leads"`
	Drops   *int   `json:"drops"` // diodes in the way; 0 is a short; nil is open
	Reading string `json:"reading"`
}

// The points that a diode test can touch: the phases' terminals, then the rails.
const (
	positiveRail = 3
	negativeRail = 4
	points       = 5
)

var pointNames = [points]string{"U", "V", "W", "+", "-"}

// A path leads from a point to another over so many diodes.
type path struct{ from, to, drops int }

// diodeChecks returns the checks between rails and phases, both ways, then from rail to rail, with the motor's
// leads off and on. With both switches of every leg off what conducts is the diodes, what is shorted, and the
// windings, whose resistance a diode test does not notice.
func diodeChecks(f drive.Fault, siliconCarbide bool) []DiodeCheck {
	var checks []DiodeCheck
	for _, on := range [2]bool{false, true} {
		paths := bridgePaths(f, on)
		for _, ends := range checkedPairs() {
			c := DiodeCheck{Plus: pointNames[ends[0]], Minus: pointNames[ends[1]], Leads: "off"}
			if on {
				c.Leads = "on"
			}
			if drops := fewest(paths, ends[0], ends[1]); drops < points {
				c.Drops = &drops
			}
			c.Reading = readingOf(c.Drops, siliconCarbide)
			checks = append(checks, c)
		}
	}
	return checks
}

func checkedPairs() (pairs [][2]int) {
	for _, k := range inverter.Phases {
		p := int(k)
		pairs = append(pairs, [2]int{negativeRail, p}, [2]int{p, positiveRail}, [2]int{p, negativeRail}, [2]int{positiveRail, p})
	}
	return append(pairs, [2]int{negativeRail, positiveRail}, [2]int{positiveRail, negativeRail})
}

func bridgePaths(f drive.Fault, motorOn bool) (paths []path) {
	for _, x := range inverter.Switches {
		from, to := negativeRail, int(x.Leg())
		if x.High() {
			from, to = to, positiveRail
		}
		hit := f.Kind.OfSwitch() && f.Switch == x
		switch {
		case hit && f.Kind == drive.SwitchShort:
			paths = append(paths, path{from, to, 0}, path{to, from, 0})
		case hit && f.Kind == drive.DiodeOpen:
		default:
			paths = append(paths, path{from, to, 1})
		}
	}
	if !motorOn {
		return paths
	}
	for _, k := range inverter.Phases {
		a, b := k, k.Next()
		if f.Kind == drive.PhaseOpen && (f.Phase == a || f.Phase == b) {
			continue
		}
		paths = append(paths, path{int(a), int(b), 0}, path{int(b), int(a), 0})
	}
	return paths
}

// fewest returns the least number of diodes between two points, points where there is no way.
func fewest(paths []path, from, to int) int {
	var best [points]int
	for i := range best {
		best[i] = points
	}
	best[from] = 0
	for range points {
		for _, p := range paths {
			best[p.to] = min(best[p.to], best[p.from]+p.drops)
		}
	}
	return best[to]
}

// readingOf says what a meter shows over so many diodes: common practice for silicon, and for the body diodes
// of silicon carbide, whose knee is higher than some meters' test voltage.
func readingOf(drops *int, siliconCarbide bool) string {
	switch {
	case drops == nil:
		return "open"
	case *drops == 0:
		return "short, about 0 V"
	case siliconCarbide:
		return "1 to 2.5 V a diode, or open on a meter with less"
	case *drops == 1:
		return "0.3 to 0.7 V"
	}
	return "0.7 to 1.2 V"
}
