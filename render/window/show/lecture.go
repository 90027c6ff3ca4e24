package show

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"sextant/render"
	"sextant/render/lesson"
)

// A lecture is a lesson that is played over the show.
type lecture struct {
	at     int              // in the course of built-in lessons
	listed int              // in the same, that Enter plays in the list of all
	player *lesson.Player   // nil while there is none
	began  float64          // s, of the drive, when the scene began
	base   int              // how many steps were made before the scene, and stay
	lit    float64          // s of the spectator's for which what the scene points at still stands out
	notes  bool             // the speaker's are shown
	terms  bool             // are explained
	taken  []bool           // which of the scene's readings
	played []*lesson.Player // all, in order
}

// turnLecture opens the lesson's panel, or the list of all lessons where none is played, or closes them.
func (s *Show) turnLecture() {
	switch {
	case s.panel == Lesson, s.panel == Lessons:
		s.panel = None
	case s.lecture.player == nil:
		s.panel = Lessons
	default:
		s.panel = Lesson
	}
}

// turnLesson plays another of the built-in lessons; the first where none was played.
func (s *Show) turnLesson(step int) {
	n := len(lesson.Course())
	if s.lecture.player == nil && len(s.lecture.played) == 0 {
		step = 0
	}
	s.playListed(((s.lecture.at+step)%n + n) % n)
}

// playListed plays the k-th lesson of the course.
func (s *Show) playListed(k int) {
	course := lesson.Course()
	if k >= len(course) {
		return
	}
	l, err := lesson.Open(course[k])
	if err != nil {
		s.say(findings(err))
		return
	}
	s.Play(l)
}

// Play begins lesson l.
func (s *Show) Play(l *lesson.Lesson) {
	before := s.leave()
	p := lesson.New(l)
	if k := slices.Index(lesson.Course(), l.Name); k >= 0 {
		s.lecture.at, s.lecture.listed = k, k
	}
	s.lecture.player, s.lecture.played = p, append(s.lecture.played, p)
	s.panel, s.lecture.base = Lesson, len(s.steps)
	if !s.beginScene() {
		s.comeBack(before)
		return
	}
	s.swapped(before, "Lesson: "+strings.TrimSuffix(l.Title, ".")+".")
	s.lecture.base = len(s.steps)
}

// GoToScene goes to the scene of that number, from 1, of the lesson that is played.
func (s *Show) GoToScene(number int) error {
	p := s.lecture.player
	if p == nil {
		return errors.New("no lesson is played that has scenes")
	}
	if !p.Go(number - 1) {
		return fmt.Errorf("there is no scene %d; the lesson has scenes 1 to %d", number, len(p.Lesson().Scenes))
	}
	s.beginScene()
	return nil
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
	s.focus, s.hover, s.playing = scene.Focus, render.Part{}, !s.still
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

// advance carries the drive on, to the next change of the lesson's scene at most, where it waits: what is said before a
// change takes as long to read, or to speak about, as it takes. To play on makes the change.
func (s *Show) advance(dt float64) error {
	p := s.lecture.player
	if p == nil {
		return s.proceed(dt)
	}
	if at, waits := s.waits(); waits {
		return s.changeAt(at)
	}
	left := dt
	if at, ok := p.Coming(); ok {
		left = min(left, s.lecture.began+at-s.drive.Time())
	}
	if err := s.proceed(left); err != nil {
		return err
	}
	if _, waits := s.waits(); waits {
		s.playing = false
	}
	return nil
}

// waits returns when the next change of the lesson's scene is due, in s of the drive, and whether it is.
func (s *Show) waits() (at float64, yes bool) {
	if s.lecture.player == nil {
		return 0, false
	}
	at, coming := s.lecture.player.Coming()
	at += s.lecture.began
	return at, coming && s.drive.Time() >= at
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
	if _, waits := s.waits(); waits {
		s.playing = true
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
	turn, end := p.Next, "This is the lesson's last page. The button lessons lists them all, y leads to the next; files, or F, saves the answers."
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
	answered, right := marks(s.lecture.player)
	if answered == 0 {
		return ""
	}
	return fmt.Sprintf("%d of %d answers were right at the first try. ", right, answered)
}

// marks returns how many of a lesson's questions were answered, and how many of those well at the first try.
func marks(p *lesson.Player) (answered, right int) {
	var asked []string
	for _, r := range p.Results() {
		if slices.Contains(asked, r.Question) {
			continue
		}
		asked = append(asked, r.Question)
		if r.Right {
			right++
		}
	}
	return len(asked), right
}

// chooseInLesson gives an answer to the lesson's question, from 0, or takes a reading where no question is put.
func (s *Show) chooseInLesson(n int) {
	if s.panel == Lessons {
		s.playListed(n)
		return
	}
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
		s.say("No lesson is open; b or the button lessons lists them.")
		return
	case p.Question() == nil:
		s.say("The lesson has not asked yet; q or the button next goes on.")
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
