package handout

import (
	"fmt"
	"math"
	"strings"

	"sextant/motor/fault/symptom"
	"sextant/render/lesson"
)

// A Script is what a speaker reads from, on paper or a screen that the class does not see: by the clock, what the class
// sees and reads, what to say, what to ask, and the answers.
type Script struct {
	Title, About string
	Lasts        float64 // s
	Cautions     []string
	Cues         []Cue
}

// A Cue is a scene of a script.
type Cue struct {
	Begins, Lasts float64 // s
	Title         string
	Words         []string // what is written below the stage, by and by
	Readings      []string // that may be taken
	Say           string
	Picture       Figure // may be nil
	Asks          []Ask
}

const (
	// sceneLasts is how long in s a scene takes at least: durations of lessons are made for films.
	sceneLasts = 60
	// askLasts is how long in s it takes to ask a class, to let it think, and to tell why.
	askLasts = 60
	// leastScene and mostTime, in s, bound what makes sense.
	leastScene, mostTime = 10.0, 24 * 3600.0
)

// CheckTime returns what is wrong with a time in s for the script of a lesson: less than ten seconds a scene, other than 0,
// or more than a day.
func CheckTime(l *lesson.Lesson, lasts float64) error {
	least := leastScene * float64(len(l.Scenes))
	if lasts == 0 || lasts >= least && lasts <= mostTime {
		return nil
	}
	return fmt.Errorf("%g s is no time for %d scenes; give %g s to %g h, like \"45 min\"", lasts, len(l.Scenes), least, mostTime/3600)
}

// ScriptOf returns the script of a lesson. The scenes share the time lasts in s, by their durations, but a minute at
// least, and a minute for each question; 0 gives them just that. It fails as the scenes' drives do, and as
// [CheckTime] does.
func ScriptOf(l *lesson.Lesson, lasts float64) (*Script, error) {
	if err := CheckTime(l, lasts); err != nil {
		return nil, err
	}
	s := &Script{Title: l.Title, About: l.About}
	for i := range l.Scenes {
		scene, err := sceneOf(i+1, &l.Scenes[i])
		if err != nil {
			return nil, err
		}
		c := Cue{Begins: s.Lasts, Lasts: max(l.Scenes[i].Duration, sceneLasts), Title: scene.section.Title, Say: printed(l.Scenes[i].Note), Picture: scene.section.Picture}
		n := len(l.Scenes[i].Moments)
		c.Words, c.Readings = scene.section.Words[:n], scene.section.Words[n:]
		c.Asks = asks(l.Scenes[i].Questions)
		c.Lasts += askLasts * float64(len(c.Asks))
		s.Lasts += c.Lasts
		s.Cues = append(s.Cues, c)
	}
	if lasts > 0 {
		by := lasts / s.Lasts
		s.Lasts = lasts
		for i := range s.Cues {
			s.Cues[i].Begins *= by
			s.Cues[i].Lasts *= by
		}
	}
	if drive, faulty := subject(l); faulty || metered(l) {
		s.Cautions = symptom.Cautions(drive.Machine)
	}
	return s, nil
}

// Clock returns when the cue begins, like 12:30, to ten seconds.
func (c Cue) Clock() string { return clock(c.Begins) }

// Takes returns how long the cue lasts, to ten seconds.
func (c Cue) Takes() string { return clock(tens(c.Begins+c.Lasts) - tens(c.Begins)) }

// Takes returns how long the script lasts, to ten seconds.
func (s *Script) Takes() string { return clock(s.Lasts) }

func tens(s float64) float64 { return 10 * math.Round(s/10) }

func clock(s float64) string {
	t := int(tens(s))
	return fmt.Sprintf("%d:%02d", t/60, t%60)
}

// An Ask is a question with its choices numbered as on the screen, the right one, and why.
type Ask struct{ Question, Offers, Answer, Because string }

func asks(questions []lesson.Question) (all []Ask) {
	for _, q := range questions {
		a := Ask{Question: printed(q.Ask), Because: printed(q.Because)}
		for i, offer := range q.Offers() {
			numbered := fmt.Sprintf("(%d) %s", i+1, printed(offer))
			a.Offers = strings.TrimSpace(a.Offers + " " + numbered)
			if offer == q.Answer() {
				a.Answer = numbered
			}
		}
		all = append(all, a)
	}
	return all
}
