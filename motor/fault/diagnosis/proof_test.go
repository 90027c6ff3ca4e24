package diagnosis_test

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"runtime"
	"slices"
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
	waves      = 330 // of a half
	recordings = 6   // of a wave
)

// truths is what the bench draws from in turn: a third healthy, every fault at every place.
func truths() []diagnosis.Suspect {
	var all []diagnosis.Suspect
	ofDrive := [3][2]diagnosis.Fault{{diagnosis.SupplySag, diagnosis.Demagnetised}, {diagnosis.CapacitorAged, diagnosis.PositionOffset}, {"phase-swap", diagnosis.ShaftBlocked}}
	for _, p := range inverter.Phases {
		at := p.String()
		for range 7 {
			all = append(all, diagnosis.Suspect{Fault: diagnosis.Healthy})
		}
		for _, f := range []diagnosis.Fault{diagnosis.PhaseOpen, diagnosis.PhaseResistance, diagnosis.TurnsShorted, diagnosis.SensorOffset, diagnosis.SensorGain,
			diagnosis.PositionStuck, diagnosis.PositionSwapped} {
			all = append(all, diagnosis.Suspect{Fault: f, At: at})
		}
		for _, side := range []string{"+", "-"} {
			all = append(all, diagnosis.Suspect{Fault: diagnosis.SwitchOpen, At: at + side}, diagnosis.Suspect{Fault: diagnosis.SwitchShort, At: at + side})
		}
		all = append(all, diagnosis.Suspect{Fault: "gate-stuck-on", At: at + "+"}, diagnosis.Suspect{Fault: "gate-stuck-off", At: at + "-"}, diagnosis.Suspect{Fault: diagnosis.DiodeOpen, At: at + []string{"+", "-"}[p%2]})
		for _, f := range ofDrive[p] {
			x := diagnosis.Suspect{Fault: f}
			if f == "phase-swap" {
				x.At = at
			}
			all = append(all, x)
		}
	}
	return all
}

