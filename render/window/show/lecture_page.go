package show

import (
	"fmt"

	"sextant/inverter"
	"sextant/render"
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

// lectureButtons returns what the lesson's panel holds below its words.
func (s *Show) lectureButtons() [][]piece {
	p := s.lecture.player
	scene, page := fmt.Sprintf("scene %d of %d", p.Index()+1, len(p.Lesson().Scenes)), "words"
	q := p.Question()
	if q != nil {
		page = fmt.Sprintf("question %d of %d", p.Asked(), len(p.Scene().Questions))
	}
	space := piece{width: gap}
	groups := [][]piece{
		append(stepper(PreviousLesson, NextLesson, 4.3, "lesson", p.Lesson().Name), space, piece{wish: Dismiss, width: 1.3, text: "close"}),
		{
			{wish: PreviousScene, width: 1}, {width: 2.6, caption: scene, text: page}, {wish: NextScene, width: 2.7, caption: "next (q)", text: s.comes()},
			space, {wish: Notes, width: 1.3, text: "notes", on: s.lecture.notes},
		},
	}
	if q != nil {
		var choices []piece
		for k := range q.Offers()[:min(len(q.Offers()), mostOffers)] {
			choices = append(choices, piece{wish: Choice1 + Wish(k), width: 1.2, text: fmt.Sprint(k + 1)})
		}
		groups = append(groups, choices)
	} else if probes := p.Scene().Probes; len(probes) > 0 {
		readings := []piece{{width: 1.5, text: "read:"}}
		for k := range probes[:min(len(probes), mostOffers)] {
			readings = append(readings, piece{wish: Choice1 + Wish(k), width: 2.2, text: probes[k].Name, on: s.lecture.taken[k]})
		}
		groups = append(groups, readings)
	}
	return groups
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

// mostOffers is how many choices have a key.
const mostOffers = 6

// lectureWords returns what the lesson says now.
func (s *Show) lectureWords() []render.Paragraph {
	p := s.lecture.player
	scene := p.Scene()
	words := []render.Paragraph{{Text: p.Lesson().Title + ". " + scene.Title, Tone: render.Strong}}
	if q := p.Question(); q == nil {
		words = append(words, render.Paragraph{Text: p.Moment().Words})
		if s.Hiding() {
			sc := s.drive.Scenario()
			hint := "Click a wire to clamp it."
			if proved(&sc) {
				hint = "Click a wire or a device to put the meter there."
			}
			words = append(words, render.Paragraph{Text: hint, Tone: render.Quiet})
		}
		for k, probe := range scene.Probes {
			if !s.lecture.taken[k] {
				continue
			}
			words = append(words, probe.Shows()...)
		}
	} else {
		offers := q.Offers()
		words = q.Asks(offers)
		if v := p.Verdict(); v != nil {
			for k, offer := range offers {
				if words[k+1].Tone = render.Quiet; offer == v.Correct {
					words[k+1].Tone = render.Strong
				}
			}
			verdict := "Right, " + v.Correct + ". "
			if !v.Right {
				verdict = "Not so. It is: " + v.Correct + ". "
			}
			words = append(words, render.Paragraph{Text: verdict + v.Because, Tone: render.Strong})
		}
	}
	if s.lecture.notes && scene.Note != "" {
		words = append(words, render.Paragraph{Text: "Speaker: " + scene.Note, Tone: render.Quiet})
	}
	return words
}
