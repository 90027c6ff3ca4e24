package lesson

import (
	"slices"
	"strings"
	"unicode"
)

// A Term is a word of the trade, and what it means to who knows Ohm's law and three-phase current.
type Term struct {
	Word  string
	Means string
	forms []string // in which it is written in texts, in small letters, other than Word
}

// terms are in the order in which they build on each other.
var terms = []Term{
	{"rail", "one of the two conductors, + and -, between which the switches lie.", []string{"rails"}},
	{"leg", "two switches in line between the rails; the lead of a phase begins between them.", []string{"legs"}},
	{"link", "the direct voltage between the rails, with the capacitor that keeps it steady.", nil},
	{"gate", "the input of a switch, which turns it on and off.", []string{"gates", "gated"}},
	{"diode", "it lies beside each switch and lets current pass from the - rail towards the + rail only, whatever the gates do.", []string{"diodes"}},
	{"terminal", "where the lead of a phase meets its winding.", []string{"terminals"}},
	{"mean", "the average over a whole turn. A sine has none: its half-waves cancel.", nil},
	{"half-wave", "the part of an alternating current that flows one way.", []string{"half-waves"}},
	{"rms", "the steady current or voltage that would heat a resistor as much; of a sine the peak over the root of 2.", nil},
	{"torque", "how hard the shaft is turned: force times lever arm, in newton metres.", nil},
	{"electrical turn", "one cycle of the currents. With two pole pairs the shaft makes half a turn in it.", []string{"electrical turns"}},
	{"pole pair", "a north and a south pole of the rotor.", []string{"pole pairs"}},
	{"field", "the magnetism that the three currents make together; the rotor's magnet is pulled towards it.", nil},
	{"vector", "one arrow for three voltages: each is drawn along the axis of its winding, and they are added.", []string{"voltage vector", "vectors"}},
	{"six-step", "the simplest pattern: the bridge goes through six states a turn.", nil},
	{"fundamental", "the sine that a wave holds at its own frequency; all the rest of it is harmonics.", []string{"fundamental's"}},
	{"harmonics", "sines of five, seven and more times the frequency, which together with the fundamental make the wave.", []string{"harmonic"}},
	{"distortion", "how large the harmonics are, together, against the fundamental.", nil},
	{"ripple", "the quick swing of a current or a torque about its mean.", nil},
	{"EMF", "electromotive force: the voltage that the turning magnet makes in a winding, whatever the bridge does. It goes with speed.", nil},
	{"inductance", "what keeps a winding's current from changing at once, as mass keeps speed: volts over henries are amperes a second.", nil},
	{"carrier", "a fast triangle with which a leg compares its sine to make pulses; it sets how often the switches switch.", nil},
	{"modulation", "how high the sine is against the triangle; at 1 a terminal's fundamental has a peak of half the supply.", nil},
	{"dead time", "the wait between one switch of a leg going off and the other coming on, so that they never short the supply.", nil},
	{"q axis", "across the magnet: current there makes torque. The d axis is along it: current there strengthens the magnet's field, or weakens it.", []string{"d axis", "id", "iq"}},
	{"rectifier", "diodes that make direct current of alternating, without any gate.", nil},
	{"boost converter", "a coil that is loaded by a short, and then gives its current on to a higher voltage.", nil},
	{"IGBT", "insulated-gate bipolar transistor: a switch for current one way; the diode beside it takes the other.", []string{"igbts", "igbt's"}},
	{"MOSFET", "a transistor whose channel carries current both ways while its gate is on.", []string{"mosfets", "mosfet's"}},
	{"channel", "the way through a transistor, which its gate opens.", nil},
	{"junction", "the place within a semiconductor where its heat arises, and which must not get too hot.", []string{"junctions"}},
	{"sink", "the cooled metal that the switches are mounted on.", nil},
	{"clamp meter", "it closes round a lead and reads the current without touching copper.", []string{"clamp meters", "clamp"}},
	{"proved dead", "measured to have no voltage, with a tester that was itself proved before and after (common practice).", nil},
	{"four-wire meter", "it reads milliohms: two wires bring the current, two others measure the voltage.", nil},
	{"diode tester", "it sends a small current and reads the voltage: some tenths of a volt forward, open backward.", []string{"diode test"}},
	{"logger", "an instrument that records, here the three currents.", nil},
	{"negative sequence", "the part of three currents that turns the other way round; a healthy drive has next to none.", nil},
	{"contactor", "a large switch worked by a coil, between battery and drive.", nil},
}

// TermsIn returns the terms that a text uses, those first that it uses first.
func TermsIn(text string) []Term {
	words := " " + strings.Join(strings.FieldsFunc(strings.ToLower(text), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '-' && r != '\''
	}), " ") + " "
	at := map[string]int{}
	var used []Term
	for _, t := range terms {
		for _, form := range append([]string{strings.ToLower(t.Word)}, t.forms...) {
			k := strings.Index(words, " "+form+" ")
			if k < 0 {
				continue
			}
			if before, seen := at[t.Word]; !seen || k < before {
				at[t.Word] = k
			}
		}
		if _, seen := at[t.Word]; seen {
			used = append(used, t)
		}
	}
	slices.SortStableFunc(used, func(a, b Term) int { return at[a.Word] - at[b.Word] })
	return used
}

// Terms lists all terms, in the order in which they build on each other.
func Terms() []Term { return slices.Clone(terms) }
