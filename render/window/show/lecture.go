package show

import (
	"fmt"
	"slices"
	"strings"

	"sextant/inverter"
	"sextant/render"
	"sextant/render/lesson"
)

// A lecture is a lesson that is played over the show.
type lecture struct {
	at     int              // in the built-in lessons
	player *lesson.Player   // nil while there is none
	began  float64          // s, of the drive, when the scene began
	base   int              // how many steps were made before the scene, and stay
	lit    float64          // s of the spectator's for which what the scene points at still stands out
	notes  bool             // the speaker's are shown
	taken  []bool           // which of the scene's readings
	played []*lesson.Player // all, in order
}

// turnLecture opens the lesson's panel, with a lesson, or closes it.
func (s *Show) turnLecture() {
	if s.panel == Lesson {
		s.panel = None
		return
	}
	if s.lecture.player == nil {
		s.turnLesson(0)
		return
	}
	s.panel = Lesson
}

// turnLesson plays another of the built-in lessons.
func (s *Show) turnLesson(step int) {
	names := lesson.Names()
	k := ((s.lecture.at+step)%len(names) + len(names)) % len(names)
	l, err := lesson.Open(names[k])
	if err != nil {
		s.say(findings(err))
		return
	}
	s.lecture.at = k
	s.Play(l)
}

// Play begins lesson l.
func (s *Show) Play(l *lesson.Lesson) {
	before := s.leave()
	p := lesson.New(l)
	s.lecture.player, s.lecture.played = p, append(s.lecture.played, p)
	s.panel, s.lecture.base = Lesson, len(s.steps)
	if !s.beginScene() {
		s.comeBack(before)
		return
	}
	s.swapped(before, "Lesson: "+strings.TrimSuffix(l.Title, ".")+".")
	s.lecture.base = len(s.steps)
}

// endLecture leaves the lesson.
func (s *Show) endLecture() {
	s.lecture.player, s.lecture.base = nil, 0
	if s.panel == Lesson {
		s.panel = None
	}
}

// beginScene starts over with the scenario of the lesson's present scene, and looks where it says.
// What was changed by hand before is not to be taken back in it.
func (s *Show) beginScene() bool {
	p := s.lecture.player
	scene := p.Scene()
	if err := s.settle(&p.Moment().Scenario); err != nil {
		s.say(sentence(err))
		return false
	}
	s.forget()
	s.message, s.left = "", 0 // it was of what was there before
	s.lecture.began, s.lecture.taken = s.drive.Time(), make([]bool, len(scene.Probes))
	s.lecture.lit = pointing
	s.focus, s.hover, s.playing = scene.Focus, render.Part{}, true
	if scene.Pace > 0 {
		s.pace = nearestPace(scene.Pace)
	}
	return true
}

// forget gives up the steps since the scene began.
func (s *Show) forget() {
	s.letGo()
	s.steps, s.undone = s.steps[:min(s.lecture.base, len(s.steps))], nil
}

// advance carries the drive on, and makes the changes of the lesson's scene when their time comes.
func (s *Show) advance(dt float64) error {
	p := s.lecture.player
	if p == nil {
		return s.proceed(dt)
	}
	for end := s.drive.Time() + dt; ; {
		at, ok := p.Coming()
		if at += s.lecture.began; !ok || at > end {
			return s.proceed(max(end-s.drive.Time(), 0))
		}
		if err := s.changeAt(at); err != nil {
			return err
		}
	}
}

// changeAt carries the drive on to time t in s and makes the next change of the lesson's scene there.
func (s *Show) changeAt(t float64) error {
	if err := s.proceed(max(t-s.drive.Time(), 0)); err != nil {
		return err
	}
	if err := s.carryOn(s.lecture.player.Change().Scenario); err != nil {
		return err
	}
	s.forget() // back would be to before the change
	s.lecture.lit = pointing
	return nil
}

// hurry lets the next change of the lesson's scene come at once, where one is to come: what is asked behind it is about
// what it does.
func (s *Show) hurry() bool {
	at, ok := s.lecture.player.Coming()
	if !ok || s.failed {
		return false
	}
	s.run(func() error { return s.changeAt(s.lecture.began + at) })
	return true
}

// pointing is for how many of the spectator's seconds the part that a scene points at stands out from all else; then a
// frame round it is enough.
const pointing = 5

// dim lets wall seconds of that time pass.
func (s *Show) dim(wall float64) {
	if l := &s.lecture; l.player != nil && l.lit > 0 {
		if l.lit -= wall; l.lit <= 0 {
			s.changed = true
		}
	}
}

// turnPage goes on in the lesson, or back.
func (s *Show) turnPage(w Wish) {
	p := s.lecture.player
	if p == nil {
		s.turnLecture()
		return
	}
	s.panel = Lesson
	turn, end := p.Next, "This is the lesson's last page. The arrow beside its name, or y, leads to the next; files, or F, saves the answers."
	switch {
	case w == PreviousScene:
		turn, end = p.Back, "This is the lesson's first page."
	case s.hurry():
		return
	}
	moved, begun := turn()
	switch {
	case !moved && w == NextScene:
		s.say(s.marks() + end)
	case !moved:
		s.say(end)
	case begun:
		s.beginScene()
	}
}

// marks tells how many questions were answered well at the first try.
func (s *Show) marks() string {
	var asked []string
	right := 0
	for _, r := range s.lecture.player.Results() {
		if slices.Contains(asked, r.Question) {
			continue
		}
		asked = append(asked, r.Question)
		if r.Right {
			right++
		}
	}
	if len(asked) == 0 {
		return ""
	}
	return fmt.Sprintf("%d of %d answers were right at the first try. ", right, len(asked))
}

// chooseInLesson gives an answer to the lesson's question, from 0, or takes a reading where no question is put.
func (s *Show) chooseInLesson(n int) {
	if p := s.lecture.player; p != nil && p.Question() == nil && n < len(s.lecture.taken) {
		s.panel = Lesson
		s.lecture.taken[n] = !s.lecture.taken[n]
		return
	}
	s.answer(n)
}

// answer gives an answer to the lesson's question, from 0.
func (s *Show) answer(n int) {
	p := s.lecture.player
	switch {
	case p == nil:
		s.say("No lesson is open; press b for one.")
		return
	case p.Question() == nil:
		s.say("The lesson has not asked yet; press q to go on.")
		return
	}
	s.panel = Lesson
	if _, err := p.Choose(n); err != nil {
		s.say(sentence(err))
	}
}

// Results returns the answers that were given, to all lessons played.
func (s *Show) Results() []lesson.Result {
	var all []lesson.Result
	for _, p := range s.lecture.played {
		all = append(all, p.Results()...)
	}
	return all
}

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

// Lesson returns the name of the lesson that is played, or "", the number of its scene from 1, and the question that is
// put.
func (s *Show) Lesson() (name string, scene int, question string) {
	p := s.lecture.player
	if p == nil {
		return "", 0, ""
	}
	if q := p.Question(); q != nil {
		question = q.Ask
	}
	return p.Lesson().Name, p.Index() + 1, question
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
