package show

import (
	"fmt"
	"math"
	"slices"

	"sextant/inverter"
	"sextant/motor"
	"sextant/motor/drive"
	"sextant/motor/fault/symptom"
	"sextant/render"
)

// placesOfFault is how many wishes are set aside for a kind of fault, one a place: six switches at most.
const placesOfFault = 8

// faultWish returns the wish to put in, or mend, a fault of kind k at the n-th of its places: switches, phases,
// or the drive as the only one.
func faultWish(k drive.FaultKind, n int) Wish { return firstFault + Wish(k)*placesOfFault + Wish(n) }

// fault returns the fault that w is for, if it is for one.
func (s *Show) fault(w Wish) (drive.Fault, bool) {
	if w < firstFault || w >= firstLane {
		return drive.Fault{}, false
	}
	n := int(w - firstFault)
	f := drive.Fault{Kind: drive.FaultKind(n / placesOfFault)}
	switch place := n % placesOfFault; {
	case f.Kind.OfSwitch():
		f.Switch = inverter.Switch(place)
	case f.Kind.OfPhase():
		f.Phase = inverter.Phase(place)
	}
	f.Value = s.faultValue(f.Kind)
	return f, true
}

// faultValue returns how bad a fault of a kind is made, where that is a question: so that it shows.
func (s *Show) faultValue(k drive.FaultKind) float64 {
	sc := s.drive.Scenario()
	switch k {
	case drive.PhaseResistance: // about as much as the winding's reactance and resistance together
		w := 2 * math.Pi / s.turn()
		return round(max(sc.Machine.Resistance*3, math.Hypot(sc.Machine.Resistance, w*sc.Machine.InductanceQ)), 1)
	case drive.SupplySag:
		return round(0.6*sc.Supply.Voltage, 2)
	case drive.CapacitorAged:
		return 0.2
	case drive.PositionSensorOffset:
		return math.Pi / 6
	case drive.CurrentSensorOffset:
		return round(max(0.2*math.Abs(sc.Gating.IQ), 0.1*s.scales.Current, 0.1), 1)
	case drive.CurrentSensorGain:
		return 0.7
	case drive.Demagnetised:
		return 0.6
	}
	return symptom.Value(k, &sc, s.scales.Current)
}

// faultKinds lists the kinds of faults that make a difference to a scenario.
func faultKinds(sc *drive.Scenario) []drive.FaultKind {
	machine := sc.Machine.Kind != motor.Passive
	return slices.DeleteFunc(drive.FaultKinds(), func(k drive.FaultKind) bool {
		switch k {
		case drive.PositionSensorStuck:
			return sc.Gating.Follow != drive.Rotor
		case drive.PositionSensorSwapped, drive.PositionSensorOffset:
			return sc.Gating.Follow == drive.Clock
		case drive.CurrentSensorOffset, drive.CurrentSensorGain:
			return sc.Gating.Follow != drive.Current
		case drive.CapacitorAged:
			return sc.Supply.Capacitance == 0
		case drive.CapacitorResistance:
			return sc.Supply.Capacitance == 0 || sc.Supply.Refuses || sc.Supply.ChargeLimit > 0
		case drive.Demagnetised:
			return !machine || sc.Machine.FluxLinkage == 0
		case drive.ShaftBlocked:
			return !machine
		case drive.TurnsShorted:
			return sc.Machine.Connection == motor.Delta
		}
		return false
	})
}

// same reports whether two faults are of one kind at one place.
func same(a, b *drive.Fault) bool {
	return a.Kind == b.Kind && a.Switch == b.Switch && a.Phase == b.Phase
}

// has reports whether a fault like f is there now.
func (s *Show) has(f *drive.Fault) bool {
	sc, t := s.drive.Scenario(), s.drive.Time()
	return slices.ContainsFunc(sc.Faults, func(g drive.Fault) bool { return same(f, &g) && g.On(t) })
}

