package handout

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"sync"

	"sextant/inverter/pattern"
	"sextant/motor/drive"
	"sextant/motor/fault/symptom"
	"sextant/motor/scenario"
	"sextant/render/lesson"
	"sextant/render/picture"
)

// A Source is what sheets are made of.
type Source struct {
	title, about string
	scenario     drive.Scenario // without faults
	rig          rig
	numbers      int // how many are asked for
	faults       bool
	ward         func() *ward
	scenes       []scene
	bare         bool // there are only the scenes
	cautions     []string
}

// A scene is a section that all sheets have, but for the order of choices.
type scene struct {
	section   Section
	questions []lesson.Question
}

// OfScenario returns sheets on a drive: its pattern, its machine, its faults. It fails as the drive does.
func OfScenario(s drive.Scenario) (*Source, error) {
	x, err := newSource(s)
	if err != nil {
		return nil, err
	}
	x.title, x.about = s.Title, "Exercises on this drive: its bridge and its machine, with values around those of the scenario."
	if s.Title == "" {
		x.title = "A drive"
	}
	x.numbers, x.faults = 5, true
	x.cautions = symptom.Cautions(s.Machine)
	return x, nil
}

// patternWords say what each pattern does.
var patternWords = map[pattern.Kind]string{
	pattern.SixStep180:    "Three switches on at any time, each for 180 degrees of a turn.",
	pattern.SixStep120:    "Two switches on at any time, each for 120 degrees of a turn.",
	pattern.TwelveStep150: "Three and two switches on by turns, each for 150 degrees of a turn.",
	pattern.SineTriangle:  "Three sines compared with a triangular carrier.",
	pattern.ThirdHarmonic: "Three sines with a sixth of third harmonic, compared with a triangular carrier.",
	pattern.SpaceVector:   "Three references centred between the rails, compared with a triangular carrier.",
	pattern.Clamped60:     "The leg of greatest magnitude is tied to its rail, 60 degrees at a time; a triangular carrier.",
	pattern.Clamped30:     "The outer leg nearer the middle is tied to its rail, 30 degrees at a time; a triangular carrier.",
	pattern.ClampedHigh:   "The highest leg is tied to the positive rail, 120 degrees at a time; a triangular carrier.",
	pattern.ClampedLow:    "The lowest leg is tied to the negative rail, 120 degrees at a time; a triangular carrier.",
}

// OfPattern returns sheets on a gating pattern, with values around those of a built-in drive. It fails for patterns that
// have neither steps nor a reference.
func OfPattern(k pattern.Kind) (*Source, error) {
	base := "hauler-pwm"
	switch {
	case k.Stepped():
		base = "trainer-six-step"
	case !k.Compares():
		return nil, fmt.Errorf("%v has nothing to work out; give one of %s", k, strings.Join(Patterns(), ", "))
	}
	s, err := scenario.Open(base)
	if err != nil {
		return nil, err
	}
	s.Gating.Kind, s.Gating.Sampling = k, pattern.Default
	x, err := newSource(s)
	if err != nil {
		return nil, err
	}
	x.title, x.about, x.numbers = "The pattern "+k.String(), patternWords[k], 5
	return x, nil
}

// Patterns lists the patterns that there are sheets on.
func Patterns() (names []string) {
	for _, k := range pattern.Kinds() {
		if k.Stepped() || k.Compares() {
			names = append(names, k.String())
		}
	}
	return names
}

// OfLesson returns sheets on a lesson: its scenes with their questions, then exercises on the drive that it shows. It
// fails as its drives do.
func OfLesson(l *lesson.Lesson) (*Source, error) {
	s, faulty := subject(l)
	x, err := newSource(s)
	if err != nil {
		return nil, err
	}
	x.title, x.about, x.numbers, x.faults = l.Title, l.About, 3, faulty
	for i := range l.Scenes {
		sc, err := sceneOf(i+1, &l.Scenes[i])
		if err != nil {
			return nil, err
		}
		x.scenes = append(x.scenes, sc)
	}
	if faulty || metered(l) {
		x.cautions = symptom.Cautions(s.Machine)
	}
	return x, nil
}

// subject returns the scenario that a lesson is about: the first with a pattern, else the first; and whether the lesson
// deals with faults.
func subject(l *lesson.Lesson) (s drive.Scenario, faulty bool) {
	s = l.Scenes[0].Moments[0].Scenario
	found := false
	for _, sc := range l.Scenes {
		for _, m := range sc.Moments {
			if k := m.Scenario.Gating.Kind; !found && (k.Stepped() || k.Compares()) {
				s, found = m.Scenario, true
			}
			faulty = faulty || len(m.Scenario.Faults) > 0
		}
	}
	return s, faulty
}

// metered reports whether a lesson takes readings of a drive that is off.
func metered(l *lesson.Lesson) bool {
	for _, sc := range l.Scenes {
		for _, p := range sc.Probes {
			if p.Name == "ohmmeter" || p.Name == "diodes" {
				return true
			}
		}
	}
	return false
}

