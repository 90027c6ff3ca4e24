package show

import (
	"fmt"
	"strings"

	"sextant/render"
	"sextant/render/lesson"
)

// Words returns what lies over the picture to be read, a line a paragraph: the help, a page of a lesson, the list of
// lessons. It is empty where nothing does.
func (s *Show) Words() string {
	var lines []string
	switch {
	case s.help:
		lines = append(lines, notes...)
		for _, a := range actions {
			lines = append(lines, a.keys+": "+a.does+".")
		}
		for _, t := range lesson.Terms() {
			lines = append(lines, t.Word+": "+t.Means)
		}
	case s.panel == Lessons:
		lines = append(lines, "Lessons. Tab goes through them, Enter opens one.")
		for k, title := range titles() {
			lines = append(lines, fmt.Sprintf("%d: %s.", k+1, title))
		}
	case s.panel == Lesson:
		lines = s.lecturePage(false).lines()
	}
	return render.Typeset(strings.Join(lines, "\n"))
}

// lines returns what a page says, as text.
func (p *page) lines() (all []string) {
	for _, words := range p.above {
		all = append(all, words.Text)
	}
	for _, c := range p.choices {
		all = append(all, c.number+": "+c.words.Text)
	}
	for _, words := range p.below {
		all = append(all, words.Text)
	}
	return all
}

// Explained returns what the part of the stage that is explained in v is called, and what it reads; nothing where none
// is explained.
func (s *Show) Explained(v *render.View) (part, reads string) {
	if s.panel == Lessons && s.lecture.listed < len(titles()) {
		return titles()[s.lecture.listed], ""
	}
	if s.hover == (render.Part{}) || s.rest < pointsAtRest || s.help {
		return "", ""
	}
	e := render.Explain(s.hover, v)
	return e.Title, e.Value
}

// Past returns how far back the picture looks, in s; 0 in the present.
func (s *Show) Past() float64 { return s.drive.Time() - s.time() }

// Panel names what is open over the picture; "" for nothing.
func (s *Show) Panel() string {
	if s.help {
		return "help"
	}
	return map[Wish]string{Dials: "dials", Faults: "faults", Heat: "heat", Lesson: "lesson", Lessons: "lessons", TapeLanes: "tape", FilePanel: "files"}[s.panel]
}

// Steps returns how many changes can be taken back, and how many can be made again.
func (s *Show) Steps() (undo, redo int) { return len(s.steps), len(s.undone) }

// Hiding reports whether the lesson's present scene keeps its faults to itself.
func (s *Show) Hiding() bool { return s.lecture.player != nil && s.lecture.player.Scene().Hidden }

// Score returns how many answers were given to questions of lessons, and how many were right.
func (s *Show) Score() (answers, right int) {
	for _, r := range s.Results() {
		answers++
		if r.Right {
			right++
		}
	}
	return answers, right
}
