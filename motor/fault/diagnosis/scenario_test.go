package diagnosis_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"sextant/motor"
	"sextant/motor/drive"
	"sextant/motor/fault/diagnosis"
)

// A comparison counts what is said of a fault's captures without and with the drive's own scenario.
type comparison struct {
	waves, captures                     int
	alone, aloneWrong, with, wrong      int
	excused                             int // of the wrong: in the verdict's group, or not in the currents
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
				if with.right() || with.report.Verdict == diagnosis.Healthy {
					c.excused++
				}
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

// keptScenario is the table as it was last looked at.
const keptScenario = "../../../testdata/fault/scenario.txt"

// TestScenarioSharpens: the simulation of a drive's own scenario names faults that phase currents alone leave in
// their group or call healthy, and seldom the wrong one. Every run of the tests tries a few waves; -renew tries one of
// each fault at each place, and keeps the table.
func TestScenarioSharpens(t *testing.T) {
	n := 5
	if *renew {
		n = len(truths())
	}
	results := withScenario(n)
	text := compared(results)
	t.Logf("\n%s", text)
	captures, named, alone, wrong := 0, 0, 0, 0
	for _, c := range results {
		captures, named, alone, wrong = captures+c.captures, named+c.with, alone+c.alone, wrong+c.wrong-c.excused
	}
	if named < alone || 10*wrong > captures {
		t.Errorf("of %d captures %d are named with the scenario and %d without it; %d are called another fault", captures, named, alone, wrong)
	}
	if *renew {
		head := "Captures diagnosed without and with the drive's own scenario at the same speed and command; go test ./motor/fault/diagnosis -run Sharpens -renew\n" +
			"writes it. By-name counts verdicts of the very fault at its place; healthy, unclear and else count the others.\n\n"
		must(os.WriteFile(keptScenario, []byte(head+text), 0o644))
	}
}

// TestHealthyByScenario: a healthy bridge that chops its upper switches alone makes half-waves unlike; that is no
// fault where its own scenario makes them as unlike.
func TestHealthyByScenario(t *testing.T) {
	s := builtIn(t, "trainer-start")
	s.Machine = motor.Machine{PolePairs: 4, Resistance: 0.15, InductanceD: 0.3e-3, InductanceQ: 0.3e-3, FluxLinkage: 8.5e-3, EMF: motor.Trapezoid}
	s.Shaft = drive.Shaft{Speed: 320}
	s.Gating.Chop, s.Gating.Carrier, s.Gating.ChopSide = 0.5, 10e3, drive.ChopHigh
	s.Run.Settle = 0.1
	c := faulty(t, s, 6)
	alone := diagnosis.Diagnose(&c, nil)
	expected, err := diagnosis.Expect(s)
	if err != nil {
		t.Fatal(err)
	}
	if with := diagnosis.Diagnose(&c, expected); with.Verdict != diagnosis.Healthy || alone.Verdict != diagnosis.Unclear {
		t.Errorf("%v alone (%s), %v with its scenario (%s, %v)", alone.Verdict, alone.Because, with.Verdict, with.Because, with.Ranked)
	}
}