func sceneOf(n int, s *lesson.Scene) (scene, error) {
	x := scene{section: Section{Title: fmt.Sprintf("%d. %s", n, s.Title)}, questions: s.Questions}
	for _, m := range s.Moments {
		x.section.Words = append(x.section.Words, printed(m.Words))
	}
	for _, p := range s.Probes {
		if s.Hidden && p.Name == "diagnose" {
			continue // it would name the fault that is asked for on the same paper
		}
		for _, says := range p.Says {
			if said := printed(says); !slices.Contains(x.section.Words, said) {
				x.section.Words = append(x.section.Words, said)
			}
		}
	}
	first := s.Moments[0].Scenario
	if s.Hidden {
		p, err := examine(first, first.Faults, nil)
		if err == nil && p.rms[0].whole > 0 {
			x.section.Picture = &course{p.record}
		}
		return x, err
	}
	last := s.Moments[len(s.Moments)-1].Scenario // which is what is asked about
	v, err := picture.Telling(last, last.Run.Settle)
	if err != nil {
		return x, err
	}
	v.Theme = theme
	x.section.Picture = &stage{v, s.Focus}
	return x, nil
}

// newSource returns a source on a drive, which is run without its faults.
func newSource(s drive.Scenario) (*Source, error) {
	s.Faults = nil
	healthy, err := examine(s, nil, nil)
	if err != nil {
		return nil, err
	}
	peak := healthy.peak()
	x := &Source{scenario: s, rig: rigOf(&s, figures2(peak))}
	x.ward = sync.OnceValue(func() *ward { return newWard(s, healthy, peak) }) // many runs, which not all sheets need
	return x, nil
}

// newRandom returns the source of chance of a sheet.
func newRandom(seed uint64, number int) *rand.Rand {
	return rand.New(rand.NewPCG(seed, uint64(number)))
}

// WithoutScenes leaves out a lesson's scenes and their questions, so that exercises remain whose values differ.
func (x *Source) WithoutScenes() { x.scenes = nil }

// WithoutExercises leaves out the exercises whose values differ, so that a lesson's scenes and their questions remain. It
// fails where there are none.
func (x *Source) WithoutExercises() error {
	for _, s := range x.scenes {
		if len(s.questions) > 0 {
			x.bare = true
			return nil
		}
	}
	return errors.New("nothing is left to work on without exercises: no lesson asks anything here")
}

// Sheet returns sheet number, from 1, of those of a seed.
func (x *Source) Sheet(seed uint64, number int) (*Sheet, error) {
	rng := newRandom(seed, number)
	s := &Sheet{Title: x.title, About: x.about, Seed: seed, Number: number, Cautions: x.cautions}
	for _, sc := range x.scenes {
		sec := sc.section
		for i := range sc.questions {
			if e, ok := asked(&sc.questions[i], rng); ok {
				sec.Exercises = append(sec.Exercises, e)
			}
		}
		s.Sections = append(s.Sections, sec)
	}
	if x.bare {
		return s, nil
	}
	var last Section
	if x.scenes != nil {
		last.Title = "Exercises with values of your own"
	}
	r := &x.rig
	var kinds []func(*rig, *rand.Rand) (Exercise, error)
	switch {
	case r.kind.Stepped():
		kinds = append(kinds, switchingTable, sketch, vectorsToDraw)
	case r.kind.Compares():
		kinds = append(kinds, duties, sketch, vectorsToDraw)
	}
	for _, make := range kinds {
		e, err := make(r, rng)
		if err != nil {
			return nil, err
		}
		last.Exercises = append(last.Exercises, e)
	}
	if x.faults {
		if e, ok := x.ward().fault(rng); ok {
			last.Exercises = append(last.Exercises, e)
		}
	}
	more, err := numbers(r, rng, x.numbers)
	if err != nil {
		return nil, err
	}
	last.Exercises = append(last.Exercises, more...)
	s.Sections = append(s.Sections, last)
	return s, nil
}

// asked returns a lesson's question as an exercise, its choices in random order; false for a number that is zero, of
// which no answer could be off by a part.
func asked(q *lesson.Question, rng *rand.Rand) (Exercise, bool) {
	x := Exercise{Name: "lesson", Ask: printed(q.Ask), Answer: printed(q.Answer()), Working: printed(q.Because), Points: 1}
	if q.Choices == nil {
		x.Ask += fmt.Sprintf(" Within %s %% counts as right.", strconv.FormatFloat(100*q.Tolerance, 'g', 4, 64))
		x.Number, x.Points, x.Value, x.Unit = true, 2, q.Value, q.Unit
		return x, math.Abs(q.Value) > 1e-9
	}
	for i, k := range rng.Perm(len(q.Choices)) {
		x.Choices = append(x.Choices, printed(q.Choices[k]))
		if k == q.Right {
			x.Right = i
		}
	}
	return x, true
}
