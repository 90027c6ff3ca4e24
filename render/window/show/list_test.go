package show

import (
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"

	"sextant/inverter"
	"sextant/render/lesson"
)

// meet reports whether two rectangles have more than a line in common.
func meet(a, b vg.Rectangle) bool {
	const touch = 1e-6
	return a.Min.X < b.Max.X-touch && b.Min.X < a.Max.X-touch && a.Min.Y < b.Max.Y-touch && b.Min.Y < a.Max.Y-touch
}

var everySize = [][2]float64{{1280, 720}, {1366, 768}, {3840, 2160}, {820, 1180}, {390, 844}, {360, 640}, {844, 390}, {667, 375}, {600, 400}, {320, 480}}

// The list names every built-in lesson, each with a button that a finger hits, and closes.
func TestLessonsAreListed(t *testing.T) {
	for _, size := range everySize {
		s := open(t, "trainer-pwm")
		s.Do(Lesson)
		if s.Panel() != "lessons" {
			t.Fatalf("%v: open is %q", size, s.Panel())
		}
		f := s.Arrange(size[0], size[1], 1)
		words := wordsOn(s, size)
		for k, name := range lesson.Course() {
			title, err := lesson.Title(name)
			if err != nil {
				t.Fatal(err)
			}
			if first := strings.Fields(title)[0]; !strings.Contains(words, first) {
				t.Errorf("%v: %q is not in the list", size, title)
			}
			i := slices.IndexFunc(f.cells, func(c cell) bool { return c.wish == LessonWish(k) })
			if i < 0 {
				t.Fatalf("%v: no button for %q", size, title)
			}
			if box := f.cells[i].box; box.Max.Y-box.Min.Y < 24 && size[1] > 480 || box.Max.Y > f.Stage.Max.Y+1e-6 || box.Max.X > f.strip.Max.X+1e-6 {
				t.Errorf("%v: %q lies at %v", size, title, box)
			}
		}
		press(t, s, size, Dismiss)
		if s.Covered() {
			t.Errorf("%v: the list does not close", size)
		}
	}
}

// The list tells how a lesson went, at the first try.
func TestListTellsAnswers(t *testing.T) {
	s := open(t, "trainer-pwm")
	s.Do(NextLesson)
	for s.lecture.player.Question() == nil {
		s.Do(NextScene)
	}
	q := s.lecture.player.Question()
	s.Do(Choice1 + Wish((q.Right+1)%len(q.Choices)))
	s.Do(Choice1 + Wish(q.Right))
	s.Do(Lessons)
	if words := wordsOn(s, [2]float64{1280, 720}); strings.Count(words, " right)") != 1 || !strings.Contains(words, "(0 of 1 right)") {
		t.Errorf("the list says %q", words)
	}
}

// The list is gone through by keys alone: Tab and Enter, a number, or y, which needs no list.
func TestListByKeys(t *testing.T) {
	course := lesson.Course()
	for _, tt := range []struct {
		keys []Wish
		want string
	}{
		{[]Wish{Lesson, PressPart}, course[0]},
		{[]Wish{Lesson, NextPart, NextPart, PressPart}, course[2]},
		{[]Wish{Lesson, PreviousPart, PressPart}, course[len(course)-1]},
		{[]Wish{Lesson, Choice4}, course[3]},
		{[]Wish{NextLesson}, course[0]},
		{[]Wish{NextLesson, NextLesson}, course[1]},
		{[]Wish{Lesson, Lesson}, ""},
	} {
		s := open(t, "trainer-pwm")
		for _, w := range tt.keys {
			s.Do(w)
		}
		if name, _, _ := s.Lesson(); name != tt.want {
			t.Errorf("%v plays %q, want %q", tt.keys, name, tt.want)
		}
	}
}

// A choice is a button with its words on it; what was chosen is marked, and what is right.
func TestChoicesAreButtons(t *testing.T) {
	for _, size := range everySize {
		s, _ := playing(t, "guess-lead")
		for s.lecture.player.Index() < 2 {
			s.Do(NextScene)
		}
		for s.lecture.player.Question() == nil {
			s.Do(NextScene)
		}
		marks := func() (all []mark) {
			f := s.Arrange(size[0], size[1], 1)
			for _, c := range f.cells {
				if c.set == nil {
					continue
				}
				all = append(all, c.set.mark)
				if c.box.Max.Y-c.box.Min.Y < 24 && size[0] > 320 {
					t.Errorf("%v: a choice is %g high", size, c.box.Max.Y-c.box.Min.Y)
				}
				if !meet(c.box, c.set.area) || c.set.area.Max.Y > c.box.Max.Y+c.set.size || c.box.Min.Y < f.panel.Min.Y || c.box.Max.Y > f.panel.Max.Y {
					t.Errorf("%v: the words stand at %v, the button at %v", size, c.set.area, c.box)
				}
			}
			return all
		}
		if got := marks(); !slices.Equal(got, []mark{0, 0, 0, 0}) {
			t.Errorf("%v: before the answer %v", size, got)
		}
		press(t, s, size, Choice3)
		if got := marks(); !slices.Equal(got, []mark{right, 0, wrong, 0}) {
			t.Errorf("%v: after a wrong answer %v", size, got)
		}
		press(t, s, size, Choice1)
		if got := marks(); !slices.Equal(got, []mark{right, 0, 0, 0}) {
			t.Errorf("%v: after the right answer %v", size, got)
		}
	}
}

// Lessons are not behind the rest of the buttons.
func TestLessonsAreAtHand(t *testing.T) {
	for _, size := range everySize {
		s := open(t, "trainer-pwm")
		if f := s.Arrange(size[0], size[1], 1); size[1] > 400 && !shown(&f, Lesson) {
			t.Errorf("%v: no button for lessons", size)
		}
	}
}

// The rest of a phone's buttons leaves once it was of use.
func TestMoreFolds(t *testing.T) {
	for _, w := range []Wish{Lesson, Heat, TapeLanes, FilePanel, Dials, Faults} {
		s := open(t, "trainer-pwm")
		s.Do(More)
		s.Do(Faster)
		if !s.more {
			t.Error("the rest of the buttons leaves too soon")
		}
		if s.Do(w); s.more || s.panel == None {
			t.Errorf("wish %d leaves the rest of the buttons open: %t, panel %d", w, s.more, s.panel)
		}
	}
}

// Readings leave a phone's stage about half of the screen.
func TestStageBesideReadings(t *testing.T) {
	for _, size := range [][2]float64{{390, 844}, {412, 915}, {360, 740}, {844, 390}, {915, 412}} {
		s, _ := playing(t, "guess-switch")
		for s.lecture.player.Index() < 3 {
			if s.lecture.player.Question() == nil {
				s.Do(Choice1)
			}
			f := s.Arrange(size[0], size[1], 1)
			if part := f.Stage.Size().X * f.Stage.Size().Y / vg.Length(size[0]*size[1]); part < 0.42 {
				t.Errorf("%v, scene %d: the stage is left with %.0f %%", size, s.lecture.player.Index()+1, 100*part)
			}
			if meet(f.Stage, f.panel) {
				t.Errorf("%v: the panel covers the stage", size)
			}
			s.Do(NextScene)
		}
		if s.now().Current[inverter.U] == 0 {
			t.Error("nothing runs")
		}
	}
}
