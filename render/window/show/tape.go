package show

import (
	"math"
	"sort"

	"sextant/motor/drive"
)

// A tape is the record of what was shown: both sides of every event, and what lies between at even
// spacing. It keeps the latest instants only.
type tape struct {
	ring    []drive.Instant
	next    int // where the next instant goes
	full    bool
	spacing float64 // s between instants without an event
}

func newTape(capacity int, spacing float64) *tape {
	return &tape{ring: make([]drive.Instant, capacity), spacing: spacing}
}

// Observe takes a segment down.
func (t *tape) Observe(seg *drive.Segment) {
	t.add(seg.At(seg.T0))
	// The grid is fixed in time, so that cutting segments up does not move it.
	for k := math.Floor(seg.T0/t.spacing) + 1; k*t.spacing < seg.T1; k++ {
		t.add(seg.At(k * t.spacing))
	}
	t.add(seg.At(seg.T1))
}

func (t *tape) add(i drive.Instant) {
	t.ring[t.next] = i
	t.next++
	if t.next == len(t.ring) {
		t.next, t.full = 0, true
	}
}

func (t *tape) len() int {
	if t.full {
		return len(t.ring)
	}
	return t.next
}

// at returns the k-th oldest instant.
func (t *tape) at(k int) *drive.Instant {
	if t.full {
		k = (t.next + k) % len(t.ring)
	}
	return &t.ring[k]
}

// span returns the times of the first and the last instant; 0 and -1 of an empty tape.
func (t *tape) span() (from, to float64) {
	n := t.len()
	if n == 0 {
		return 0, -1
	}
	return t.at(0).Time, t.at(n - 1).Time
}

// between appends to dst the instants from t0 to t1, oldest first, and one on either side of them where
// there is one, so that a line through them covers all of it.
func (t *tape) between(dst []drive.Instant, t0, t1 float64) []drive.Instant {
	n := t.len()
	first := sort.Search(n, func(k int) bool { return t.at(k).Time >= t0 })
	for k := max(first-1, 0); k < n; k++ {
		dst = append(dst, *t.at(k))
		if t.at(k).Time > t1 {
			break
		}
	}
	return dst
}
