package show

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"sextant/motor/drive"
	"sextant/render"
)

// paces are the choices of seconds of the drive in a second of the spectator's: from a millionth to real
// time.
var paces = func() (p []float64) {
	for decade := -6; decade < 0; decade++ {
		for _, m := range []float64{1, 2, 5} {
			p = append(p, m*math.Pow10(decade))
		}
	}
	return append(p, 1)
}()

// decade is how many paces make a factor of ten.
const decade = 3

const (
	// longestTick is the longest time in s that passes at once: a machine that was asleep does not owe
	// the picture its night.
	longestTick = 0.1
	// pointsAtRest is how many s a pointer rests on a part before that is explained.
	pointsAtRest = 0.4
)

// nearestPace returns the index of the pace that is the least factor from x.
func nearestPace(x float64) int {
	best := 0
	for i, p := range paces {
		if math.Abs(math.Log(p/x)) < math.Abs(math.Log(paces[best]/x)) {
			best = i
		}
	}
	return best
}

// SkipTo runs the drive to time t in s, or starts it over to get there.
func (s *Show) SkipTo(t float64) error {
	if !(t >= 0) || math.IsInf(t, 0) {
		return fmt.Errorf("cannot start at %g s; give zero or more", t)
	}
	if t < s.drive.Time() {
		if err := s.begin(s.drive.Scenario()); err != nil {
			return err
		}
	}
	if err := s.proceed(t - s.drive.Time()); err != nil {
		return err
	}
	s.note()
	return nil
}

// proceed carries the drive on and leaves marks on the way.
func (s *Show) proceed(dt float64) error {
	for end := s.drive.Time() + dt; s.drive.Time() < end; {
		if err := s.drive.Advance(min(markEvery, max(end-s.drive.Time(), 0))); err != nil {
			return err
		}
		s.past.mark(s.drive, false)
	}
	return nil
}

// Tick lets wall seconds of the spectator's time pass.
func (s *Show) Tick(wall float64) {
	wall = min(max(wall, 0), longestTick)
	s.warm(wall)
	s.dim(wall)
	s.takeChosen()
	if s.left > 0 {
		if s.left -= wall; s.left <= 0 {
			s.message, s.changed = "", true
		}
	}
	if s.hover != (render.Part{}) && s.rest < pointsAtRest {
		if s.rest += wall; s.rest >= pointsAtRest {
			s.changed = true
		}
	}
	if !s.playing || wall == 0 {
		return
	}
	s.changed = true
	dt := wall * paces[s.pace]
	if s.looksBack { // what is seen catches up with what was run
		behind := s.drive.Time() - s.seen
		s.lookAt(s.seen + dt)
		dt -= behind
	}
	if dt > 0 {
		s.run(func() error { return s.advance(dt) })
	}
	s.beads.Advance(s.now(), wall)
}

// run lets the drive go on. Where it cannot, the show pauses and says why.
func (s *Show) run(on func() error) {
	if s.failed {
		s.playing = false
		s.say("The drive has stopped and cannot go on; press r to start over.")
		return
	}
	if err := on(); err != nil {
		s.failed, s.playing = true, false
		s.say(sentence(err))
		return
	}
	s.note()
	if news := s.news(); news != "" {
		s.say(news)
	}
}

// news returns what the drive has noticed since it was last asked, as sentences.
func (s *Show) news() string {
	notices := s.drive.Notices()
	var words []string
	for _, n := range notices[min(s.heard, len(notices)):] {
		words = append(words, upper(n.Text)+".")
	}
	if words != nil && s.Hiding() { // what the drive noticed may be the fault that is asked for
		words = []string{"The drive's protection or supervision has noticed something."}
	}
	s.heard = len(notices)
	return strings.Join(words, " ")
}

// tell says what became of a change, and what the drive noticed at it.
func (s *Show) tell(text string) { s.say(strings.TrimSpace(text + " " + s.news())) }

// note keeps the present instant until the tape has it.
func (s *Show) note() {
	_, end := s.tape.Span() // 0 while there is none
	s.fresh = slices.DeleteFunc(s.fresh, func(i drive.Instant) bool { return i.Time <= end })
	now := s.drive.Now()
	if n := len(s.fresh); n == 0 || s.fresh[n-1].Time < now.Time {
		s.fresh = append(s.fresh, now)
	}
}

// live reports whether the present is shown.
func (s *Show) live() bool { return !s.looksBack }

// time returns the time that is shown, in s.
func (s *Show) time() float64 {
	if s.looksBack {
		return s.seen
	}
	return s.drive.Time()
}

// lookAt shows time t in s, as far back as there is a record; from the present on it is the present that is shown.
func (s *Show) lookAt(t float64) {
	s.seen, s.changed = max(t, s.past.begins()), true
	s.looksBack = s.seen < s.drive.Time()
}

// now returns the instant that is shown; at a switching event, the one after it.
func (s *Show) now() drive.Instant {
	if s.live() {
		return s.drive.Now()
	}
	t := s.time()
	for _, before := range []float64{20 * s.gap(), markEvery} {
		if r := s.record(t-before, t); len(r) > 0 {
			return r[len(r)-1]
		}
	}
	return s.drive.Now()
}

// record returns what is known from t0 to t1, oldest first; the next call overwrites it.
func (s *Show) record(t0, t1 float64) []drive.Instant {
	if from, _ := s.tape.Span(); t0 < from && s.past.begins() < from {
		s.scratch = s.past.appendBetween(s.scratch[:0], t0, t1, s.gap())
		return s.scratch
	}
	s.scratch = s.tape.AppendBetween(s.scratch[:0], t0, t1)
	for _, i := range s.fresh {
		if i.Time >= t0 && i.Time <= t1 {
			s.scratch = append(s.scratch, i)
		}
	}
	return s.scratch
}
