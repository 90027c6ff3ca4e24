package handout

import (
	"bytes"
	"fmt"
	"os/exec"
	"slices"
	"strings"
	"sync"
	"testing"

	"sextant/inverter/pattern"
	"sextant/motor"
	"sextant/motor/drive"
	"sextant/motor/scenario"
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
		s, err := scenario.Open(name)
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

// Drives that are odd, but run, have sheets too.
func TestOddDrives(t *testing.T) {
	for name, change := range map[string]func(*drive.Scenario){
		"without resistance": func(s *drive.Scenario) { s.Machine.Resistance = 0 },
		"in delta":           func(s *drive.Scenario) { s.Machine.Connection = motor.Delta },
		"without a magnet":   func(s *drive.Scenario) { s.Machine.FluxLinkage = 0 },
		"too fast":           func(s *drive.Scenario) { s.Shaft.Speed, s.Gating = 2000, followed(0) },
		"standing":           func(s *drive.Scenario) { s.Shaft.Speed, s.Gating = 0, followed(10) },
		"backwards":          func(s *drive.Scenario) { s.Shaft.Speed, s.Gating.Frequency = -s.Shaft.Speed, -s.Gating.Frequency },
		"off":                func(s *drive.Scenario) { s.Gating.Kind = pattern.AllOff },
		"untitled":           func(s *drive.Scenario) { s.Title = "" },
		"small":              func(s *drive.Scenario) { s.Supply.Voltage = 0.5 },
	} {
		s, err := scenario.Open("trainer-pwm")
		if err != nil {
			t.Fatal(err)
		}
		change(&s)
		x, err := OfScenario(s)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for _, sheet := range sheetsOf(t, subjectMatter{Source: x, name: name}, 1, 5) {
			if len(sheet.Exercises()) < 1 || sheet.Title == "" {
				t.Errorf("%s: %q has %d exercises", name, sheet.Title, len(sheet.Exercises()))
			}
			for _, e := range sheet.Exercises() {
				checkWords(t, name+", "+e.Name, e)
			}
			var b bytes.Buffer
			if err := WritePDF(&b, A4, Both, []*Sheet{sheet}); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
}

// Two faults that read alike are never put side by side where one of them is the answer.
func TestFaultsCanBeTold(t *testing.T) {
	patientOf := func(words string, rms float64) *patient {
		p := &patient{words: words, record: make([]drive.Instant, 2)}
		for i := range 3 {
			p.rms[i], p.mean[i], p.ohms[i] = reading{"rms", rms, "A", 10}, reading{"mean", 0, "A", 10}, reading{"ohms", 1, "Ω", 1}
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

// followed returns a control of the current iq, in A.
func followed(iq float64) drive.Gating {
	return drive.Gating{Settings: pattern.Settings{Kind: pattern.SpaceVector, Carrier: 8000}, Follow: drive.Current, IQ: iq}
}
