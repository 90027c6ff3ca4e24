package lesson_test

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"sextant/motor/drive"
	"sextant/render/lesson"
)

func open(t *testing.T, name string) *lesson.Lesson {
	t.Helper()
	l, err := lesson.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// TestBuiltIn plays every lesson through: its scenarios run, its changes are taken, and of its answers the right
// ones are judged right and all others wrong.
func TestBuiltIn(t *testing.T) {
	taught := []string{
		"one-switch", "six-steps", "three-sequences", "steps-to-sine", "frequency-and-voltage", "dead-time", "lead-lag",
		"off-low-high", "full-battery", "silicon-and-carbide", "phase-lost", "two-numberings", "one-lecture",
	}
	names := lesson.Names()
	for _, want := range taught {
		if !slices.Contains(names, want) {
			t.Errorf("there is no lesson %s", want)
		}
	}
	if guesses := len(names) - len(taught); guesses < 3 {
		t.Errorf("%d faults to guess, want 3 or more", guesses)
	}
	for _, name := range names {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			l := open(t, name)
			if !strings.Contains(l.About, "invented") {
				t.Errorf("the lesson does not say that its data are invented: %s", l.About)
			}
			p, asked := lesson.New(l), 0
			for {
				if p.Question() != nil {
					asked++
					answer(t, p)
				} else {
					run(t, p)
				}
				if moved, _ := p.Next(); !moved {
					break
				}
			}
			if scenes := p.Index() + 1; scenes < 3 || asked < 2 {
				t.Errorf("%d scenes and %d questions", scenes, asked)
			}
		})
	}
}

// run plays a scene's moments on one drive.
func run(t *testing.T, p *lesson.Player) {
	t.Helper()
	s := p.Moment().Scenario
	d, err := drive.New(s)
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Advance(s.Run.Settle); err != nil {
		t.Fatal(err)
	}
	began := d.Time()
	scene := p.Scene()
	for k := 1; k < len(scene.Moments); k++ {
		after, ok := p.Coming()
		if !ok {
			t.Fatalf("%s: change %d does not come", scene.Title, k)
		}
		if err := d.Advance(began + after - d.Time()); err != nil {
			t.Fatal(err)
		}
		if err := d.Change(p.Change().Scenario); err != nil {
			t.Fatalf("%s: %v", scene.Title, err)
		}
	}
	if err := d.Advance(1e-3); err != nil {
		t.Error(err)
	}
	if scene.Hidden && len(p.Moment().Scenario.Faults) == 0 {
		t.Errorf("%s hides no fault", scene.Title)
	}
	for _, m := range scene.Moments {
		if strings.ContainsAny(m.Words, "{}") || strings.Contains(m.Words, "NaN") {
			t.Errorf("%s", m.Words)
		}
	}
}

// answer gives all answers to a question, the right one last.
func answer(t *testing.T, p *lesson.Player) {
	t.Helper()
	q := p.Question()
	right := 0
	for k := range q.Choices {
		v, err := p.Answer(strconv.Itoa(k + 1))
		if err != nil {
			t.Fatal(err)
		}
		if v.Right {
			right++
		}
		if v.Right != (k == q.Right) || v.Because == "" {
			t.Errorf("%s: %+v", q.Ask, v)
		}
	}
	offered := 0
	for k := range q.Offers() {
		if v, err := p.Choose(k); err != nil {
			t.Fatal(err)
		} else if v.Right {
			offered++
		}
	}
	for _, offer := range q.Offers() {
		if x, err := strconv.ParseFloat(strings.TrimSuffix(offer, " %"), 64); q.Unit == "%" && (err != nil || x > 100) {
			t.Errorf("%s: %s is offered as a part of the whole", q.Ask, offer)
		}
	}
	if offered != 1 {
		t.Errorf("%s: %d of %q are right", q.Ask, offered, q.Offers())
	}
	if q.Choices != nil {
		if right != 1 {
			t.Errorf("%s: %d right", q.Ask, right)
		}
		return
	}
	for _, x := range []struct {
		text  string
		right bool
	}{
		{number(q.Value), true},
		{q.Answer(), true},
		{number(q.Value*(1+q.Tolerance*1.5) + 1e-6), false},
		{number(-q.Value - 1), false},
	} {
		if v, err := p.Answer(x.text); err != nil || v.Right != x.right {
			t.Errorf("%s: %s is judged %+v, %v", q.Ask, x.text, v, err)
		}
	}
}

