package render

import (
	"math"
	"strings"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor"
	"sextant/motor/drive"
)

// An Explanation says of a part of the stage what it is, what it reads now, and by which equation. One
// without a Title has nothing to say.
type Explanation struct {
	Title    string
	Value    string
	Equation string
}

// Explain explains a part of the stage at the view's instant. Currents are positive into the machine,
// powers on their way from supply to shaft.
func Explain(part Part, v *View) Explanation {
	s := v.Scenario
	if s == nil {
		s = &drive.Scenario{}
	}
	now := &v.Now
	switch part.Kind {
	case GatePart:
		return explainGate(part.Switch, now, s)
	case DevicePart:
		return explainDevice(part.Switch, now, s)
	case DiodePart:
		return explainDiode(part.Switch, now, s)
	case WirePart:
		return explainWire(part.Phase, now, s)
	case SupplyPart:
		return Explanation{
			"Supply", quantity(now.Link, "V") + ", " + signed(now.Supply, "A") + ", " + signed(now.Power.Supply, "W") + supplySense(now),
			"P = v i, positive out of the supply",
		}
	case LinkPart:
		return Explanation{
			"Link capacitor", quantity(now.Link, "V") + ", " + signed(now.Supply-now.LinkCurrent, "A") + " into it",
			"C dv/dt = i of the supply – i into the bridge",
		}
	case RotorPart:
		return explainRotor(now, s)
	case StatorPart:
		return explainStator(now, s)
	case CornerPart:
		if part.Corner < 0 || part.Corner >= len(inverter.Active) {
			return Explanation{}
		}
		return Explanation{
			"Voltage vector of " + Towards(now, part.Corner).String(),
			quantity(2.0/3*now.Link, "V") + " towards " + degrees(cornerAngle(part.Corner)),
			"v = 2/3 (v_U + a v_V + a² v_W), where a turns by 120°",
		}
	case LanePart:
		return explainLane(part.Lane, now, s)
	case LedgerPart:
		return explainRow(part.Row, now)
	}
	return Explanation{}
}

func supplySense(now *drive.Instant) string {
	switch {
	case now.Power.Supply > 0:
		return ": it feeds the bridge"
	case now.Power.Supply < 0:
		return ": it is charged"
	}
	return ""
}

func explainGate(sw inverter.Switch, now *drive.Instant, s *drive.Scenario) Explanation {
	e := Explanation{Title: "Gate of " + sw.String(), Value: "off"}
	if now.Gates.Has(sw) {
		e.Value = "on"
	}
	g := &s.Gating
	switch side := "above"; {
	case g.Kind == pattern.ByHand:
		e.Equation = "set by hand; never together with " + sw.Other().String()
	case g.Follow == drive.Rotor:
		e.Equation = "stepped by the rotor's position sensors"
	case g.Kind.Compares():
		if !sw.High() {
			side = "below"
		}
		e.Equation = "on while the reference of " + sw.Leg().String() + " is " + side + " the carrier"
	default:
		e.Equation = "switched by the pattern " + g.Kind.String()
	}
	if g.DeadTime > 0 {
		e.Equation += ", a dead time of " + quantity(g.DeadTime, "s") + " later"
	}
	return e
}

// across returns the voltage from the upper to the lower end of a switch.
func across(sw inverter.Switch, now *drive.Instant) float64 {
	if sw.High() {
		return now.Link - now.Pole[sw.Leg()]
	}
	return now.Pole[sw.Leg()]
}

// through returns the current in A down through a switch's channel, and whether it carries one; likewise
// through its diode.
func through(sw inverter.Switch, now *drive.Instant, diode bool) (float64, bool) {
	way := now.Ways[sw.Leg()]
	side := way.Lower()
	i := -now.Current[sw.Leg()]
	if sw.High() {
		side, i = way.Upper(), -i
	}
	return i, side && way.Diode() == diode
}

func explainDevice(sw inverter.Switch, now *drive.Instant, s *drive.Scenario) Explanation {
	e := Explanation{Title: "Switch " + sw.String() + ", insulated-gate bipolar transistor"}
	if s.Switches.BothWays {
		e.Title = "Switch " + sw.String() + ", MOSFET"
	}
	if i, on := through(sw, now, false); on {
		e.Value = "carries " + signed(i, "A") + ", drop " + quantity(across(sw, now), "V")
	} else {
		e.Value = "carries nothing, " + quantity(across(sw, now), "V") + " across it"
	}
	e.Equation = "ideal: no drop while it carries"
	if t, r := s.Switches.ChannelThreshold, s.Switches.ChannelResistance; t != 0 || r != 0 {
		e.Equation = "v = " + quantity(t, "V") + " + " + quantity(r, "Ω") + " × i"
	}
	return e
}

func explainDiode(sw inverter.Switch, now *drive.Instant, s *drive.Scenario) Explanation {
	e := Explanation{Title: "Diode of " + sw.String(), Value: "blocks " + quantity(across(sw, now), "V")}
	if i, on := through(sw, now, true); on {
		e.Value = "carries " + quantity(math.Abs(i), "A") + " upwards"
	}
	e.Equation = "ideal: carries upwards only, no drop"
	if t, r := s.Switches.DiodeThreshold, s.Switches.DiodeResistance; t != 0 || r != 0 {
		e.Equation = "v = " + quantity(t, "V") + " + " + quantity(r, "Ω") + " × i"
	}
	return e
}

