package show

import "sextant/motor/drive"

// stepForward shows the moment after the next switching event, past or to come.
func (s *Show) stepForward() {
	s.playing, s.changed = false, true
	for from, now := s.time(), s.drive.Time(); !s.live(); {
		to := min(from+markEvery, now)
		if at, ok := firstEvent(s.record(from, to), from); ok {
			s.lookAt(at)
			return
		}
		if from = to; to == now {
			s.looksBack = false
		}
	}
	s.run(func() error {
		err := s.drive.AdvanceToEvent()
		s.past.mark(s.drive, false)
		return err
	})
}

// stepBack shows the moment after the last switching event before what is shown.
func (s *Show) stepBack() {
	s.playing, s.changed = false, true
	to := s.time()
	for start := s.past.begins(); to > start; {
		from := max(to-markEvery, start)
		if at, ok := lastEvent(s.record(from, to), to); ok {
			s.lookAt(at)
			return
		}
		to = from
	}
	s.say("The record goes no further back than this.")
}

// An event shows in a record as two instants of one time.
func isEvent(a, b *drive.Instant) bool {
	return a.Time == b.Time && (a.Gates != b.Gates || a.Ways != b.Ways)
}

func firstEvent(r []drive.Instant, after float64) (float64, bool) {
	for i := 1; i < len(r); i++ {
		if r[i].Time > after && isEvent(&r[i-1], &r[i]) {
			return r[i].Time, true
		}
	}
	return 0, false
}

func lastEvent(r []drive.Instant, before float64) (float64, bool) {
	for i := len(r) - 1; i > 0; i-- {
		if r[i].Time < before && isEvent(&r[i-1], &r[i]) {
			return r[i].Time, true
		}
	}
	return 0, false
}

// Drag turns what is shown back by dt seconds of the drive; negative goes forward, to the present at most.
func (s *Show) Drag(dt float64) {
	s.playing = false
	s.lookAt(s.time() - dt)
}

// leapBy is by how much one looks further back with each leap, so that few lead from one tape's length to all that is
// known.
const leapBy = 1.5

// leap looks so many times as far back as before, half a tape's length at least; less is the present.
func (s *Show) leap(times float64) {
	past := s.Past() * times
	switch {
	case times > 1:
		past = max(past, s.span/2)
	case past < s.span/2:
		past = 0
	}
	s.playing = false
	s.lookAt(s.drive.Time() - past)
}