func number(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

// TestNoFigureIsTyped looks for numbers in captions that do not come of the run. Angles that divide a turn are
// names more than figures, and factors are the theory's.
func TestNoFigureIsTyped(t *testing.T) {
	words := regexp.MustCompile(`(?:caption|say|ask|because) = (?:"""((?s:.*?))"""|"([^"]+)")`)
	braces := regexp.MustCompile(`\{[^}]*\}|[24]/pi|2/3`)
	figure := regexp.MustCompile(`[0-9]+`)
	angles := []string{"30", "60", "90", "120", "150", "180"}
	for _, name := range lesson.Names() {
		_, data, err := lesson.Find(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range words.FindAllStringSubmatch(string(data), -1) {
			for _, n := range figure.FindAllString(braces.ReplaceAllString(m[1]+m[2], ""), -1) {
				if !slices.Contains(angles, n) {
					t.Errorf("%s types %s: %s", name, n, m[0])
				}
			}
		}
	}
}

// TestAnswersAgainstClosedForms compares answers that the model gave with formulas of the textbook.
func TestAnswersAgainstClosedForms(t *testing.T) {
	hauler := 4 * 3000 * math.Pi / 30 * 0.08 // V, peak EMF per phase at 3000 rpm: pole pairs times speed times flux
	for _, tt := range []struct {
		lesson      string
		scene, nth  int
		want, close float64
	}{
		{"one-switch", 0, 1, 6 / (2 * 0.4), 1e-6},                                    // Ohm's law, two windings
		{"one-switch", 1, 1, 6 * 2. / 3, 1e-6},                                       // one winding before two side by side
		{"six-steps", 0, 0, 60, 1e-6},                                                // six corners
		{"six-steps", 1, 1, 1500, 1e-9},                                              // 60 f/p
		{"six-steps", 2, 0, 2 / math.Pi * 48, 1e-5},                                  // Mohan, Undeland, Robbins: fundamental of a square wave
		{"six-steps", 2, 1, 48 * math.Sqrt(2./3), 1e-9},                              // two thirds of the time at the full supply
		{"steps-to-sine", 1, 0, 0.7654 * 24, 2e-3},                                   // modulation times half the supply
		{"frequency-and-voltage", 0, 0, 2 * 900 * math.Pi / 30 * 0.08, 1e-3},         // EMF
		{"frequency-and-voltage", 3, 0, 2 / math.Pi * 350 / (hauler / 3000), 1e-4},   // EMF up to six-step's most
		{"dead-time", 1, 1, 4 / math.Pi * 2970 * 5e-6 * 48, 2e-2},                    // square wave of the lost volt-seconds
		{"off-low-high", 1, 0, 350 / (math.Sqrt(3) * hauler / 3000), 1e-3},           // line EMF up to the supply
		{"two-numberings", 1, 1, 3, 1e-9},                                            // half a turn
		{"one-lecture", 0, 0, 60, 1e-6},                                              // six corners
		{"one-lecture", 1, 0, 1500, 1e-9},                                            // 60 f/p
		{"one-lecture", 5, 0, 100 * (1 - 1.5*0.02*120*120/(57.6*100*math.Pi)), 2e-3}, // 3/2 R i^2 of 3/2 p psi i at 3000 rpm
	} {
		q := open(t, tt.lesson).Scenes[tt.scene].Questions[tt.nth]
		if math.Abs(q.Value-tt.want) > tt.close*math.Abs(tt.want) {
			t.Errorf("%s: %s %.7g, want %.7g", tt.lesson, q.Ask, q.Value, tt.want)
		}
	}
}
