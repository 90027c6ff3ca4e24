package handout

import (
	"bytes"
	"fmt"
	"math"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"sextant/inverter/pattern"
	"sextant/motor"
	"sextant/motor/drive"
	"sextant/motor/fault/symptom"
	"sextant/render"
	"sextant/render/lesson"
)

// A subjectMatter is a source with what a test checks it against.
type subjectMatter struct {
	*Source
	name   string
	lesson *lesson.Lesson
}

// sources opens what sheets are tested on: all patterns, drives of each kind of gating, lessons with and without faults.
var sources = sync.OnceValues(func() (all []subjectMatter, err error) {
	for _, name := range Patterns() {
		k, err := pattern.ParseKind(name)
		if err != nil {
			return nil, err
		}
		s, err := OfPattern(k)
		if err != nil {
			return nil, err
		}
		all = append(all, subjectMatter{s, name, nil})
	}
	for _, name := range []string{"hauler-climb", "hauler-short", "trainer-120", "trainer-twelve-step", "passive-rl", "trainer-pwm"} {
		s, err := drive.Open(name)
		if err != nil {
			return nil, err
		}
		x, err := OfScenario(s)
		if err != nil {
			return nil, err
		}
		all = append(all, subjectMatter{x, name, nil})
	}
	for _, name := range []string{"six-steps", "phase-lost", "guess-lead"} {
		l, err := lesson.Open(name)
		if err != nil {
			return nil, err
		}
		x, err := OfLesson(l)
		if err != nil {
			return nil, err
		}
		all = append(all, subjectMatter{x, name, l})
	}
	return all, nil
})

