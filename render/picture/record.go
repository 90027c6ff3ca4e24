package picture

import "sextant/motor/drive"

const (
	// samples is how many samples the span of a picture's tape has between events, and capacity bounds them and the events.
	samples, capacity = 600, 200_000
	// beyond is the part of the span that lies right of the now-line.
	beyond = 0.06
)

// A Record is what pictures of a drive show of its time on their tapes.
type Record struct {
	drive *drive.Drive
	tape  *drive.Tape
	span  float64
}

// NewRecord records d from now on, for tapes of span seconds.
func NewRecord(d *drive.Drive, span float64) *Record {
	r := &Record{d, drive.NewTape(capacity, span/samples), span}
	d.Watch(r.tape)
	return r
}

// Covers reports whether all is recorded that a picture of time t shows, right of its now-line too.
func (r *Record) Covers(t float64) bool {
	_, end := r.tape.Span()
	return t+beyond*r.span <= end
}

// Around returns what a picture of time t shows on its tape, as far as it is recorded.
func (r *Record) Around(t float64) []drive.Instant {
	const more = 1.5 / samples // so that there is a sample before the span, whatever rounding does
	return r.tape.Between(t-r.span*(1+more), t+beyond*r.span)
}

// RunOut runs the drive on until a picture of its present has the tape right of its now-line, and what lies before the
// present, which a tape has once an event is behind it. That the drive may fail there is no fault of the picture's.
func (r *Record) RunOut() {
	now := r.drive.Time()
	if r.drive.Advance(beyond*r.span) != nil {
		return
	}
	if _, end := r.tape.Span(); end < now {
		_ = r.drive.AdvanceToEvent()
	}
}
