package show

import (
	"fmt"
	"slices"

	"sextant/inverter"
	"sextant/render"
	"sextant/render/lesson"
)

// emphasis returns the part that the lesson's scene speaks of, while its words are new.
func (s *Show) emphasis() render.Part {
	if p := s.lecture.player; p != nil && s.panel == Lesson && p.Question() == nil && s.lecture.lit > 0 {
		return p.Scene().Point
	}
	return render.Part{}
}

// framed returns the part that the spectator points at, or else that the lesson's words speak of: no question is to be
// answered by a frame.
func (s *Show) framed() render.Part {
	if p := s.lecture.player; p != nil && s.panel == Lesson && p.Question() == nil && s.hover == (render.Part{}) {
		return p.Scene().Point
	}
	return s.hover
}

// labels returns how the switches are numbered: as the spectator wants it, or else as the lesson's scene does.
func (s *Show) labels() inverter.Numbering {
	if p := s.lecture.player; p != nil && s.panel == Lesson && s.numbering == inverter.Names {
		return p.Scene().Labels
	}
	return s.numbering
}

// lectureButtons returns what the lesson's panel holds below its words. Where room is short, the strip holds the rest.
func (s *Show) lectureButtons(short bool) [][]piece {
	p := s.lecture.player
	scene, says := fmt.Sprintf("scene %d of %d", p.Index()+1, len(p.Lesson().Scenes)), "words"
	if p.Question() != nil {
		says = fmt.Sprintf("question %d of %d", p.Asked(), len(p.Scene().Questions))
	}
	space := piece{width: gap}
	_, waits := s.waits()
	turn := func(reads, next float64) []piece {
		return []piece{
			{wish: PreviousScene, width: 1}, {width: reads, caption: scene, text: says},
			{wish: NextScene, width: next, caption: "next (q)", text: s.comes(), on: waits}, space,
		}
	}
	terms := piece{wish: Terms, width: 1.4, text: "terms", on: s.lecture.terms}
	var groups [][]piece
	if short {
		groups = append(groups, append(turn(2.4, 2.5), terms, piece{wish: Dismiss, width: 1}))
	} else {
		groups = append(groups,
			[]piece{{wish: PreviousLesson, width: 1}, {wish: Lessons, width: 2.8, caption: "all lessons", text: s.lessonPlace()}, {wish: NextLesson, width: 1}, space, terms, {wish: Dismiss, width: 1.4, text: "close"}},
			append(turn(2.6, 2.6), s.notesButton()))
	}
	if p.Question() != nil {
		return groups
	}
	return append(groups, s.readingButtons(short)...)
}

// lessonPlace tells which lesson is played: the place of a built-in one among them, as the names of exercises would tell
// what is wrong, or a file's name.
func (s *Show) lessonPlace() string {
	name := s.lecture.player.Lesson().Name
	if k := slices.Index(lesson.Course(), name); k >= 0 {
		return fmt.Sprintf("%d of %d", k+1, len(lesson.Course()))
	}
	return shortName(name)
}

func (s *Show) notesButton() piece {
	return piece{wish: Notes, width: 1.4, text: "notes", on: s.lecture.notes}
}

// readingButtons returns a button for each reading that may be taken.
func (s *Show) readingButtons(short bool) [][]piece {
	probes := s.lecture.player.Scene().Probes
	if len(probes) == 0 {
		return nil
	}
	readings := []piece{{width: 1.5, text: "read:"}}
	for k := range probes[:min(len(probes), mostOffers)] {
		readings = append(readings, piece{wish: Choice1 + Wish(k), width: 2.2, text: probes[k].Name, on: s.lecture.taken[k]})
	}
	if !short || groupWidth(readings) < shortRoom-5 {
		return [][]piece{readings}
	}
	var apart [][]piece // in as many rows as it takes
	for _, r := range readings {
		apart = append(apart, []piece{r})
	}
	return apart
}

// comes names what a lesson goes on to.
func (s *Show) comes() string {
	p := s.lecture.player
	_, change := p.Coming()
	switch {
	case change:
		return "go on"
	case p.Asked() < len(p.Scene().Questions):
		return fmt.Sprint("question ", p.Asked()+1)
	case p.Index()+1 < len(p.Lesson().Scenes):
		return "next scene"
	}
	return "finish"
}

// mostOffers is how many readings have a button, and choices a key.
const mostOffers = 6
