package diagnosis_test

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"testing"

	"sextant/inverter"
	"sextant/motor/fault/diagnosis"
)

var renew = flag.Bool("renew", false, "write the table of the bench anew")

// kept is the table as it was last looked at.
const kept = "../../../testdata/fault/bench.txt"

// The halves of the bench: on the first the thresholds were chosen, on the second they are judged.
const (
	tunedOn  = 1
	judgedOn = 3
)

const (
	waves      = 200 // of a half
	recordings = 6   // of a wave
)

// truths is what the bench draws from in turn: a third healthy, every fault at every place.
func truths() []diagnosis.Suspect {
	var all []diagnosis.Suspect
	for _, p := range inverter.Phases {
		at := p.String()
		all = append(all, diagnosis.Suspect{Fault: diagnosis.Healthy}, diagnosis.Suspect{Fault: diagnosis.Healthy}, diagnosis.Suspect{Fault: diagnosis.Healthy},
			diagnosis.Suspect{Fault: diagnosis.SwitchOpen, At: at + "+"}, diagnosis.Suspect{Fault: diagnosis.SwitchOpen, At: at + "-"},
			diagnosis.Suspect{Fault: diagnosis.PhaseOpen, At: at}, diagnosis.Suspect{Fault: diagnosis.PhaseResistance, At: at},
			diagnosis.Suspect{Fault: diagnosis.SensorOffset, At: at}, diagnosis.Suspect{Fault: diagnosis.SensorGain, At: at})
	}
	return all
}

// A trial is a capture and what was said of it.
type trial struct {
	truth  diagnosis.Suspect
	report diagnosis.Report
	wave   *waveform
	how    string
	hidden bool
}

func (x *trial) called() bool { return x.report.Verdict != diagnosis.Unclear }
func (x *trial) right() bool {
	return x.report.Verdict == x.truth.Fault && x.report.At == x.truth.At
}

// try makes the k-th wave of a half and diagnoses its recordings. Waves that hide their fault are tried as
// well, and another is made in their place.
func try(half, k int) []trial {
	r := rand.New(rand.NewPCG(uint64(half), uint64(k)))
	all := truths()
	truth := all[k%len(all)]
	m := modes[(k/3)%len(modes)]
	var trials []trial
	for {
		w, err := simulate(r, m, truth)
		if err != nil {
			panic(fmt.Sprintf("%v, %s: %v", truth, w.scene, err))
		}
		d := w.display()
		if d != faint {
			peak, rms := peakOf(w.current)
			n := recordings
			if d == hidden {
				n = 1
			}
			for range n {
				x := newRecorder(r, &w, peak, rms)
				c := x.record(r, &w, peak, rms)
				trials = append(trials, trial{truth, diagnosis.Diagnose(&c, nil), &w, x.String(), d == hidden})
			}
		}
		if d == shown {
			return trials
		}
		m = modes[r.IntN(len(modes))]
	}
}

// bench tries n waves of a half on all processors; what is drawn does not depend on how many there are.
func bench(half, n int) []trial {
	results := make([][]trial, n)
	var work sync.WaitGroup
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		work.Go(func() {
			for k := range next {
				results[k] = try(half, k)
			}
		})
	}
	for k := range n {
		next <- k
	}
	close(next)
	work.Wait()
	var all []trial
	for _, trials := range results {
		all = append(all, trials...)
	}
	return all
}

// A tally counts trials.
type tally struct{ captures, called, right int }

func (t *tally) add(x *trial) {
	t.captures++
	if x.called() {
		t.called++
	}
	if x.right() {
		t.right++
	}
}

func part(a, b int) float64 {
	if b == 0 {
		return 0
	}
	return 100 * float64(a) / float64(b)
}

// A table is what the bench found of one half.
type table struct {
	all       tally
	healthy   tally
	accused   int // healthy ones that were called faulty
	confusion map[diagnosis.Fault]map[diagnosis.Fault]int
	misplaced map[diagnosis.Fault]int // the fault right, the place wrong
	by        map[string]*tally       // mode, sense, load, speed
	hidden    map[diagnosis.Fault]int // what was said of hidden faults
}

func tabulate(trials []trial) table {
	t := table{confusion: map[diagnosis.Fault]map[diagnosis.Fault]int{}, misplaced: map[diagnosis.Fault]int{}, by: map[string]*tally{}, hidden: map[diagnosis.Fault]int{}}
	for i := range trials {
		x := &trials[i]
		if x.hidden {
			t.hidden[x.report.Verdict]++
			continue
		}
		t.all.add(x)
		if x.truth.Fault == diagnosis.Healthy {
			t.healthy.add(x)
			if x.called() && !x.right() {
				t.accused++
			}
		}
		row := t.confusion[x.truth.Fault]
		if row == nil {
			row = map[diagnosis.Fault]int{}
			t.confusion[x.truth.Fault] = row
		}
		row[x.report.Verdict]++
		if x.report.Verdict == x.truth.Fault && !x.right() {
			t.misplaced[x.truth.Fault]++
		}
		for _, name := range groups(x) {
			if t.by[name] == nil {
				t.by[name] = &tally{}
			}
			t.by[name].add(x)
		}
	}
	return t
}

// The groups of the table, in their order.
func groupNames() []string {
	var names []string
	for _, m := range modes {
		names = append(names, string(m))
	}
	return append(names, "motoring", "generating", "load up to 40 %", "load above 40 %", "speed up to 30 %", "speed above 30 %", "20 to 30 dB", "30 to 50 dB")
}