func explainWire(ph inverter.Phase, now *drive.Instant, s *drive.Scenario) Explanation {
	e := Explanation{
		Title: "Phase " + ph.String(),
		Value: signed(now.Current[ph], "A") + " into the machine, " + signed(now.Phase[ph], "V") + " to the star point",
	}
	if passive(s) {
		e.Equation = "v = R i + L di/dt"
	} else {
		e.Equation = "v = R i + d(flux)/dt; the magnet's part, the EMF, is " + signed(now.EMF[ph], "V")
	}
	return e
}

func explainRotor(now *drive.Instant, s *drive.Scenario) Explanation {
	if passive(s) {
		return Explanation{"Star point", "the three currents meet here and sum to 0 A", "i_U + i_V + i_W = 0"}
	}
	return Explanation{
		"Rotor", degrees(now.Rotor) + " electrical, " + figures(now.RPM(), 5000) + " rpm, torque " + signed(now.Torque, "N m"), torqueLaw(&s.Machine),
	}
}

func explainStator(now *drive.Instant, s *drive.Scenario) Explanation {
	if passive(s) {
		return Explanation{"Coils, each with its resistance", three(now.Current, "A"), "v = R i + L di/dt"}
	}
	flux, _ := gapFlux(now, s, 0)
	at := angleOf(flux)
	if at != "-" {
		at += " and" + strings.TrimPrefix(aheadWords(flux.Angle()-now.Rotor), ",")
	}
	return Explanation{
		"Stator; its teeth are shaded by the field in the air gap", "flux " + quantity(flux.Abs(), "Wb") + " a winding, towards " + at,
		"ψ_d = ψ + L_d i_d, ψ_q = L_q i_q; around the gap it goes as the cosine",
	}
}

// torqueLaw returns the equation of the torque, as plain as the machine allows.
func torqueLaw(m *motor.Machine) string {
	switch {
	case m.EMF == motor.Trapezoid:
		return "T = (e_U i_U + e_V i_V + e_W i_W) / mechanical speed"
	case m.InductanceD == m.InductanceQ:
		return "T = 3/2 p ψ i_q, p pole pairs, ψ the magnet's flux"
	}
	return "T = 3/2 p [ψ i_q + (L_d – L_q) i_d i_q]"
}

// explainLane explains a lane of the tape.
func explainLane(lane Lane, now *drive.Instant, s *drive.Scenario) Explanation {
	switch lane {
	case GateLane:
		return Explanation{"Gates", strings.TrimSpace("on: " + now.Gates.String()), "a bar while a gate is on; never both of a leg"}
	case PoleLane:
		return Explanation{"Pole voltages, leg to negative rail", three(now.Pole, "V"), "the link's voltage while the upper side carries, 0 while the lower does"}
	case LineLane:
		l := now.Line()
		return Explanation{"Line voltages", "UV " + signed(l[0], "V") + ", VW " + signed(l[1], "V") + ", WU " + signed(l[2], "V"), "v_UV = pole voltage of U – pole voltage of V"}
	case PhaseLane:
		return Explanation{"Phase voltages, terminal to star point", three(now.Phase, "V"), "v_U = pole voltage of U – mean of the three, in a sound machine"}
	case CurrentLane:
		return Explanation{"Currents, positive into the machine", three(now.Current, "A"), "i_U + i_V + i_W = 0: the star point is isolated"}
	case TorqueLane:
		return Explanation{"Torque, positive from U to V to W", signed(now.Torque, "N m"), torqueLaw(&s.Machine)}
	case LinkVoltageLane:
		return Explanation{"Link voltage, between the rails", signed(now.Link, "V"), "the supply's, less what its resistance drops; a link capacitor holds it"}
	case SupplyLane:
		return Explanation{"Supply current, out of the source", signed(now.Supply, "A"), "link current plus what the link capacitor takes"}
	case EMFLane:
		return Explanation{"EMF of the turning magnet, per phase", three(now.EMF, "V"), "e = d(flux of the magnet)/dt: it grows with the speed"}
	case DQLane:
		return Explanation{"Currents in the rotor's frame", "d " + signed(now.ID, "A") + ", q " + signed(now.IQ, "A"), "d along the magnet, q 90° ahead of it"}
	case PowerLane:
		return Explanation{"Power", "in from the supply " + signed(now.Power.Supply, "W") + ", out at the shaft " + signed(now.Power.Shaft, "W"), "P = v i, P = torque × mechanical speed"}
	case SpeedLane:
		return Explanation{"Speed", figures(now.RPM(), 5000) + " rpm", "inertia × d(speed)/dt = torque – load – friction, on a free shaft"}
	case LinkLane:
		return Explanation{"Link current, into the bridge", signed(now.LinkCurrent, "A"), "the sum of the currents of the legs that carry by the upper side"}
	}
	return Explanation{}
}

func three(x inverter.ABC, unit string) string {
	return "U " + signed(x[0], unit) + ", V " + signed(x[1], unit) + ", W " + signed(x[2], unit)
}

// rowLaws are the ledger's equations.
var rowLaws = [len(ledgerRows)][2]string{
	{"Power out of the supply", "P = v i"},
	{"Heat in switches and diodes", "P = sum of v i over all that carry"},
	{"Heat in the windings", "P = R (i_U² + i_V² + i_W²)"},
	{"Power into magnetic field and link capacitor", "P = d/dt (field energy + 1/2 C v²)"},
	{"Power out at the shaft", "P = torque × mechanical speed; negative when the shaft drives"},
}

func explainRow(k int, now *drive.Instant) Explanation {
	if k < 0 || k >= len(ledgerRows) {
		return Explanation{}
	}
	return Explanation{rowLaws[k][0], signed(ledgerRows[k].of(&now.Power), "W"), rowLaws[k][1]}
}
