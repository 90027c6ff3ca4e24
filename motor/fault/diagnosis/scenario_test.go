package diagnosis_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"sextant/motor/fault/diagnosis"
)

// A comparison counts what is said of a fault's captures without and with the drive's own scenario.
type comparison struct {
	waves, captures                     int
	alone, aloneWrong, with, wrong      int
	misnamed                            map[diagnosis.Fault]int
	aloneUnclear, unclear, healthyAlone int
}

// withScenario diagnoses two recordings of each of n waves of the judging half twice: by their signs alone, and with
// the healthy drive's scenario, which is that of the wave, so that speed and command agree.
func withScenario(n int) map[diagnosis.Fault]*comparison {
	results := map[diagnosis.Fault]*comparison{}
	all := truths()
	for k := range n {
		r := rand.New(rand.NewPCG(judgedOn+100, uint64(k)))
		// Five and the number of truths have no divisor in common; so all come in turn.
		truth, m := all[(5*k)%len(all)], modes[k%len(modes)]
		for !suits(truth.Fault, m) {
			m = modes[r.IntN(len(modes))]
		}
		w, err := simulate(r, m, truth)
		must(err)
		peak, rms := peakOf(w.current)
		expected, err := diagnosis.Expect(w.healthy)
		if err != nil || rms < 0.05*w.rig.current {
			continue // hardly any current
		}
		c := results[truth.Fault]
		if c == nil {
			c = &comparison{misnamed: map[diagnosis.Fault]int{}}
			results[truth.Fault] = c
		}
		c.waves++
		for range 2 {
			x := newRecorder(r, &w, peak, rms)
			record := x.record(r, &w, peak, rms)
			alone, with := trial{truth: truth, report: diagnosis.Diagnose(&record, nil)}, trial{truth: truth, report: diagnosis.Diagnose(&record, expected)}
			c.captures++
			switch {
			case !alone.called():
				c.aloneUnclear++
			case alone.named():
				c.alone++
			case alone.report.Verdict == diagnosis.Healthy:
				c.healthyAlone++
			default:
				c.aloneWrong++
			}
			switch {
			case !with.called():
				c.unclear++
			case with.named():
				c.with++
			default:
				c.wrong++
				c.misnamed[with.report.Verdict]++
			}
		}
	}
	return results
}

func compared(results map[diagnosis.Fault]*comparison) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%-24s %8s | %8s %8s %8s %8s | %8s %8s %8s  %s\n", "truth", "captures", "by-name", "healthy", "unclear", "else", "by-name", "unclear", "else", "which")
	for _, f := range faults() {
		c := results[f]
		if c == nil {
			continue
		}
		which := ""
		for _, v := range faults() {
			if n := c.misnamed[v]; n > 0 {
				which += fmt.Sprintf(" %s %d", v, n)
			}
		}
		fmt.Fprintf(&b, "%-24s %8d | %8d %8d %8d %8d | %8d %8d %8d %s\n", f, c.captures, c.alone, c.healthyAlone, c.aloneUnclear, c.aloneWrong, c.with, c.unclear, c.wrong, which)
	}
	return b.String()
}

// TestScenarioSharpens: the simulation of a drive's own scenario names faults that phase currents alone leave in
// their group, and calls none of the healthy drives faulty.
func TestScenarioSharpens(t *testing.T) {
	n := scenarioWaves
	if testing.Short() {
		n /= 3
	}
	results := withScenario(n)
	t.Logf("\n%s", compared(results))
}