// suits reports whether a fault can do anything to a drive that is so commanded.
func suits(f diagnosis.Fault, m mode) bool {
	switch f {
	case diagnosis.PositionStuck, diagnosis.PositionSwapped:
		return m == byRotor || m == runaway
	case diagnosis.PositionOffset:
		return m == byRotor || m == runaway || m.controlled()
	case diagnosis.Demagnetised, diagnosis.SwitchShort, "gate-stuck-on", diagnosis.ShaftBlocked:
		return m != intoCoils
	}
	return true
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

// named reports whether the verdict is the very fault, and right whether it is, or is said to look the same.
func (x *trial) named() bool {
	return x.report.Verdict == x.truth.Fault && x.report.At == x.truth.At
}
func (x *trial) right() bool {
	return x.named() || x.truth.Fault != diagnosis.Healthy && slices.ContainsFunc(x.report.Alike, func(s diagnosis.Suspect) bool {
		return s.Fault == x.truth.Fault && (s.At == x.truth.At || s.At == "")
	})
}

// try makes the k-th wave of a half and diagnoses its recordings. Waves that hide their fault are tried as
// well, and another is made in their place, a few times.
func try(half, k int) []trial {
	r := rand.New(rand.NewPCG(uint64(half), uint64(k)))
	all := truths()
	truth := all[k%len(all)]
	m := modes[(k/3)%len(modes)]
	var trials []trial
	for range 5 {
		for !suits(truth.Fault, m) {
			m = modes[r.IntN(len(modes))]
		}
		w, err := simulate(r, m, truth)
		if err != nil {
			panic(fmt.Sprintf("%v, %s: %v", truth, w.scene, err))
		}
		d := w.display()
		if d != faint {
			peak, rms := peakOf(w.current)
			for range recordings {
				x := newRecorder(r, &w, peak, rms)
				c := x.record(r, &w, peak, rms)
				trials = append(trials, trial{truth, diagnosis.Diagnose(&c, nil), &w, x.String(), d == hidden})
			}
		}
		w.current = nil
		if d == shown {
			break
		}
		m = modes[r.IntN(len(modes))]
	}
	return trials
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
type tally struct{ captures, called, right, named int }

func (t *tally) add(x *trial) {
	t.captures++
	if x.called() {
		t.called++
	}
	if x.right() {
		t.right++
	}
	if x.named() {
		t.named++
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
	of        map[diagnosis.Fault]*tally
	by        map[string]*tally                           // mode, sense, load, speed
	hidden    map[diagnosis.Fault]map[diagnosis.Fault]int // what was said of hidden faults
}

func count(m map[diagnosis.Fault]map[diagnosis.Fault]int, x *trial) {
	if m[x.truth.Fault] == nil {
		m[x.truth.Fault] = map[diagnosis.Fault]int{}
	}
	m[x.truth.Fault][x.report.Verdict]++
}

func tabulate(trials []trial) table {
	t := table{confusion: map[diagnosis.Fault]map[diagnosis.Fault]int{}, of: map[diagnosis.Fault]*tally{}, by: map[string]*tally{}, hidden: map[diagnosis.Fault]map[diagnosis.Fault]int{}}
	for i := range trials {
		x := &trials[i]
		if x.hidden {
			count(t.hidden, x)
			continue
		}
		count(t.confusion, x)
		t.all.add(x)
		if x.truth.Fault == diagnosis.Healthy {
			t.healthy.add(x)
			if x.called() && !x.right() {
				t.accused++
			}
		}
		if t.of[x.truth.Fault] == nil {
			t.of[x.truth.Fault] = &tally{}
		}
		t.of[x.truth.Fault].add(x)
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

var verdicts = []diagnosis.Fault{diagnosis.Healthy, diagnosis.SwitchOpen, diagnosis.SwitchShort, diagnosis.PhaseOpen, diagnosis.PhaseResistance, diagnosis.SensorOffset, diagnosis.SensorGain, diagnosis.PositionStuck, diagnosis.Unclear}

// faults is all truths, in the order of the table.
func faults() []diagnosis.Fault {
	list := slices.Clone(verdicts[:len(verdicts)-1])
	for _, s := range truths() {
		if !slices.Contains(list, s.Fault) {
			list = append(list, s.Fault)
		}
	}
	return list
}

// short is the heads of the table's columns.
var short = map[diagnosis.Fault]string{diagnosis.SwitchOpen: "sw-open", diagnosis.SwitchShort: "sw-short", diagnosis.PhaseOpen: "ph-open", diagnosis.PhaseResistance: "ph-resist",
	diagnosis.SensorOffset: "offset", diagnosis.SensorGain: "gain", diagnosis.PositionStuck: "pos-stuck"}

func head(v diagnosis.Fault) string {
	if s, ok := short[v]; ok {
		return s
	}
	return string(v)
}

func (t *table) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%d captures, %d called, %.2f %% of those right (%.2f %% by the fault's own name), %.2f %% unclear, %.2f %% of the healthy called faulty\n\n",
		t.all.captures, t.all.called, part(t.all.right, t.all.called), part(t.all.named, t.all.called), part(t.all.captures-t.all.called, t.all.captures), part(t.accused, t.healthy.captures))
	write := func(title string, m map[diagnosis.Fault]map[diagnosis.Fault]int, tallied bool) {
		fmt.Fprintf(&b, "%-24s", title)
		for _, v := range verdicts {
			fmt.Fprintf(&b, " %*s", max(len(head(v)), 7), head(v))
		}
		if tallied {
			fmt.Fprintf(&b, " %8s %8s", "right", "by-name")
		}
		b.WriteString("\n")
		for _, truth := range faults() {
			if m[truth] == nil {
				continue
			}
			fmt.Fprintf(&b, "%-24s", truth)
			for _, v := range verdicts {
				fmt.Fprintf(&b, " %*d", max(len(head(v)), 7), m[truth][v])
			}
			if tallied {
				fmt.Fprintf(&b, " %8d %8d", t.of[truth].right, t.of[truth].named)
			}
			b.WriteString("\n")
		}
	}
	write("truth \\ verdict", t.confusion, true)
	fmt.Fprintf(&b, "\n%-24s %8s %8s %8s %8s\n", "group", "captures", "called", "right", "by-name")
	for _, name := range groupNames() {
		if g := t.by[name]; g != nil {
			fmt.Fprintf(&b, "%-24s %8d %8d %8d %8d\n", name, g.captures, g.called, g.right, g.named)
		}
	}
	b.WriteString("\nFaults that the currents hide, and what was said of them: mean, even orders and negative sequence are below\n5, 5 and 8 % of the fundamental in the currents themselves.\n")
	write("truth \\ verdict", t.hidden, false)
	return b.String()
}

// TestBench puts the diagnosis to the proof: drives simulated with every fault at every place, motoring and
// generating, by clock, rotor and current, recorded by instruments good and bad. Thresholds were chosen on
// one half; the limits hold on the other. The table is kept in testdata; -renew writes it.
func TestBench(t *testing.T) {
	judged := tabulate(bench(judgedOn, waves))
	judged.judge(t)
	text := "Bench of the diagnosis; go test ./motor/fault/diagnosis -run Bench -renew writes it.\n\nThe half that judges\n" + judged.String()
	if !*renew {
		old, err := os.ReadFile(kept)
		if err != nil {
			t.Fatal(err)
		}
		alike(t, strings.SplitN(string(old), otherHalf, 2)[0], text)
		return
	}
	trials := bench(tunedOn, waves)
	tuned := tabulate(trials)
	text += otherHalf + tuned.String()
	must(os.WriteFile(kept, []byte(text), 0o644))
	must(os.WriteFile("seen.csv", []byte(seen(trials)), 0o644))
}

// otherHalf parts the two tables; every run of the tests judges the first, -renew writes both.
const otherHalf = "\nThe other half, on which thresholds were chosen, and by which faults that look alike are named\n"

// judge holds a half to the limits.
func (tab *table) judge(t *testing.T) {
	t.Helper()
	t.Logf("%v", tab)
	if got := part(tab.all.right, tab.all.called); got < 97 {
		t.Errorf("%.2f %% of the called are right", got)
	}
	if got := part(tab.all.captures-tab.all.called, tab.all.captures); got > 10 {
		t.Errorf("%.2f %% are unclear", got)
	}
	if got := part(tab.accused, tab.healthy.captures); got > 1 {
		t.Errorf("%.2f %% of the healthy are called faulty", got)
	}
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
