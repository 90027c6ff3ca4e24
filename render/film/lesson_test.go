package film

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"sextant/inverter"
	"sextant/render"
	"sextant/render/lesson"
	"sextant/render/picture"
)

func lecture(t testing.TB, name string) *Film {
	t.Helper()
	l, err := lesson.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	return &Film{Lesson: l, Think: 5, Rate: 2, Size: picture.Size{Width: 400, Height: 225}}
}

// Every built-in lesson runs through, each scene shows the scenario of its moment, and time never stands still or runs
// back within one.
func TestLessonsFilm(t *testing.T) {
	for _, name := range lesson.Names() {
		f := lecture(t, name)
		if f.Rate = 1; testing.Short() {
			f.Lesson.Scenes = f.Lesson.Scenes[:1]
		}
		n, cards := 0, 0
		var last *render.View
		for s := range f.shots() {
			if s.err != nil {
				t.Fatalf("%s: %v", name, s.err)
			}
			switch {
			case s.view == nil:
				cards++
				last = nil
			case last != nil && !(s.view.Now.Time > last.Now.Time):
				t.Fatalf("%s: frame %d shows %g s after %g s", name, n, s.view.Now.Time, last.Now.Time)
			}
			if s.view != nil {
				last = s.view
			}
			n++
		}
		if n != f.Frames() || cards < 2*(len(f.Lesson.Scenes)+1) {
			t.Errorf("%s: %d frames, %d of them titles; want %d", name, n, cards, f.Frames())
		}
	}
}

