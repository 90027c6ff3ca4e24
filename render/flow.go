package render

import (
	"sextant/inverter"
	"sextant/motor/drive"
)

// A wire is a stretch of the bridge's wiring that carries one current.
type wire uint8

// The wires. Rails run from the supply outwards; each leg's branches run from its rail to its terminal.
const (
	sourceTop    wire = iota // supply to link, positive rail
	sourceBottom             // link to supply, negative rail
	topRail                  // three stretches: link to leg U, U to V, V to W
	bottomRail   = topRail + 3
	upperBranch  = bottomRail + 3 // one a leg: rail to terminal
	lowerBranch  = upperBranch + 3
	terminal     = lowerBranch + 3 // one a phase: terminal to machine
	capacitor    = terminal + 3    // positive rail to negative
	wires        = capacitor + 1
)

// wireCurrent returns the current of w in A. Positive is away from the positive pole of the supply, by
// the upper branches to the machine, and back by lower branches and negative rail; a lower branch's is
// counted from the terminal to the rail, the negative rail's towards the supply.
func wireCurrent(w wire, now *drive.Instant) float64 {
	switch {
	case w <= sourceBottom:
		return now.Supply
	case w < bottomRail:
		return railCurrent(now, inverter.Phase(w-topRail), inverter.Way.Upper)
	case w < upperBranch:
		return -railCurrent(now, inverter.Phase(w-bottomRail), inverter.Way.Lower)
	case w < lowerBranch:
		return legCurrent(now, inverter.Phase(w-upperBranch), inverter.Way.Upper)
	case w < terminal:
		return -legCurrent(now, inverter.Phase(w-lowerBranch), inverter.Way.Lower)
	case w < capacitor:
		return now.Current[w-terminal]
	default:
		return now.Supply - now.LinkCurrent
	}
}

// legCurrent returns what leg p's phase draws by the rail that side names.
func legCurrent(now *drive.Instant, p inverter.Phase, side func(inverter.Way) bool) float64 {
	if side(now.Ways[p]) {
		return now.Current[p]
	}
	return 0
}

// railCurrent returns what leg from and those beyond it draw by the rail that side names.
func railCurrent(now *drive.Instant, from inverter.Phase, side func(inverter.Way) bool) float64 {
	sum := 0.0
	for p := from; p <= inverter.W; p++ {
		sum += legCurrent(now, p, side)
	}
	return sum
}
