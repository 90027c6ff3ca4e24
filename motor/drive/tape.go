package drive

import "sort"

// A Tape observes a run and keeps its latest instants: both sides of every event, and samples between them
// at most a given time apart. Its memory is bounded; the oldest instants give way.
type Tape struct {
	ring  []Instant
	first int // index of the oldest
	kept  int
	gap   float64 // s
}

// NewTape returns a tape for so many instants, at least 2, with samples at most gap seconds apart.
func NewTape(capacity int, gap float64) *Tape {
	return &Tape{ring: make([]Instant, max(capacity, 2)), gap: gap}
}

// SetGap changes how far samples may lie apart, in s, for what is yet to come.
func (t *Tape) SetGap(gap float64) { t.gap = gap }

// Observe keeps a segment. One that would not fit is sampled more sparsely.
func (t *Tape) Observe(s *Segment) {
	n := 1
	if h := s.T1 - s.T0; t.gap > 0 && h > t.gap {
		n = int(min(h/t.gap+1, float64(len(t.ring)-1)))
	}
	for j := range n + 1 {
		t.keep(s.At(s.T0 + (s.T1-s.T0)*float64(j)/float64(n)))
	}
}

func (t *Tape) keep(i Instant) {
	if t.kept < len(t.ring) {
		t.ring[(t.first+t.kept)%len(t.ring)] = i
		t.kept++
		return
	}
	t.ring[t.first] = i
	t.first = (t.first + 1) % len(t.ring)
}

// Clear forgets everything.
func (t *Tape) Clear() { t.first, t.kept = 0, 0 }

// Len returns how many instants are kept.
func (t *Tape) Len() int { return t.kept }

// Instant returns the i-th instant kept, 0 being the oldest.
func (t *Tape) Instant(i int) Instant { return t.ring[(t.first+i)%len(t.ring)] }

// Span returns the times of the oldest and the latest instant kept, in s; zeros when there is none.
func (t *Tape) Span() (from, to float64) {
	if t.kept == 0 {
		return 0, 0
	}
	return t.Instant(0).Time, t.Instant(t.kept - 1).Time
}

// after returns the index of the first instant kept whose time is at least time; Len when there is none.
func (t *Tape) after(time float64) int {
	return sort.Search(t.kept, func(i int) bool { return t.Instant(i).Time >= time })
}

// AppendBetween appends to dst the instants from t0 to t1, oldest first, and returns it.
func (t *Tape) AppendBetween(dst []Instant, t0, t1 float64) []Instant {
	for i := t.after(t0); i < t.kept; i++ {
		in := t.Instant(i)
		if in.Time > t1 {
			break
		}
		dst = append(dst, in)
	}
	return dst
}

// Between returns the instants from t0 to t1, oldest first.
func (t *Tape) Between(t0, t1 float64) []Instant { return t.AppendBetween(nil, t0, t1) }