// What the film says is what the lesson says: words with their figures, questions, then answers with their reasons, each
// for as long as it takes to read.
func TestLessonSaysItsWords(t *testing.T) {
	f := lecture(t, "six-steps")
	f.Lesson.Scenes = f.Lesson.Scenes[:1]
	var texts []string
	cues, err := f.writeRaw(t.Context(), &bytes.Buffer{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for k, c := range cues {
		texts = append(texts, c.Text)
		if k > 0 && c.From != cues[k-1].To {
			t.Errorf("nothing is said from %v to %v", cues[k-1].To, c.From)
		}
		if rate := float64(len(c.Text)) / (c.To - c.From).Seconds(); rate > 20 {
			t.Errorf("%q is shown for %v: %.0f letters a second", c.Text, c.To-c.From, rate)
		}
	}
	s := &f.Lesson.Scenes[0]
	want := []string{f.Lesson.Title, s.Title, s.Moments[0].Words, s.Moments[1].Words, s.Moments[2].Words,
		s.Questions[0].Ask, s.Questions[0].Because, s.Questions[1].Ask, s.Questions[1].Because}
	if len(texts) != len(want) {
		t.Fatalf("%d captions, want %d: %q", len(texts), len(want), texts)
	}
	for k := range want {
		if !strings.Contains(texts[k], want[k]) {
			t.Errorf("caption %d is %q, which lacks %q", k+1, texts[k], want[k])
		}
	}
	if !strings.Contains(texts[3], "60 deg") || !strings.Contains(texts[7], "2: W, to W+") || !strings.HasPrefix(texts[8], "Answer: W, to W+.") {
		t.Errorf("%q, %q, %q", texts[3], texts[7], texts[8])
	}
}

// The stage shows what is said: the states of the bridge that the lesson's file gives, from their changes on.
func TestLessonShowsItsChanges(t *testing.T) {
	f := lecture(t, "six-steps")
	f.Lesson.Scenes = f.Lesson.Scenes[:1]
	states := []inverter.Gates{
		inverter.On(inverter.UHigh, inverter.VLow, inverter.WLow),
		inverter.On(inverter.UHigh, inverter.VHigh, inverter.WLow),
		inverter.On(inverter.ULow, inverter.VHigh, inverter.WLow),
	}
	seen := map[int]int{}
	began := math.NaN()
	for s := range f.shots() {
		if s.view == nil {
			continue
		}
		if math.IsNaN(began) {
			began = s.view.Now.Time
		}
		k := min(int((s.view.Now.Time-began)/0.005+1e-6), 2) // changes come after 5 ms and 10 ms
		seen[k]++
		if s.view.Now.Gates != states[k] {
			t.Errorf("%g s into the scene %v are on, want %v", s.view.Now.Time-began, s.view.Now.Gates, states[k])
		}
	}
	if began != 0.1 || len(seen) != 3 {
		t.Errorf("begins at %g s, and shows states for %v frames", began, seen)
	}
	// 30 s for the scene's words, as its file says, and its questions besides.
	if n := seen[0] + seen[1] + seen[2]; n < 30*f.Rate+2*f.Rate*5 {
		t.Errorf("%d frames at %d a second", n, f.Rate)
	}
}

// A scene whose fault is asked for does not tell it.
func TestHiddenFaultsStayHidden(t *testing.T) {
	f := lecture(t, "guess-lead")
	hidden := 0
	for s := range f.shots() {
		if s.view == nil || s.setting.scenario == nil {
			continue
		}
		for i := range f.Lesson.Scenes {
			scene := &f.Lesson.Scenes[i]
			if scene.Hidden && scene.Title == s.view.Scenario.Title {
				if hidden++; len(s.view.Scenario.Faults) > 0 {
					t.Fatalf("scene %q tells %v", scene.Title, s.view.Scenario.Faults)
				}
			}
		}
	}
	if hidden == 0 {
		t.Error("the lesson has no hidden scene")
	}
}

// While there is time to think, a bar of the accent's colour shrinks; the answer comes when it is gone.
func TestTimeToThinkIsShown(t *testing.T) {
	f := lecture(t, "six-steps")
	f.Lesson.Scenes, f.Size = f.Lesson.Scenes[:1], picture.Size{Width: 800, Height: 450}
	accent := opaque(f.Theme.Accent())
	paint := painter()
	last, shrinks, asked := 801, 0, false
	for s := range f.shots() {
		if s.view == nil {
			continue
		}
		p := paint(s).picture
		y := int(math.Ceil(float64(f.Size.Height) - float64(s.setting.foot.Max.Y)*96/72))
		width := 0
		for x := range f.Size.Width {
			if p.RGBAAt(x, y) == accent {
				width++
			}
		}
		switch asks := strings.HasPrefix(s.says, "How many degrees"); {
		case asks && width >= last:
			t.Fatalf("the bar is %d wide after %d", width, last)
		case asks:
			last, asked = width, true
			shrinks++
		case width > 0 && !strings.Contains(s.says, "?"):
			t.Fatalf("a bar %d wide while the film says %q", width, s.says)
		}
	}
	if !asked || shrinks < 10 || last > 800/shrinks+8 {
		t.Errorf("%d frames ask, with %d of 800 left at the last", shrinks, last)
	}
}

// What a scene points at stands out when its words begin, for long enough to be found, and stays framed.
func TestLessonPoints(t *testing.T) {
	f := lecture(t, "phase-lost")
	f.Lesson.Scenes = f.Lesson.Scenes[1:2]
	point := f.Lesson.Scenes[0].Point
	lit, said := 0, ""
	for s := range f.shots() {
		if s.view == nil {
			continue
		}
		if s.says != said {
			said, lit = s.says, 0
		}
		lit++
		asks := strings.Contains(said, "?") || strings.HasPrefix(said, "Answer")
		frame := point
		if asks && !strings.HasPrefix(said, "Answer") {
			frame = render.Part{}
		}
		if want := lit <= 3*f.Rate && !asks; (s.view.Emphasis == point) != want || s.view.Hover != frame || s.setting.lit != s.view.Emphasis {
			t.Fatalf("frame %d that says %q: emphasis %v, hover %v", lit, said, s.view.Emphasis, s.view.Hover)
		}
	}
	if (point == render.Part{}) {
		t.Error("the scene points at nothing")
	}
}

func TestLessonWithoutQuestions(t *testing.T) {
	with := lecture(t, "six-steps")
	without := *with
	without.Think = 0
	for s := range without.scenes() {
		for _, p := range without.scenes()[s].pages {
			if strings.Contains(p.says, "?") || strings.HasPrefix(p.says, "Answer") {
				t.Errorf("asks %q", p.says)
			}
		}
	}
	if with.Frames() <= without.Frames() {
		t.Errorf("%d frames with questions, %d without", with.Frames(), without.Frames())
	}
}

func TestRoundUp(t *testing.T) {
	for _, tt := range [][2]float64{{1767, 1800}, {1000, 1000}, {1.01, 1.1}, {0.0234, 0.024}, {99.5, 100}} {
		if got := roundUp(tt[0]); math.Abs(got-tt[1]) > 1e-9*tt[1] {
			t.Errorf("%g becomes %g, want %g", tt[0], got, tt[1])
		}
	}
}