func groups(x *trial) []string {
	w := x.wave
	names := []string{string(w.mode), "motoring", "load above 40 %", "speed above 30 %", "30 to 50 dB"}
	if w.sense < 0 {
		names[1] = "generating"
	}
	if w.load <= 0.4 {
		names[2] = "load up to 40 %"
	}
	if w.share <= 0.3 {
		names[3] = "speed up to 30 %"
	}
	var turns, snr float64
	var samples int
	if _, err := fmt.Sscanf(x.how, "%f turns, %d a turn, %f dB", &turns, &samples, &snr); err == nil && snr < 30 {
		names[4] = "20 to 30 dB"
	}
	return names
}

var verdicts = []diagnosis.Fault{diagnosis.Healthy, diagnosis.SwitchOpen, diagnosis.PhaseOpen, diagnosis.PhaseResistance, diagnosis.SensorOffset, diagnosis.SensorGain, diagnosis.Unclear}

func (t *table) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%d captures, %d called, %.2f %% of those right, %.2f %% unclear, %.2f %% of the healthy called faulty\n\n",
		t.all.captures, t.all.called, part(t.all.right, t.all.called), part(t.all.captures-t.all.called, t.all.captures), part(t.accused, t.healthy.captures))
	fmt.Fprintf(&b, "%-22s", "truth \\ verdict")
	for _, v := range verdicts {
		fmt.Fprintf(&b, " %*s", max(len(v), 7), v)
	}
	fmt.Fprintf(&b, " %11s\n", "wrong-place")
	for _, truth := range verdicts[:len(verdicts)-1] {
		fmt.Fprintf(&b, "%-22s", truth)
		for _, v := range verdicts {
			fmt.Fprintf(&b, " %*d", max(len(v), 7), t.confusion[truth][v])
		}
		fmt.Fprintf(&b, " %11d\n", t.misplaced[truth])
	}
	fmt.Fprintf(&b, "\n%-22s %8s %8s %8s\n", "group", "captures", "called", "right")
	for _, name := range groupNames() {
		if g := t.by[name]; g != nil {
			fmt.Fprintf(&b, "%-22s %8d %8d %8d\n", name, g.captures, g.called, g.right)
		}
	}
	fmt.Fprintf(&b, "\nfaults that the currents hide, and what was said of them:")
	for _, v := range verdicts {
		fmt.Fprintf(&b, " %s %d", v, t.hidden[v])
	}
	b.WriteString("\n")
	return b.String()
}

// TestBench puts the diagnosis to the proof: drives simulated with every fault at every place, motoring and
// generating, by clock, rotor and current, recorded by instruments good and bad. Thresholds were chosen on
// one half; the limits hold on the other. The table is kept in testdata; -renew writes it.
func TestBench(t *testing.T) {
	n := waves
	if testing.Short() {
		n = waves / 5
	}
	judged := tabulate(bench(judgedOn, n))
	t.Logf("judged half: %v", &judged)
	if got := part(judged.all.right, judged.all.called); got < 97 {
		t.Errorf("%.2f %% of the called are right", got)
	}
	if got := part(judged.all.captures-judged.all.called, judged.all.captures); got > 10 {
		t.Errorf("%.2f %% are unclear", got)
	}
	if got := part(judged.accused, judged.healthy.captures); got > 1 {
		t.Errorf("%.2f %% of the healthy are called faulty", got)
	}
	if n < waves {
		return
	}
	tuned := tabulate(bench(tunedOn, n))
	text := fmt.Sprintf("Bench of the diagnosis; go test ./motor/fault/diagnosis -run Bench -renew writes it.\n\nThe half that judges\n%v\nThe other half (the thresholds were chosen on earlier draws of recordings like both)\n%v", &judged, &tuned)
	if *renew {
		must(os.MkdirAll("../../../testdata/fault", 0o755))
		must(os.WriteFile(kept, []byte(text), 0o644))
	}
	old, err := os.ReadFile(kept)
	if err != nil {
		t.Fatal(err)
	}
	alike(t, string(old), text)
}

// alike compares two tables, whose counts may differ by what another machine's rounding turns over: a
// hundredth of the captures.
func alike(t *testing.T, old, text string) {
	t.Helper()
	was, is := strings.Fields(old), strings.Fields(text)
	if len(was) != len(is) {
		t.Fatalf("the table has %d words, the one kept %d:\n%s", len(is), len(was), text)
	}
	for i := range is {
		a, wrongA := strconv.ParseFloat(was[i], 64)
		b, wrongB := strconv.ParseFloat(is[i], 64)
		if wrongA != nil || wrongB != nil {
			if was[i] != is[i] {
				t.Fatalf("the table says %q where the one kept says %q:\n%s", is[i], was[i], text)
			}
			continue
		}
		if math.Abs(a-b) > 0.01*waves*recordings {
			t.Errorf("the table says %s where the one kept says %s:\n%s", is[i], was[i], text)
		}
	}
}

// TestBenchIsFair checks that the judging half has what it claims to have.
func TestBenchIsFair(t *testing.T) {
	if n := 2 * waves * recordings; n < 2000 {
		t.Errorf("only %d captures", n)
	}
	count := map[string]int{}
	for k := range 60 {
		r := rand.New(rand.NewPCG(judgedOn, uint64(k)))
		w := waveform{operation: draw(r, modes[k%len(modes)])}
		x := newRecorder(r, &w, 1, 1)
		for _, name := range groups(&trial{wave: &w, how: x.String()}) {
			count[name]++
		}
		if w.load < 0.1 || w.load > 1 || w.share < 0.05 || w.share > 1 || x.snr < 20 || x.snr > 50 || x.bits < 8 || x.bits > 12 {
			t.Errorf("%+v %+v", w.operation, x)
		}
	}
	for _, name := range groupNames() {
		if count[name] < 5 {
			t.Errorf("%s: %d of 60", name, count[name])
		}
	}
}