func opened(t *testing.T) []subjectMatter {
	t.Helper()
	all, err := sources()
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// Every key of a thousand sheets is worked out again: numbers by closed forms, tables by the definition of the pattern,
// faults by another run, lessons by reading them again.
func TestThousandKeys(t *testing.T) {
	all := opened(t)
	seen := map[string]int{}
	for seed := range uint64(1000) {
		s := all[int(seed)%len(all)]
		sheet, err := s.Sheet(seed, 1)
		if err != nil {
			t.Fatalf("%s, seed %d: %v", s.name, seed, err)
		}
		for i, x := range sheet.Exercises() {
			name := fmt.Sprintf("%s, seed %d, exercise %d (%s)", s.name, seed, i+1, x.Name)
			seen[x.Name]++
			checkWords(t, name, x)
			switch x.Name {
			case "switching table":
				checkSteps(t, name, s.rig.kind, x)
			case "carrier period":
				checkPeriod(t, name, s.rig.kind, x)
			case "sketch":
				checkSketch(t, name, s.rig.kind, x)
			case "vectors":
				checkVectors(t, name, x)
			case "fault":
				checkFault(t, name, &s, x)
			case "lesson":
				checkLesson(t, name, s.lesson, x)
			default:
				checkNumber(t, name, &s.rig, x)
			}
		}
		if t.Failed() {
			return
		}
	}
	for i := range questions {
		if name := questions[i].name; seen[name] == 0 && !slices.Contains([]string{"reluctance torque", "coil current six-step-120", "coil current twelve-step-150"}, name) {
			t.Errorf("the question %s was never asked", questions[i].name)
		}
	}
	for _, name := range []string{"switching table", "carrier period", "sketch", "vectors", "fault", "lesson"} {
		if seen[name] < 50 {
			t.Errorf("%s was asked %d times only", name, seen[name])
		}
	}
}

// Questions that no built-in machine suits are asked of ones that they do.
func TestRareQuestions(t *testing.T) {
	uneven := rig{kind: pattern.SpaceVector, supply: 350, frequency: 160, carrier: 8000, current: 200, speed: 2400, machine: motor.Machine{
		PolePairs: 4, Resistance: 0.02, InductanceD: 2e-4, InductanceQ: 4e-4, FluxLinkage: 0.08}}
	coils := rig{supply: 48, frequency: 50, carrier: 8000, current: 10, machine: motor.Machine{Kind: motor.Passive, Resistance: 2, InductanceD: 0.01, InductanceQ: 0.01}}
	coils120, coils150 := coils, coils
	coils120.kind, coils150.kind = pattern.SixStep120, pattern.TwelveStep150
	for name, r := range map[string]*rig{"reluctance torque": &uneven, "coil current six-step-120": &coils120, "coil current twelve-step-150": &coils150} {
		asked := 0
		for seed := range uint64(50) {
			all, err := numbers(r, newRandom(seed, 1), 8)
			if err != nil {
				t.Fatal(err)
			}
			for i := range all {
				checkNumber(t, fmt.Sprint("seed ", seed, " ", all[i].Name), r, &all[i])
				if all[i].Name == name {
					asked++
				}
			}
		}
		if asked == 0 {
			t.Errorf("%s was never asked", name)
		}
	}
}

// checkWords looks for what no exercise may have.
func checkWords(t *testing.T, name string, x *Exercise) {
	t.Helper()
	for _, words := range append([]string{x.Ask, x.Answer, x.Working}, x.Choices...) {
		if words == "" || strings.ContainsAny(words, "<>") || strings.Contains(words, "NaN") || strings.Contains(words, "Inf") || strings.Contains(words, "%!") {
			t.Errorf("%s says %q", name, words)
		}
	}
	if x.Points < 1 {
		t.Errorf("%s is worth %d points", name, x.Points)
	}
	if x.Choices == nil {
		return
	}
	sorted := slices.Sorted(slices.Values(x.Choices))
	if len(slices.Compact(sorted)) != len(x.Choices) || len(x.Choices) < 2 {
		t.Errorf("%s has choices that are the same: %q", name, x.Choices)
	}
	if x.Choices[x.Right] != x.Answer {
		t.Errorf("%s: choice %d is not the answer %q", name, x.Right, x.Answer)
	}
}

// checkNumber works a number out again, and asks that the answer is what it rounds to, safely.
func checkNumber(t *testing.T, name string, r *rig, x *Exercise) {
	t.Helper()
	f, ok := closed[x.Name]
	if !ok {
		t.Errorf("%s has no closed form to check it by", name)
		return
	}
	v := values{}
	for _, g := range x.Given {
		v[g.Symbol] = g.Value
		if !strings.Contains(x.Ask, g.text()) {
			t.Errorf("%s does not tell %s = %s: %s", name, g.Symbol, g.text(), x.Ask)
		}
	}
	want := f(r, v)
	if math.Abs(x.Value-want) > 2e-5*math.Abs(want) {
		t.Errorf("%s: %v is %.9g, by the closed form %.9g", name, x.Given, x.Value, want)
	}
	if says := rounded(want, x.Unit); says != x.Answer {
		t.Errorf("%s: answer %q, %.6g rounds to %q", name, x.Answer, want, says)
	}
	// Nobody who carries a little more or less rounds to something else.
	for _, off := range []float64{1 - 5e-6, 1 + 5e-6} {
		if says := rounded(want*off, x.Unit); says != x.Answer {
			t.Errorf("%s: %.8g is within a hair of rounding to %q instead of %q", name, want, says, x.Answer)
		}
	}
	if want == 0 || !strings.HasSuffix(x.Working, " = "+x.Answer+".") {
		t.Errorf("%s: answer %q, working %q", name, x.Answer, x.Working)
	}
}

// rounded writes x to three significant digits by another way than the sheet: digits and exponent first, then the point.
func rounded(x float64, unit string) string {
	prefixes := map[int]string{-6: "µ", -3: "m", 0: "", 3: "k", 6: "M"}
	mantissa, exponent, _ := strings.Cut(strconv.FormatFloat(math.Abs(x), 'e', 2, 64), "e")
	e, _ := strconv.Atoi(exponent)
	third := 0
	if slices.Contains([]string{"V", "A", "W", "s", "Hz", "J", "Ω", "H", "Wb"}, unit) {
		third = int(math.Floor(float64(e)/3)) * 3
		unit = prefixes[third] + unit
	}
	figures := strings.ReplaceAll(mantissa, ".", "")
	switch point := e - third + 1; {
	case point >= 3:
		figures += strings.Repeat("0", point-3)
	case point <= 0:
		figures = "0." + strings.Repeat("0", -point) + figures
	default:
		figures = figures[:point] + "." + figures[point:]
	}
	if x < 0 {
		figures = "-" + figures
	}
	return strings.TrimSpace(figures + " " + unit)
}

func given(x *Exercise, symbol string) float64 {
	for _, g := range x.Given {
		if g.Symbol == symbol {
			return g.Value
		}
	}
	return math.NaN()
}

// degreesOf reads an angle like "330°".
func degreesOf(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(strings.TrimSuffix(text, "°"), 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func checkSteps(t *testing.T, name string, k pattern.Kind, x *Exercise) {
	t.Helper()
	supply, sum := given(x, "V"), 0.0
	for i, cells := range x.Table.Rows {
		from, to := degreesOf(t, cells[0].Text), degreesOf(t, cells[1].Text)
		width := math.Mod(to-from+360, 360)
		sum += width
		on := stepSwitches(k, from+width/2)
		pole, line, phase := voltages(on, supply)
		want := []string{on}
		beta := (phase[1] - phase[2]) / math.Sqrt(3)
		want = append(want, fmt.Sprintf("%.0f°", math.Mod(math.Atan2(beta, phase[0])*180/math.Pi+360.01, 360)-0.01))
		for _, v := range slices.Concat(pole[:], line[:], phase[:]) {
			want = append(want, strings.Replace(fmt.Sprintf("%.0f", v), "-0", "0", 1))
			if v != math.Trunc(v) && math.Abs(v-math.Round(v)) > 1e-9 {
				t.Errorf("%s, row %d: %g V is no whole number", name, i+1, v)
			}
		}
		for j, w := range want {
			if w == "-0°" {
				w = "0°"
			}
			if got := cells[2+j].Text; got != w {
				t.Errorf("%s, row %d: column %d says %q, the pattern makes %q", name, i+1, 3+j, got, w)
			}
		}
	}
	if sum != 360 {
		t.Errorf("%s: the steps are %g degrees together", name, sum)
	}
}

func checkPeriod(t *testing.T, name string, k pattern.Kind, x *Exercise) {
	t.Helper()
	bare, shaped := references(k, given(x, "M"), given(x, "a"))
	for i, cells := range x.Table.Rows {
		on := (1 + shaped[i]) / 2
		want := []string{fmt.Sprintf("%.3f", bare[i])}
		if k != pattern.SineTriangle {
			want = append(want, fmt.Sprintf("%.3f", shaped[i]))
		}
		want = append(want, fmt.Sprintf("%.1f", 100*on), fmt.Sprintf("%.1f", 1e6*on/given(x, "fc")))
		for j, w := range want {
			got, err := strconv.ParseFloat(cells[1+j].Text, 64)
			if y, _ := strconv.ParseFloat(w, 64); err != nil || got != y {
				t.Errorf("%s, row %d: column %d says %q, worked out %s", name, i+1, 2+j, cells[1+j].Text, w)
			}
		}
	}
}

func checkSketch(t *testing.T, name string, k pattern.Kind, x *Exercise) {
	t.Helper()
	w := x.Figure.(*waves)
	supply := given(x, "V")
	_, shaped := references(k, given(x, "M"), given(x, "a"))
	for i, from := range w.edges {
		to := w.x1
		if i+1 < len(w.edges) {
			to = w.edges[i+1]
		}
		on := w.gates[i].String()
		want := ""
		if k.Stepped() {
			want = stepSwitches(k, (from+to)/2)
		} else {
			// A pulse is centred on the period's ends, where the carrier is at its minimum.
			off := 2 * min((from+to)/2, w.x1-(from+to)/2) / w.x1
			var names []string
			for p, leg := range []string{"U", "V", "W"} {
				if off <= (1+shaped[p])/2+1e-12 {
					names = append(names, leg+"+")
				} else {
					names = append(names, leg+"-")
				}
			}
			want = strings.Join(names, " ")
		}
		if on != want {
			t.Errorf("%s: from %g to %g %s are on, by the pattern %s", name, from, to, on, want)
		}
		pole, line, phase := voltages(want, supply)
		a, b := w.lanes[0].phase, w.lanes[2].phase
		for l, v := range []float64{pole[a], line[a], phase[b]} {
			if math.Abs(w.lanes[l].values[i]-v) > 1e-9*supply {
				t.Errorf("%s: %s from %g is %g V, want %g", name, w.lanes[l].name, from, w.lanes[l].values[i], v)
			}
		}
	}
	if len(w.edges) < 3 {
		t.Errorf("%s has %d edges only", name, len(w.edges))
	}
}

func checkVectors(t *testing.T, name string, x *Exercise) {
	t.Helper()
	supply := given(x, "V")
	h := x.Figure.(*hexagon)
	check := func(i int, length, deg float64) {
		t.Helper()
		cells := x.Table.Rows[i]
		l, err := strconv.ParseFloat(cells[2].Text, 64)
		if err != nil || math.Abs(l-length) > 0.0051*length {
			t.Errorf("%s, vector %s: length %s V, want %.4g", name, cells[0].Text, cells[2].Text, length)
		}
		if off := math.Remainder(degreesOf(t, cells[3].Text)-deg, 360); math.Abs(off) > 0.5 {
			t.Errorf("%s, vector %s: at %s, want %g", name, cells[0].Text, cells[3].Text, deg)
		}
		if v := h.vectors[i]; math.Abs(v.length-length) > 1e-9*length || math.Abs(math.Remainder(v.angle*180/math.Pi-deg, 360)) > 1e-6 {
			t.Errorf("%s: the figure's vector %s is %g V at %g rad", name, v.name, v.length, v.angle)
		}
	}
	ofSwitches := func(on string) (length, deg float64) {
		_, _, phase := voltages(on, supply)
		alpha, beta := phase[0], (phase[1]-phase[2])/math.Sqrt(3)
		return math.Hypot(alpha, beta), math.Atan2(beta, alpha) * 180 / math.Pi
	}
	m, deg := given(x, "M"), given(x, "a")
	if math.IsNaN(m) {
		for i, cells := range x.Table.Rows {
			length, at := ofSwitches(cells[1].Text)
			check(i, length, at)
		}
		return
	}
	k := math.Floor(deg / 60)
	check(0, m*supply/2, deg)
	check(1, 2*supply/3, 60*k)
	check(2, 2*supply/3, 60*(k+1))
	for i, share := range []float64{before(m, deg-60*k), behind(m, deg-60*k)} {
		if got, want := x.Table.Rows[i+1][4].Text, fmt.Sprintf("%.1f", 100*share); got != want {
			t.Errorf("%s: share %s, want %s", name, got, want)
		}
	}
}

// second runs drives anew, once for each fault.
var second = map[string]drive.Summary{}

func checkFault(t *testing.T, name string, s *subjectMatter, x *Exercise) {
	t.Helper()
	found := false
	most := 0.0
	for _, p := range s.ward().healthy.summary.Phases {
		most = max(most, p.CurrentRMS)
	}
	for _, f := range suspects(&s.scenario, s.ward().peak) {
		if render.Lost(&f) != x.Answer {
			continue
		}
		found = true
		sum, ok := second[s.name+x.Answer]
		if !ok {
			again := s.scenario
			again.Faults = []drive.Fault{f}
			var err error
			if sum, err = drive.Simulate(again); err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			second[s.name+x.Answer] = sum
		}
		for i, p := range sum.Phases {
			for j, want := range []float64{p.CurrentRMS, p.CurrentMean} {
				if math.Abs(want) < 0.01*most {
					want = 0
				}
				says := "0 A"
				if want != 0 {
					says = rounded(want, "A")
				}
				if got := strings.TrimSuffix(x.Table.Rows[i][1+j].Text, " rms"); got != says {
					t.Errorf("%s: %s in %v, another run says %s", name, got, p.Phase, says)
				}
			}
		}
	}
	if !found {
		t.Errorf("%s: %q is no fault of those that are tried", name, x.Answer)
	}
	// Each of the others would have been told by a reading on the sheet.
	ill := map[string]*patient{}
	for _, p := range s.ward().ill {
		ill[p.words] = p
	}
	for i, c := range x.Choices {
		if i == x.Right {
			continue
		}
		if at, part := differs(ill[x.Answer], ill[c]); part <= apart {
			t.Errorf("%s: %q reads like %q, most different in %s", name, c, x.Answer, ill[c].readings[at].name)
		}
	}
}

func checkLesson(t *testing.T, name string, l *lesson.Lesson, x *Exercise) {
	t.Helper()
	for _, sc := range l.Scenes {
		for _, q := range sc.Questions {
			if !strings.HasPrefix(x.Ask, printed(q.Ask)) {
				continue
			}
			if x.Answer != printed(q.Answer()) || x.Choices == nil != (q.Choices == nil) {
				t.Errorf("%s: answer %q, the lesson's is %q", name, x.Answer, q.Answer())
			}
			if q.Choices == nil && (x.Value != q.Value || x.Value == 0) {
				t.Errorf("%s: %g, the lesson has %g", name, x.Value, q.Value)
			}
			return
		}
	}
	t.Errorf("%s: the lesson does not ask %q", name, x.Ask)
}

// Each of a class has a sheet of its own.
func TestThirtyDiffer(t *testing.T) {
	for _, s := range opened(t) {
		papers := map[string]int{}
		for n := 1; n <= 30; n++ {
			sheet, err := s.Sheet(7, n)
			if err != nil {
				t.Fatal(err)
			}
			var paper strings.Builder
			for _, x := range sheet.Exercises() {
				if x.Name != "lesson" { // which differ in the order of choices alone
					fmt.Fprintln(&paper, x.Ask, x.Answer)
				}
			}
			if other, ok := papers[paper.String()]; ok {
				t.Errorf("%s: sheets %d and %d are the same", s.name, other, n)
			}
			papers[paper.String()] = n
		}
	}
}

func sheetsOf(t *testing.T, s subjectMatter, seed uint64, copies int) (sheets []*Sheet) {
	t.Helper()
	for n := range copies {
		x, err := s.Sheet(seed, n+1)
		if err != nil {
			t.Fatal(err)
		}
		sheets = append(sheets, x)
	}
	return sheets
}

func TestSameSeedSameBytes(t *testing.T) {
	for i, s := range opened(t) {
		if i%4 != 0 {
			continue // a few are enough
		}
		var pdf, html [2]bytes.Buffer
		for i := range 2 {
			sheets := sheetsOf(t, s, 3, 2)
			if err := WritePDF(&pdf[i], A4, Both, sheets); err != nil {
				t.Fatal(err)
			}
			if err := WriteHTML(&html[i], Letter, Both, sheets); err != nil {
				t.Fatal(err)
			}
		}
		if !bytes.Equal(pdf[0].Bytes(), pdf[1].Bytes()) || !bytes.Equal(html[0].Bytes(), html[1].Bytes()) {
			t.Errorf("%s: the same sheets twice are not the same files", s.name)
		}
		for _, foreign := range []string{"http://", "https://", "<script", "ZgotmplZ"} {
			if text := strings.ReplaceAll(html[0].String(), "http://www.w3.org/", ""); strings.Contains(text, foreign) {
				t.Errorf("%s: the page holds %q", s.name, foreign)
			}
		}
	}
}

// What is on paper can be read back, answers on pages of their own, and each page tells whose it is.
func TestPDFText(t *testing.T) {
	all := opened(t)
	s := all[slices.IndexFunc(all, func(s subjectMatter) bool { return s.name == "phase-lost" })]
	sheets := sheetsOf(t, s, 5, 2)
	pages := textOf(t, A4, Both, sheets)
	for i, p := range pages {
		if !strings.Contains(p, "seed 5") || !strings.Contains(p, "invented") {
			t.Errorf("page %d does not tell its sheet, or that it is invented: %q", i+1, p)
		}
	}
	whole := strings.Join(pages, "\n")
	for _, want := range []string{"A phase is lost", "Name", "Sheet 2, seed 5", "Isolate and lock out", "three significant figures"} {
		if !strings.Contains(whole, want) {
			t.Errorf("the sheets do not say %q", want)
		}
	}
	first := slices.IndexFunc(pages, func(p string) bool { return strings.Contains(p, "Answers: ") })
	if first < 2 {
		t.Fatalf("the answers begin on page %d", first+1)
	}
	for i, p := range pages {
		if strings.Contains(p, "Key, page") != (i >= first) {
			t.Errorf("page %d of %d mixes sheets and keys", i+1, len(pages))
		}
	}
	if n := len(textOf(t, A4, Questions, sheets)) + len(textOf(t, A4, Answers, sheets)); n != len(pages) {
		t.Errorf("%d pages apart, %d together", n, len(pages))
	}
}

// textOf returns the text of each page of sheets, as poppler reads it.
func textOf(t *testing.T, paper Paper, part Part, sheets []*Sheet) []string {
	t.Helper()
	var b bytes.Buffer
	if err := WritePDF(&b, paper, part, sheets); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("pdftotext", "-", "-")
	cmd.Stdin = &b
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("pdftotext, of poppler, reads no sheet: %v", err)
	}
	return strings.Split(strings.TrimSuffix(string(out), "\f"), "\f")
}

func TestRefusals(t *testing.T) {
	for _, k := range []pattern.Kind{pattern.AllOff, pattern.ByHand, pattern.PulsedLow} {
		if _, err := OfPattern(k); err == nil || !strings.Contains(err.Error(), "space-vector") {
			t.Errorf("%v: %v", k, err)
		}
	}
	var p Paper
	if err := p.UnmarshalText([]byte("a5")); err == nil || !strings.Contains(err.Error(), "a4, letter") {
		t.Errorf("a5: %v", err)
	}
	if err := p.UnmarshalText([]byte("Letter")); err != nil || p != Letter {
		t.Errorf("Letter: %v, %v", p, err)
	}
}

// Two faults that read alike are never put side by side where one of them is the answer.
func TestFaultsCanBeTold(t *testing.T) {
	patientOf := func(words string, rms float64) *patient {
		p := &patient{words: words, record: make([]drive.Instant, 2)}
		p.summary.Phases = []drive.PhaseSummary{{}, {Phase: 1}, {Phase: 2}}
		for range 3 {
			p.meter.PhaseToPhase = append(p.meter.PhaseToPhase, symptom.Resistance{})
		}
		for i := range 9 {
			p.readings = append(p.readings, reading{fmt.Sprint("reading ", i), rms, "A", 10})
		}
		return p
	}
	w := ward{supply: 48, healthy: patientOf("none", 10), ill: []*patient{
		patientOf("one", 1), patientOf("like one", 1.1), patientOf("three", 4), patientOf("four", 6), patientOf("five", 8),
	}}
	for seed := range uint64(200) {
		x, ok := w.fault(newRandom(seed, 1))
		if !ok {
			t.Fatal("no fault can be asked for")
		}
		others := map[string]string{"one": "like one", "like one": "one"}
		if slices.Contains(x.Choices, others[x.Answer]) {
			t.Fatalf("%s is asked for beside %q", x.Answer, x.Choices)
		}
	}
	w.ill = w.ill[:3]
	if x, ok := w.fault(newRandom(1, 1)); ok {
		t.Errorf("of three faults, two alike, %q is asked for among %q", x.Answer, x.Choices)
	}
}
