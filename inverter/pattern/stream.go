package pattern

import (
	"fmt"
	"math"

	"sextant/inverter"
)

// A Stream gives a pattern's edges one after another, for as long as one likes: it counts steps and
// carrier slopes instead of adding up times, so it neither drifts nor grows. It is a plain value: a copy is
// a snapshot.
type Stream struct {
	settings Settings
	ideal    ideal
	dead     DeadTime
	last     float64 // time of the last edge taken or change made, s
}

// New returns the edges of s from t = 0, where the carrier is at its minimum and the gates are as if the
// pattern had been on before: no dead time applies at t = 0. It fails as [Settings.Validate] does.
func New(s Settings) (Stream, error) {
	if err := s.Validate(); err != nil {
		return Stream{}, err
	}
	x := Stream{settings: s}
	x.ideal.turn = fraction(s.Phase / (2 * math.Pi))
	x.ideal.start(s)
	x.dead = NewDeadTime(s.DeadTime, x.ideal.begin())
	return x, nil
}

// Gates returns the switches on after the last edge taken.
func (s *Stream) Gates() inverter.Gates { return s.dead.gates }

// Peek returns the time of the next edge, in s; +Inf if there is none.
func (s *Stream) Peek() float64 { return min(s.ideal.peek(), s.dead.next) }

// Next takes the next edge and returns its time and the gates after it. Edges at one instant are one. An
// edge may leave the gates as they were: one that dead time swallows does, and so does the mark that a
// pattern sets now and then in a long stretch without switching. After the last edge it returns +Inf.
func (s *Stream) Next() (float64, inverter.Gates) {
	t := s.Peek()
	if math.IsInf(t, 1) {
		return t, s.dead.gates
	}
	if s.ideal.peek() <= t {
		s.dead.Command(t, s.ideal.take())
	}
	s.dead.Expire(t)
	s.last = t
	return t, s.dead.gates
}

// Change runs by other settings from t on, in s, taking any edges up to t first. The angle runs on from
// where it is, moved by what the new phase differs from the old; the carrier runs on too. Where the new
// pattern wants other gates at t, the next edge is at t; its turn-ons obey the new dead time. A sampled
// reference is that of the last sampling instant, as if the new settings had held then. Change fails, and
// alters nothing, for settings that [Settings.Validate] refuses and for a t before the last edge.
func (s *Stream) Change(t float64, to Settings) error {
	if err := to.Validate(); err != nil {
		return err
	}
	if !(t >= s.last) || math.IsInf(t, 1) {
		return fmt.Errorf("gating cannot change at %g s: it has run to %g s", t, s.last)
	}
	for s.Peek() <= t {
		s.Next()
	}
	s.last = t
	s.ideal.shift(t)
	s.ideal.turn = fraction(s.ideal.turn + (to.Phase-s.settings.Phase)/(2*math.Pi))
	s.ideal.start(to)
	s.dead.Delay = to.DeadTime
	s.settings = to
	return nil
}

// Angle returns the angle of the fundamental voltage vector at t, in radians from 0 to 2π.
func (s *Stream) Angle(t float64) float64 {
	c := s.ideal.clock
	c.shift(t)
	return 2 * math.Pi * c.turn
}
