package film

import (
	"fmt"
	"iter"
	"math"

	"sextant/inverter"
	"sextant/motor/drive"
	"sextant/render"
	"sextant/render/picture"
)

// A Film is a stretch of a scenario's time to be shown, and how. The zero Theme, Focus and Numbering are good
// defaults.
type Film struct {
	Scenario  *drive.Scenario
	From, To  float64 // s of the drive's time, To excluded
	Duration  float64 // s that it takes to watch
	Rate      int     // frames a second
	Size      picture.Size
	Theme     render.Theme
	Focus     render.Focus
	Numbering inverter.Numbering
}

const (
	// MostFrames bounds a film; it is more than an hour at 25 a second.
	MostFrames = 100_000
	// MostRate is the most frames a second.
	MostRate = 120
	// samples is how many samples the tape's span has between events, and capacity bounds the tape in instants.
	samples, capacity = 600, 200_000
	// beyond is the part of the span that the tape shows right of its now-line.
	beyond = 0.06
)

// Frames returns how many frames the film has, one at least.
func (f *Film) Frames() int { return max(1, int(math.Round(f.Duration*float64(f.Rate)))) }

// Validate fails with what is out of range.
func (f *Film) Validate() error {
	switch {
	case !(f.Duration > 0) || !(f.Duration*float64(f.Rate) <= MostFrames):
		return fmt.Errorf("a film has from 1 to %d frames; this would take %g s at %d a second", MostFrames, f.Duration, f.Rate)
	case f.Rate < 1 || f.Rate > MostRate:
		return fmt.Errorf("%d frames a second is out of range; give 1 to %d", f.Rate, MostRate)
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

// time returns the drive's time in s of a frame.
func (f *Film) time(k int) float64 { return f.From + (f.To-f.From)*float64(k)/float64(f.Frames()) }

// A shot is the view of a frame, or why there is none.
type shot struct {
	view *render.View
	err  error
}

// shots runs the drive and yields the views of all frames in order.
func (f *Film) shots() iter.Seq[shot] {
	return func(yield func(shot) bool) {
		if err := f.run(func(v *render.View) bool { return yield(shot{view: v}) }); err != nil {
			yield(shot{err: err})
		}
	}
}

// run hands the views to show, until it has had enough. A view is made once the tape reaches past it.
func (f *Film) run(show func(*render.View) bool) error {
	d, err := drive.New(*f.Scenario)
	if err != nil {
		return err
	}
	span := picture.Span(f.Scenario)
	if err := d.Advance(max(0, f.From-span)); err != nil {
		return err
	}
	tape := drive.NewTape(capacity, span/samples)
	d.Watch(tape)
	var (
		waiting []drive.Instant
		scales  render.Scales
		beads   render.Beads
	)
	next := func() bool {
		now := waiting[0]
		waiting = waiting[1:]
		v := &render.View{
			Scenario: f.Scenario, Now: now, Span: span, Playing: true, TimeScale: (f.To - f.From) / f.Duration,
			Tape:  tape.Between(now.Time-span*(1+1.0/samples), now.Time+beyond*span),
			Beads: beads, Numbering: f.Numbering, Theme: f.Theme,
		}
		scales = scales.Union(render.ScalesOf(&v.Now, v.Tape))
		v.Scales = scales
		beads.Advance(now, 1/float64(f.Rate))
		return show(v)
	}
	for k := range f.Frames() {
		if err := d.Advance(max(0, f.time(k)-d.Time())); err != nil {
			return err
		}
		waiting = append(waiting, d.Now())
		_, end := tape.Span()
		for len(waiting) > 0 && waiting[0].Time+beyond*span <= end {
			if !next() {
				return nil
			}
		}
	}
	// That the drive may fail past the film's end is no fault of the film's.
	if d.Advance(beyond*span) == nil {
		if _, end := tape.Span(); end < f.To {
			_ = d.AdvanceToEvent()
		}
	}
	for len(waiting) > 0 && next() {
	}
	return nil
}
