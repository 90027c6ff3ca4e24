package show

import (
	"slices"
	"strings"

	"sextant/motor/drive"
)

// A step is a change that can be taken back: the scenario before it, and what was said of it.
type step struct {
	before drive.Scenario
	told   string
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
	s.undone = nil
	first, _, _ := strings.Cut(told, ". ") // what follows is advice
	s.steps = append(s.steps, step{before, strings.TrimSuffix(first, ".") + "."})
	if n := len(s.steps) - mostSteps; n > 0 {
		s.steps = slices.Delete(s.steps, 0, n)
	}
	s.tell(told)
	return nil
}

// carryOn carries the drive on by a scenario, in the present.
func (s *Show) carryOn(sc drive.Scenario) error {
	if err := s.drive.Change(sc); err != nil {
		return err
	}
	s.back, s.since = 0, s.drive.Time()
	s.edition++
	s.note()
	return nil
}

// undo takes the last change back.
func (s *Show) undo() {
	s.travel(&s.steps, &s.undone, "Taken back: ", "There is no change to take back.")
}

// redo makes a change again that was taken back.
func (s *Show) redo() { s.travel(&s.undone, &s.steps, "Again: ", "There is no change to make again.") }

// travel goes to where the last of from leads, and remembers in to how to come back.
func (s *Show) travel(from, to *[]step, how, none string) {
	n := len(*from)
	if n == 0 {
		s.say(none)
		return
	}
	last := (*from)[n-1]
	now := s.drive.Scenario()
	if err := s.carryOn(last.before); err != nil {
		s.say(sentence(err))
		return
	}
	*from = (*from)[:n-1]
	*to = append(*to, step{now, last.told})
	s.tell(how + last.told)
}
