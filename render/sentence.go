package render

import (
	"math"
	"strings"

	"sextant/inverter"
	"sextant/motor"
	"sextant/motor/drive"
)

// Sentence says in plain words, with numbers, what happens at an instant: which switches are on, which way
// the current takes, where the field points and what comes of it. s may be nil; a machine is then taken for
// one with a magnet.
func Sentence(now *drive.Instant, s *drive.Scenario) string {
	var b strings.Builder
	b.Grow(240)
	b.WriteString(brokenWords(now, s))
	b.WriteString(gatesWords(now))
	flows := currents(now)
	if len(flows.in) == 0 || len(flows.out) == 0 {
		if ring := ringWords(now); ring != "" {
			b.WriteString("; no lead carries current" + ring)
			if !passive(s) && math.Abs(now.Torque) >= 1e-6 {
				b.WriteString(torqueWords(now))
			} else {
				b.WriteString(".")
			}
			return b.String()
		}
		b.WriteString("; no current flows")
		if !passive(s) {
			b.WriteString(", no torque")
		}
		if turning(now) && now.Gates == 0 && peakOf(now.EMF) > 0 {
			b.WriteString(", but the turning magnet still makes ")
			b.WriteString(quantity(peakOf(now.EMF), "V"))
			b.WriteString(" in a winding")
		}
		b.WriteString(".")
		return b.String()
	}
	b.WriteString(": ")
	b.WriteString(pathWords(now, flows))
	if d := diodeWords(now); d != "" {
		b.WriteString(", ")
		b.WriteString(d)
	}
	if back := -now.Supply; back > noticed(now.Current) {
		b.WriteString("; ")
		b.WriteString(quantity(back, "A"))
		b.WriteString(" flows back into the supply")
	}
	b.WriteString(ringWords(now))
	b.WriteString("; the field points to ")
	field := now.FieldVector().Angle()
	b.WriteString(degrees(field))
	if passive(s) {
		b.WriteString(".")
		return b.String()
	}
	b.WriteString(aheadWords(field - now.Rotor))
	b.WriteString(torqueWords(now))
	return b.String()
}

// ringWords says what circulates in shorted turns.
func ringWords(now *drive.Instant) string {
	if math.Abs(now.Turns) < 1e-6 {
		return ""
	}
	return "; " + quantity(math.Abs(now.Turns), "A") + " circulates in the shorted turns"
}

// passive reports whether s has a load without a magnet.
func passive(s *drive.Scenario) bool { return s != nil && s.Machine.Kind == motor.Passive }

// gatesWords says which switches are on.
func gatesWords(now *drive.Instant) string {
	if now.Gates.Shorts() {
		for _, p := range inverter.Phases {
			if now.Gates.Has(inverter.High(p)) && now.Gates.Has(inverter.Low(p)) {
				return "Shoot-through: " + inverter.High(p).String() + " and " + inverter.Low(p).String() + " are both on and short the supply"
			}
		}
	}
	switch names := now.Gates.Names(); {
	case now.Gates == inverter.AllLow:
		return "All lower switches are on"
	case now.Gates == inverter.AllHigh:
		return "All upper switches are on"
	case len(names) == 0:
		return "All switches are off"
	case len(names) == 1:
		return "Only " + names[0] + " is on"
	default:
		return strings.Join(names, " ") + " are on"
	}
}

// A flow is which phases carry current into the machine, which out of it, and how much there is.
type flow struct {
	in, out []inverter.Phase
	total   float64
}

// currents sorts the phases by the sense of their currents; one of less than a two-hundredth of
// the greatest counts as carrying none.
func currents(now *drive.Instant) flow {
	var f flow
	least := noticed(now.Current)
	for _, p := range inverter.Phases {
		switch i := now.Current[p]; {
		case i > least:
			f.in = append(f.in, p)
			f.total += i
		case i < -least:
			f.out = append(f.out, p)
		}
	}
	return f
}

// noticed is the current in A above which one beside x is worth words.
func noticed(x inverter.ABC) float64 { return max(5e-3*peakOf(x), 1e-6) }

func peakOf(x inverter.ABC) float64 {
	return max(math.Abs(x[0]), math.Abs(x[1]), math.Abs(x[2]))
}

func turning(now *drive.Instant) bool { return math.Abs(now.Speed) > 1e-9 }

// pathWords says where the current enters and leaves, or that it circulates past the supply.
func pathWords(now *drive.Instant, f flow) string {
	w := quantity(f.total, "A")
	switch {
	case every(now, inverter.Way.Lower):
		return w + " circulates by the lower rail, in at " + join(f.in) + ", out at " + join(f.out)
	case every(now, inverter.Way.Upper):
		return w + " circulates by the upper rail, in at " + join(f.in) + ", out at " + join(f.out)
	}
	return w + " enters at " + join(f.in) + " and leaves at " + join(f.out)
}

// every reports whether all legs that carry current do it on one side.
func every(now *drive.Instant, side func(inverter.Way) bool) bool {
	for _, way := range now.Ways {
		if way != inverter.Idle && !side(way) {
			return false
		}
	}
	return true
}

// diodeWords names the legs whose current runs by a diode, which gates alone would not tell.
func diodeWords(now *drive.Instant) string {
	var legs []inverter.Phase
	for _, p := range inverter.Phases {
		off := !now.Gates.Has(inverter.High(p)) && !now.Gates.Has(inverter.Low(p))
		if off && now.Ways[p].Diode() {
			legs = append(legs, p)
		}
	}
	switch len(legs) {
	case 0:
		return ""
	case 1:
		side := "lower"
		if now.Ways[legs[0]].Upper() {
			side = "upper"
		}
		return "at " + legs[0].String() + " by the " + side + " diode"
	case 3:
		return "all by diodes"
	default:
		return "at " + join(legs) + " by diodes"
	}
}

// join lists phases: "V", "V and W", "U, V and W".
func join(phases []inverter.Phase) string {
	switch len(phases) {
	case 0:
		return "none"
	case 1:
		return phases[0].String()
	case 2:
		return phases[0].String() + " and " + phases[1].String()
	default:
		return phases[0].String() + ", " + phases[1].String() + " and " + phases[2].String()
	}
}

// aheadWords says where the field stands as seen from the rotor.
func aheadWords(rad float64) string {
	deg := math.Round(math.Remainder(rad, 2*math.Pi) * 180 / math.Pi)
	switch {
	case math.IsNaN(deg):
		return ""
	case deg == 0:
		return ", in line with the rotor"
	case deg < 0:
		return ", " + degrees(-deg*math.Pi/180) + " behind the rotor"
	}
	return ", " + degrees(deg*math.Pi/180) + " ahead of the rotor"
}

// torqueWords says what the torque does: pulls, holds back, or turns from rest.
func torqueWords(now *drive.Instant) string {
	pull := quantity(math.Abs(now.Torque), "N m")
	sense := "forward"
	if now.Torque < 0 {
		sense = "backward"
	}
	switch {
	case math.Abs(now.Torque) < 1e-6:
		return " and makes no torque."
	case !turning(now):
		return ": it pulls " + sense + " with " + pull + "."
	case now.Torque*now.Speed < 0:
		return ": it holds back with " + pull + ", the shaft drives."
	}
	return ": it pulls " + sense + " with " + pull + "."
}
