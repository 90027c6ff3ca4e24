package diagnosis

import (
	_ "embed"
	"encoding/csv"
	"slices"
	"strconv"
	"strings"
	"sync"

	"sextant/inverter"
)

// A saying is how often the currents of a fault, in drives that are commanded in one way, were said to be a
// verdict's: what the bench of this package's tests found on the half that thresholds were chosen on.
type saying struct {
	fault    Fault
	follow   string // what commands the drive: clock, rotor or current
	captures int    // of the fault, so commanded
	verdict  Fault
	count    int
	place    string // how the verdict's place relates to the fault's: "same", "other half" of its leg, or "any"
	look     string // what shows the fault beside currents; where the verdict is healthy
}

//go:embed seen.csv
var seenText string

// sayings is the table, in the order of its file.
var sayings = sync.OnceValue(func() []saying {
	rows, err := csv.NewReader(strings.NewReader(seenText)).ReadAll()
	if err != nil {
		panic("diagnosis: " + err.Error())
	}
	var all []saying
	for _, r := range rows[1:] {
		s := saying{fault: Fault(r[0]), follow: r[1], verdict: Fault(r[3]), place: r[5], look: r[6]}
		s.captures, _ = strconv.Atoi(r[2])
		s.count, _ = strconv.Atoi(r[4])
		all = append(all, s)
	}
	return all
})

// often is in which part of its captures a fault must get another's verdict to be named with it.
const often = 0.2

// alike returns the faults whose currents look like those of a verdict, with the places that they would then
// be at; an empty place is any.
func alike(v Suspect) []Suspect {
	var all []Suspect
	for _, s := range sayings() {
		if s.verdict != v.Fault || s.fault == v.Fault || float64(s.count) < often*float64(s.captures) {
			continue
		}
		x := Suspect{Fault: s.fault}
		switch s.place {
		case "same":
			x.At = v.At
		case "other half":
			x.At = otherHalf(v.At)
		}
		if !slices.ContainsFunc(all, func(o Suspect) bool { return o.Fault == x.Fault }) {
			all = append(all, x)
		}
	}
	return all
}

// otherHalf returns the other switch of a switch's leg.
func otherHalf(at string) string {
	s := switchOf(at)
	for _, o := range inverter.Switches {
		if o.Leg() == s.Leg() && o != s {
			return o.String()
		}
	}
	return ""
}

// commanded says how a drive is commanded that follows a clock, a rotor or a current.
var commanded = map[string]string{"clock": "a clock commands the drive", "rotor": "position sensors step the drive", "current": "the drive controls its currents"}

// unseen says which faults often leave currents that look healthy, when, and what shows them.
func unseen() string {
	var names []string
	when, look := map[string][]string{}, map[string]string{}
	for _, s := range sayings() {
		if s.verdict != Healthy || s.fault == Healthy || float64(s.count) < often*float64(s.captures) {
			continue
		}
		name := string(s.fault)
		if when[name] == nil {
			names = append(names, name)
		}
		if look[name] == "" {
			look[name] = s.look
		}
		when[name] = append(when[name], commanded[s.follow])
	}
	for i, name := range names {
		var about []string
		if w := when[name]; len(w) < len(commanded) {
			about = append(about, "where "+strings.Join(w, " or "))
		}
		if look[name] != "" {
			about = append(about, "sign: "+look[name])
		}
		if about != nil {
			names[i] += " (" + strings.Join(about, "; ") + ")"
		}
	}
	return strings.Join(names, ", ")
}
