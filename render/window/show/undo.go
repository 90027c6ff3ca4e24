package show

import (
	"slices"
	"strings"

	"sextant/motor/drive"
)

// A step is a change that can be taken back and made again, and what was said of it.
type step struct {
	told        string
	back, again func() error
}

// mostSteps is how many changes can be taken back.
const mostSteps = 500

// change carries the drive on by an edited scenario, in the present, and says what became of it. Where the
// drive refuses, nothing changes but the message.
func (s *Show) change(edit func(*drive.Scenario), done func(*drive.Scenario) string) error {
	before := s.drive.Scenario()
	sc := before
	sc.Faults = slices.Clone(sc.Faults)
	edit(&sc)
	if err := s.carryOn(sc); err != nil {
		s.say(sentence(err))
		return err
	}
	told := done(&sc)
	s.remember(step{
		told:  told,
		back:  func() error { return s.carryOn(before) },
		again: func() error { return s.carryOn(sc) },
	})
	s.tell(told)
	return nil
}

// remember keeps a step that was just made.
func (s *Show) remember(made step) {
	s.letGo()
	s.keep(made)
}

// keep keeps a step, one that the hand on the rotor goes on with as one with what it did since it took hold.
func (s *Show) keep(made step) {
	first, _, _ := strings.Cut(made.told, ". ") // what follows is advice
	made.told = strings.TrimSuffix(first, ".") + "."
	s.undone = nil
	if n := len(s.steps); s.gripped && n > 0 {
		s.steps[n-1] = made
		return
	}
	s.steps = append(s.steps, made)
	if n := len(s.steps) - mostSteps; n > 0 {
		s.steps = slices.Delete(s.steps, 0, n)
		s.lecture.base = max(s.lecture.base-n, 0)
	}
}

// carryOn carries the drive on by a scenario, in the present.
func (s *Show) carryOn(sc drive.Scenario) error {
	if err := s.drive.Change(sc); err != nil {
		return err
	}
	s.handled()
	s.since = s.drive.Time()
	s.tape.SetGap(s.gap())
	s.edition++
	return nil
}

// handled shows the present after a hand was laid on the drive.
func (s *Show) handled() {
	s.looksBack, s.changed = false, true
	s.past.mark(s.drive, true)
	s.note()
}

// undo takes the last change back.
func (s *Show) undo() {
	if n := len(s.steps); n > 0 {
		s.travel(&s.steps, &s.undone, "Taken back: ", s.steps[n-1].back)
		return
	}
	s.say("There is no change to take back.")
}

// redo makes a change again that was taken back.
func (s *Show) redo() {
	if n := len(s.undone); n > 0 {
		s.travel(&s.undone, &s.steps, "Again: ", s.undone[n-1].again)
		return
	}
	s.say("There is no change to make again.")
}

// travel goes where the last of from leads, and hands it over to to.
func (s *Show) travel(from, to *[]step, how string, where func() error) {
	s.letGo()
	last := (*from)[len(*from)-1]
	if err := where(); err != nil {
		s.say(sentence(err))
		return
	}
	*from = (*from)[:len(*from)-1]
	*to = append(*to, last)
	s.tell(how + last.told)
}
