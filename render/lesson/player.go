package lesson

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"sextant/inverter/si"
)

// A Player goes through a lesson: scene by scene, its changes as their time comes, and then its questions. It has no
// drive; who has one begins [Player.Scene]'s first moment on it, and carries on by each moment that is Due.
type Player struct {
	lesson  *Lesson
	scene   int
	moment  int // in the scene
	asked   int // questions of the scene that were put; the last is open
	verdict *Verdict
	results []Result
}

// A Verdict is what became of an answer.
type Verdict struct {
	Right   bool
	Answer  string // that was given
	Correct string
	Because string
}

// New returns a player at the first scene of l, which has one.
func New(l *Lesson) *Player { return &Player{lesson: l} }

// Lesson returns what is played.
func (p *Player) Lesson() *Lesson { return p.lesson }

// Scene returns the present scene, Index its number from 0.
func (p *Player) Scene() *Scene { return &p.lesson.Scenes[p.scene] }

// Index returns the number of the present scene, from 0.
func (p *Player) Index() int { return p.scene }

// Moment returns what holds now.
func (p *Player) Moment() *Moment { return &p.Scene().Moments[p.moment] }

// Coming returns when the next change of the scene comes, in s of the drive since the scene began, and whether there is
// one.
func (p *Player) Coming() (after float64, ok bool) {
	s := p.Scene()
	if p.moment+1 >= len(s.Moments) {
		return 0, false
	}
	return s.Moments[p.moment+1].After, true
}

// Change makes the next change, which there is, the present moment.
func (p *Player) Change() *Moment {
	p.moment++
	return p.Moment()
}

// Asked returns how many questions of the present scene were put.
func (p *Player) Asked() int { return p.asked }

// Question returns the question that is put, or nil; Verdict what became of it, or nil while it is open.
func (p *Player) Question() *Question {
	if p.asked == 0 {
		return nil
	}
	return &p.Scene().Questions[p.asked-1]
}

// Verdict returns what became of the present question, nil while it is open.
func (p *Player) Verdict() *Verdict { return p.verdict }

// Next goes on to the next question of the scene, or to the next scene, which it tells by begun. It stays, and returns
// moved false, at the end.
func (p *Player) Next() (moved, begun bool) {
	switch {
	case p.asked < len(p.Scene().Questions):
		p.asked, p.verdict = p.asked+1, nil
		return true, false
	case p.scene+1 < len(p.lesson.Scenes):
		p.begin(p.scene + 1)
		return true, true
	}
	return false, false
}

// Back goes back to what came before: a question, the scene's words, or the scene before. It stays, and returns moved
// false, at the start.
func (p *Player) Back() (moved, begun bool) {
	switch {
	case p.asked > 0:
		p.asked, p.verdict = p.asked-1, nil
		return true, false
	case p.scene > 0:
		p.begin(p.scene - 1)
		return true, true
	}
	return false, false
}

// Again begins the present scene's moments again.
func (p *Player) Again() { p.moment = 0 }

// Go goes to the beginning of the scene of that number, from 0. It stays, and returns false, where there is none.
func (p *Player) Go(scene int) bool {
	if scene < 0 || scene >= len(p.lesson.Scenes) {
		return false
	}
	p.begin(scene)
	return true
}

func (p *Player) begin(scene int) { p.scene, p.moment, p.asked, p.verdict = scene, 0, 0, nil }

// Answer judges an answer to the present question: the number of a choice, from 1, or a number, with or without its
// unit. It keeps the result; an error says why text cannot be an answer, and keeps none.
func (p *Player) Answer(text string) (*Verdict, error) {
	q := p.Question()
	if q == nil {
		return nil, errors.New("no question is put")
	}
	v, err := q.judge(strings.TrimSpace(text))
	if err != nil {
		return nil, err
	}
	return p.keep(q, v), nil
}

func (p *Player) keep(q *Question, v Verdict) *Verdict {
	p.verdict = &v
	p.results = append(p.results, Result{Lesson: p.lesson.Title, Scene: p.Scene().Title, Question: q.Ask, Verdict: v})
	return p.verdict
}

func (q *Question) judge(text string) (Verdict, error) {
	v := Verdict{Correct: q.Answer(), Because: q.Because}
	if q.Choices != nil {
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 || n > len(q.Choices) {
			return v, fmt.Errorf("%q is no choice; give 1 to %d", text, len(q.Choices))
		}
		v.Answer, v.Right = q.Choices[n-1], n-1 == q.Right
		return v, nil
	}
	x, err := q.read(text)
	if err != nil {
		return v, err
	}
	return q.judgeNumber(x), nil
}

// judgeNumber judges a number in the question's unit.
func (q *Question) judgeNumber(x float64) Verdict {
	return Verdict{
		Right:  math.Abs(x-q.Value) <= q.Tolerance*math.Abs(q.Value)+1e-9,
		Answer: written(x, q.Unit), Correct: q.Answer(), Because: q.Because,
	}
}

// dimensions are those whose units an answer may have a prefix in.
var dimensions = map[string]si.Dimension{"V": si.Voltage, "A": si.Current, "W": si.Power, "J": si.Energy, "s": si.Time, "Hz": si.Frequency, "N m": si.Torque}

// read reads a number in the question's unit.
func (q *Question) read(text string) (float64, error) {
	if d, ok := dimensions[q.Unit]; ok {
		return d.Parse(text)
	}
	bare := strings.TrimSpace(strings.TrimSuffix(text, q.Unit))
	x, err := strconv.ParseFloat(bare, 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		if q.Unit == "" {
			return 0, fmt.Errorf("%q is no number; give one, like 0.5", text)
		}
		return 0, fmt.Errorf("%q is no number; give one in %s", text, q.Unit)
	}
	return x, nil
}
