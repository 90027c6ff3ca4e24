package show

import "sextant/motor/drive"

// stepForward shows the moment after the next switching event, past or to come.
func (s *Show) stepForward() {
	s.playing, s.changed = false, true
	if !s.live() {
		t := s.time()
		if at, ok := firstEvent(s.record(t, s.drive.Time()), t); ok {
			s.back = s.drive.Time() - at
			return
		}
		s.back = 0
	}
	s.run(s.drive.AdvanceToEvent)
}

// stepBack shows the moment after the last switching event before what is shown.
func (s *Show) stepBack() {
	s.playing, s.changed = false, true
	from, _ := s.tape.Span()
	t := s.time()
	at, ok := lastEvent(s.record(from, t), t)
	if !ok {
		s.say("The record goes no further back than this.")
		return
	}
	s.back = s.drive.Time() - at
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
	from, _ := s.tape.Span()
	s.playing, s.changed = false, true
	s.back = min(max(s.back+dt, 0), max(s.drive.Time()-from, 0))
}
