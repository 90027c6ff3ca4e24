package film

import (
	"fmt"

	"sextant/inverter"
	"sextant/motor/drive"
	"sextant/render"
	"sextant/render/lesson"
	"sextant/render/picture"
)

// A Film is what is to be shown, a stretch of a scenario's time or a lesson, and how. The zero Theme, Focus and
// Numbering are good defaults.
type Film struct {
	Scenario *drive.Scenario
	From, To float64 // s of the drive's time, To excluded
	Duration float64 // s that it takes to watch
	Focus    render.Focus

	Lesson *lesson.Lesson // shown instead of a scenario
	Think  float64        // s between a question of it and the answer, besides what reading takes; 0 leaves questions out

	Rate      int // frames a second
	Size      picture.Size
	Theme     render.Theme
	Lanes     []render.Lane // of the tape; none are the most telling
	Numbering inverter.Numbering
}

const (
	// MostFrames bounds a film; it is more than an hour at 25 a second.
	MostFrames = 100_000
	// MostRate is the most frames a second.
	MostRate = 120
)

// Frames returns how many frames the film has, one at least.
func (f *Film) Frames() (n int) {
	for _, s := range f.scenes() {
		for i := range s.pages {
			n += f.frames(&s.pages[i])
		}
	}
	return n
}

// Validate fails with what is out of range.
func (f *Film) Validate() error {
	switch {
	case f.Rate < 1 || f.Rate > MostRate:
		return fmt.Errorf("%d frames a second is out of range; give 1 to %d", f.Rate, MostRate)
	case f.Lesson != nil:
		if n := f.Frames(); n > MostFrames {
			return fmt.Errorf("a film has from 1 to %d frames; this would have %d: give fewer a second", MostFrames, n)
		}
		return nil
	case !(f.Duration > 0) || !(f.Duration*float64(f.Rate) <= MostFrames):
		return fmt.Errorf("a film has from 1 to %d frames; this would take %g s at %d a second", MostFrames, f.Duration, f.Rate)
	case !(f.From >= 0) || !(f.To > f.From):
		return fmt.Errorf("a film from %g s to %g s shows nothing; it starts at 0 or later and ends later than it starts", f.From, f.To)
	}
	long := *f.Scenario
	long.Run.Settle, long.Run.Measure = f.To, picture.Span(f.Scenario)
	if err := long.Validate(); err != nil && f.Scenario.Validate() == nil {
		return fmt.Errorf("%g s: %w", f.To, picture.ErrTooLate)
	}
	return f.Scenario.Validate()
}
