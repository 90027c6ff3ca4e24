package show

import (
	"fmt"
	"math"
	"strings"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor"
	"sextant/motor/drive"
	"sextant/motor/fault/symptom"
	"sextant/render"
)

// Where a lesson hides its fault, the hand neither breaks nor mends: it probes. A clamp goes round a wire while the
// drive runs; a meter goes to the leads and devices of one that is off, locked out and proved dead.

// keepsHidden says, in an exercise, that a wish which would touch or tell the fault is not granted.
func (s *Show) keepsHidden() bool {
	if s.Hiding() {
		s.say("In this exercise nothing is broken or mended by hand: press a wire or a device to measure there, then name the fault.")
	}
	return s.Hiding()
}

// probe measures at a part of the stage.
func (s *Show) probe(at render.Part) {
	sc := s.drive.Scenario()
	switch dead := proved(&sc); {
	case at.Kind == render.WirePart && dead:
		s.say(safe + s.ohms(&sc, at.Phase))
	case at.Kind == render.WirePart:
		s.say(s.clamp(at.Phase))
	case dead:
		s.say(safe + s.diodeCheck(&sc, at.Switch))
	default:
		s.say("A meter goes only to a drive that is isolated, locked out and proved dead, its rotor held, and this one runs. " +
			"Clamp its wires instead: press one.")
	}
}

// safe is said before each reading on a drive that is off.
const safe = "Locked out, proved dead, shaft held. "

// proved reports whether a scenario's drive is one that a meter may go to: all off, and nothing turns.
func proved(sc *drive.Scenario) bool {
	still := sc.Machine.Kind == motor.Passive || !sc.Shaft.Free && sc.Shaft.Speed == 0
	return still && sc.Gating.Kind == pattern.AllOff
}

// clamp tells what a clamp meter reads on a wire over the last turn.
func (s *Show) clamp(ph inverter.Phase) string {
	t := s.time()
	r := s.record(t-s.turn(), t)
	if len(r) < 2 || r[len(r)-1].Time-r[0].Time < 0.9*s.turn() {
		return "The clamp meter needs a whole turn to read; let the drive run a little."
	}
	rms, mean := reading(r, ph)
	const faintest = 1e-3 // of the scale: what a clamp meter still tells from none
	for _, x := range []*float64{&rms, &mean} {
		if math.Abs(*x) < faintest*s.scales.Current {
			*x = 0
		}
	}
	return fmt.Sprintf("Clamp meter on %v, over the last turn: %s A rms, %s A in the mean.", ph, number(rms), number(mean))
}

// reading returns the effective and the mean current of a phase over a record, in which it runs straight from instant
// to instant.
func reading(r []drive.Instant, ph inverter.Phase) (rms, mean float64) {
	for i := 1; i < len(r); i++ {
		dt, a, b := r[i].Time-r[i-1].Time, r[i-1].Current[ph], r[i].Current[ph]
		rms += dt * (a*a + a*b + b*b) / 3
		mean += dt * (a + b) / 2
	}
	length := r[len(r)-1].Time - r[0].Time
	return math.Sqrt(rms / length), mean / length
}

// metered returns what a meter finds on the drive with its hidden fault.
func metered(sc *drive.Scenario) symptom.Meter {
	fault := drive.Fault{Kind: drive.PhaseResistance} // of none
	if len(sc.Faults) > 0 {
		fault = sc.Faults[0]
	}
	return symptom.MeterOf(sc, fault)
}

// ohms tells what an ohmmeter reads between a lead and the other two.
func (s *Show) ohms(sc *drive.Scenario, ph inverter.Phase) string {
	var words []string
	m := metered(sc)
	for _, x := range m.PhaseToPhase {
		if !strings.Contains(x.Between, ph.String()) {
			continue
		}
		reads := "open"
		if x.Ohms != nil {
			reads = number(*x.Ohms) + " Ω"
		}
		words = append(words, x.Between+" "+reads)
	}
	return "Ohmmeter, motor leads off: " + strings.Join(words, ", ") + "."
}

// diodeCheck tells what a diode test reads across a switch and its diode, both ways.
func (s *Show) diodeCheck(sc *drive.Scenario, sw inverter.Switch) string {
	anode, cathode := sw.Leg().String(), "+"
	if !sw.High() {
		anode, cathode = "-", sw.Leg().String()
	}
	forward, back := "", ""
	m := metered(sc)
	for _, c := range m.Diodes {
		switch {
		case c.Leads != "off":
		case c.Plus == anode && c.Minus == cathode:
			forward = c.Reading
		case c.Plus == cathode && c.Minus == anode:
			back = c.Reading
		}
	}
	return fmt.Sprintf("Diode test across %v, motor leads off: %s along its diode, %s with the leads swapped.", sw, forward, back)
}