// FaultsNow returns the faults that are there in the present, in words.
func (s *Show) FaultsNow() []string {
	words := []string{}
	if s.Hiding() {
		return words
	}
	sc, t := s.drive.Scenario(), s.drive.Time()
	for k := range sc.Faults {
		if f := &sc.Faults[k]; f.On(t) {
			words = append(words, render.FaultSentence(f))
		}
	}
	return words
}

// put puts a fault in from the present on.
func (s *Show) put(sc *drive.Scenario, f drive.Fault) {
	f.Time, f.Until = s.drive.Time(), 0
	sc.Faults = append(sc.Faults, f)
}

// mend mends the faults that are there in the present and for which which is true. What was broken before
// stays so in the record.
func (s *Show) mend(sc *drive.Scenario, which func(*drive.Fault) bool) {
	t := s.drive.Time()
	sc.Faults = slices.DeleteFunc(sc.Faults, func(f drive.Fault) bool { return f.On(t) && which(&f) && f.Time == t })
	for k := range sc.Faults {
		if f := &sc.Faults[k]; f.On(t) && which(f) {
			f.Until = t
		}
	}
}

// turnFault puts f in where it is not, else mends it.
func (s *Show) turnFault(f drive.Fault) {
	if s.has(&f) {
		s.change(func(sc *drive.Scenario) {
			s.mend(sc, func(g *drive.Fault) bool { return same(&f, g) })
		}, func(*drive.Scenario) string { return "Mended: " + lower(render.FaultSentence(&f)) })
		return
	}
	s.change(func(sc *drive.Scenario) { s.put(sc, f) }, func(*drive.Scenario) string {
		return render.FaultSentence(&f) + " Press it again, or u, to mend it."
	})
}

// mendAll mends everything.
func (s *Show) mendAll() {
	n := len(s.FaultsNow())
	if n == 0 {
		s.say("Nothing is broken.")
		return
	}
	s.change(func(sc *drive.Scenario) { s.mend(sc, func(*drive.Fault) bool { return true }) },
		func(*drive.Scenario) string { return fmt.Sprintf("All is mended, %d in number.", n) })
}

// turnDevice takes a device from whole to open to shorted and back.
func (s *Show) turnDevice(sw inverter.Switch) {
	open, short := drive.Fault{Kind: drive.SwitchOpen, Switch: sw}, drive.Fault{Kind: drive.SwitchShort, Switch: sw}
	either := func(f *drive.Fault) bool { return same(f, &open) || same(f, &short) }
	switch {
	case s.has(&short):
		s.change(func(sc *drive.Scenario) { s.mend(sc, either) }, func(*drive.Scenario) string {
			return fmt.Sprintf("Switch %v is whole again.", sw)
		})
	case s.has(&open):
		s.change(func(sc *drive.Scenario) {
			s.mend(sc, either)
			s.put(sc, short)
		}, func(*drive.Scenario) string { return render.FaultSentence(&short) + " Press it again to mend it." })
	default:
		s.change(func(sc *drive.Scenario) { s.put(sc, open) }, func(*drive.Scenario) string {
			return render.FaultSentence(&open) + " Its diode still works. Press it again to short it."
		})
	}
}

// faultButtons returns a group for each kind of fault: its name and a button a place, lit where it is there.
func (s *Show) faultButtons() [][]piece {
	sc := s.drive.Scenario()
	var groups [][]piece
	for _, k := range faultKinds(&sc) {
		places, width := []string{"put in"}, 2.0
		switch {
		case k.OfSwitch():
			places, width = places[:0], 1
			for _, sw := range inverter.Switches {
				places = append(places, s.numbering.Label(sw))
			}
		case k.OfPhase():
			places, width = []string{"U", "V", "W"}, 1
		}
		group := []piece{{width: 3.3, text: k.String()}}
		for n, place := range places {
			w := faultWish(k, n)
			f, _ := s.fault(w)
			group = append(group, piece{wish: w, width: width, text: place, on: s.has(&f) && !s.Hiding()})
		}
		groups = append(groups, group)
	}
	return append(groups, []piece{{wish: MendAll, width: 3, text: "mend all"}, {wish: Dismiss, width: 2, text: "close"}})
}
