package diagnosis_test

import (
	"encoding/csv"
	"fmt"
	"slices"
	"strings"

	"sextant/motor/fault/diagnosis"
	"sextant/motor/fault/symptom"
	"sextant/motor/scenario"
)

// follows names what commands a drive.
func (m mode) follows() string {
	switch {
	case m.controlled():
		return "current"
	case m == byRotor || m == runaway:
		return "rotor"
	}
	return "clock"
}

// seen makes the table of what was said of each fault, by what commands the drive.
func seen(trials []trial) string {
	var b strings.Builder
	w := csv.NewWriter(&b)
	write := func(row ...string) { must(w.Write(row)) }
	write("fault", "follow", "captures", "verdict", "count", "place", "look")
	for _, f := range faults() {
		for _, follow := range []string{"clock", "rotor", "current"} {
			captures, said, same, other := 0, map[diagnosis.Fault]int{}, map[diagnosis.Fault]int{}, map[diagnosis.Fault]int{}
			for i := range trials {
				x := &trials[i]
				if x.truth.Fault != f || x.wave.mode.follows() != follow {
					continue
				}
				v := x.report.Verdict
				captures++
				said[v]++
				if x.truth.At != "" && x.report.At == x.truth.At {
					same[v]++
				}
				if a, b := x.truth.At, x.report.At; len(a) == 2 && len(b) == 2 && a[0] == b[0] && a != b {
					other[v]++
				}
			}
			for _, v := range verdicts {
				n := said[v]
				if n == 0 {
					continue
				}
				place, look := "any", ""
				switch {
				case 10*same[v] >= 9*n:
					place = "same"
				case 10*other[v] >= 9*n:
					place = "other half"
				}
				if v == diagnosis.Healthy && f != diagnosis.Healthy {
					look = telltale(f, follow)
				}
				write(string(f), follow, fmt.Sprint(captures), string(v), fmt.Sprint(n), place, look)
			}
		}
	}
	w.Flush()
	return b.String()
}

// charts are the tables of signs of drives commanded in each way.
var charts = map[string]*symptom.Chart{}

// telltale returns what shows a fault beside the currents: the sign that goes with it most often, of those that no
// recording of currents has.
func telltale(f diagnosis.Fault, follow string) string {
	if charts[follow] == nil {
		s, err := scenario.Open(map[string]string{"clock": "hauler-boost", "rotor": "trainer-120", "current": "hauler-climb", linked: "hauler-full-battery"}[follow])
		must(err)
		charts[follow], err = symptom.NewChart(s)
		must(err)
	}
	best, most := "", 0.0
	for _, row := range charts[follow].Rows {
		if row.As.Kind != kinds[f] || row.Hidden != "" {
			continue
		}
		for i, s := range symptom.Signs {
			if !slices.Contains([]string{"one-clamp-zero", "no-current", "clamps-unequal", "clamps-high", "mean-current"}, s.Key) && row.Share[i] > most+1e-9 {
				best, most = s.Text, row.Share[i]
			}
		}
	}
	if best == "" && follow != linked {
		return telltale(f, linked)
	}
	return best
}

// linked is a drive with a capacitor at its link, for what others cannot show.
const linked = "link"
