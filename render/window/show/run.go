package show

import (
	"sextant/motor/drive"
	"sextant/render"
	"sextant/render/lesson"
)

// A run is a drive with what belongs to it: all that choosing another scenario replaces.
type run struct {
	chosen  int
	drive   *drive.Drive
	marks   []*drive.Drive
	player  *lesson.Player
	began   float64
	base    int
	taken   []bool
	pace    int
	span    float64
	scales  render.Scales
	since   float64
	heard   int
	failed  bool
	heating heating
}

// mostKept is how many marks of a run that was left are kept: enough to fill the tape again.
const mostKept = 4

// leave returns what is shown now, to come back to.
func (s *Show) leave() run {
	marks := s.past.marks
	return run{
		chosen: s.chosen, drive: s.drive, marks: append([]*drive.Drive(nil), marks[max(0, len(marks)-mostKept):]...),
		player: s.lecture.player, began: s.lecture.began, base: s.lecture.base, taken: s.lecture.taken,
		pace: s.pace, span: s.span, scales: s.scales, since: s.since, heard: s.heard, failed: s.failed, heating: s.heating,
	}
}

// comeBack shows r again, as it was left.
func (s *Show) comeBack(r run) {
	s.chosen, s.drive, s.past = r.chosen, r.drive, past{marks: r.marks, tape: s.past.tape}
	s.lecture.player, s.lecture.began, s.lecture.base, s.lecture.taken = r.player, r.began, r.base, r.taken
	s.pace, s.span, s.scales, s.since, s.heard, s.failed, s.heating = r.pace, r.span, r.scales, r.since, r.heard, r.failed, r.heating
	if s.panel == Lesson && r.player == nil {
		s.panel = None
	}
	s.tape.Clear()
	s.tape.SetGap(s.gap())
	for k, m := range r.marks { // what the tape held, as far as the marks go
		end := s.drive.Time()
		if k+1 < len(r.marks) {
			end = r.marks[k+1].Time()
		}
		d := m.Clone()
		d.Watch(s.tape)
		if d.Advance(end-d.Time()) != nil {
			break
		}
	}
	s.looksBack, s.fresh, s.beads = false, s.fresh[:0], render.Beads{}
	s.edition++
	s.changed = true
	s.note()
}

// swapped remembers how to come back from what is shown now to what was before, and the other way round.
func (s *Show) swapped(before run, told string) {
	swap := func() error {
		now := s.leave()
		s.comeBack(before)
		before = now
		return nil
	}
	s.remember(step{told: told, back: swap, again: swap})
}
