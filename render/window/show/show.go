package show

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"

	"sextant/inverter"
	"sextant/motor/drive"
	"sextant/render"
)

// A Choice is a scenario that the spectator can pick.
type Choice struct {
	Name     string
	Scenario drive.Scenario
}

// A Show is a drive that is being shown. Time runs in it when [Show.Tick] is told so.
type Show struct {
	choices []Choice
	chosen  int

	drive     *drive.Drive
	tape      *drive.Tape
	past      past
	scratch   []drive.Instant
	fresh     []drive.Instant // since the end of the tape, which holds only what lies behind an event
	looksBack bool            // the spectator looks into the past, at
	seen      float64         // s
	failed    bool            // the drive cannot go on

	playing bool
	pace    int     // index in paces
	span    float64 // s of tape shown
	scales  render.Scales
	beads   render.Beads
	hover   render.Part

	parts             []render.Part // that can be pointed at
	rest              float64       // s that the spectator has pointed there
	boxed             render.Part   // what was explained last, and how large the box for it was
	boxWidth, boxSize vg.Length
	steps             []step // that can be taken back
	grip              grip
	gripped           bool // the last step is the grip's
	forced            int  // 1 + the switch that the interlock has just kept off; 0 for none
	heating           heating
	lecture           lecture
	since             float64 // s, when the scenario was last changed
	undone            []step  // that can be made again
	heard             int     // notices of the drive that were told

	tapeTaste tapeTaste
	files     Files // nil where there are none
	theme     render.Theme
	focus     render.Focus
	panel     Wish // Dials, Faults, Heat or Lesson, while it lies over the picture
	numbering inverter.Numbering
	text      int // index in textSizes
	help      bool
	page      int // of the help, from 0
	pages     int
	more      bool
	message   string
	left      float64 // s that the message stays
	changed   bool
	edition   int // counts scenarios, for pictures kept of what depends on one
}

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

// textSizes are the choices of text scale.
var textSizes = [...]float64{1, 1.2, 1.45}

const (
	// turnTakes is how long an electrical turn takes to watch at first, in the spectator's seconds.
	turnTakes = 6
	// turnsShown is how many electrical turns the tape shows at first.
	turnsShown = 1.5
	// tapeLength and tapePerTurn bound the record kept, in instants.
	tapeLength, tapePerTurn = 40000, 480
	// idleTurn is the s taken for a turn where nothing turns.
	idleTurn = 0.02
	// messageStays is how many seconds a message can be read.
	messageStays = 8
	// longestSettle is how many s of a scenario's settling are run before its picture shows.
	longestSettle = 1
	// longestTick is the longest time in s that passes at once: a machine that was asleep does not owe
	// the picture its night.
	longestTick = 0.1
	// pointsAtRest is how many s a pointer rests on a part before that is explained.
	pointsAtRest = 0.4
)

// New returns a show of choices[first], paused or playing. It fails where that scenario cannot run.
func New(choices []Choice, first int, playing bool) (*Show, error) {
	s := &Show{choices: choices, chosen: first, playing: playing, changed: true}
	if err := s.choose(first); err != nil {
		return nil, err
	}
	return s, nil
}

// choose starts over with a scenario of the choices, settled. Where that cannot run, what was shown stays.
func (s *Show) choose(k int) error {
	c := &s.choices[k]
	var before run
	if s.drive != nil {
		before = s.leave()
	}
	if err := s.settle(&c.Scenario); err != nil {
		if before.drive != nil {
			s.comeBack(before)
		}
		return fmt.Errorf("%s: %w", c.Name, err)
	}
	s.chosen = k
	s.endLecture()
	if before.drive != nil {
		s.swapped(before, "Scenario: "+strings.TrimSuffix(title(c), ".")+".")
	}
	return nil
}

// settle starts over with a scenario and runs its settling.
func (s *Show) settle(sc *drive.Scenario) error {
	if err := s.begin(*sc); err != nil {
		return err
	}
	s.heating.begin(sc)
	s.pace = nearestPace(s.turn() / turnTakes)
	if err := s.SkipTo(min(sc.Run.Settle, longestSettle)); err != nil {
		return err
	}
	s.span = min(s.span, s.widest())
	return nil
}

func nearestPace(x float64) int {
	best := 0
	for i, p := range paces {
		if math.Abs(math.Log(p/x)) < math.Abs(math.Log(paces[best]/x)) {
			best = i
		}
	}
	return best
}

// begin starts over with a scenario.
func (s *Show) begin(sc drive.Scenario) error {
	d, err := drive.New(sc)
	if err != nil {
		return err
	}
	s.drive = d
	if s.tape == nil {
		s.tape = drive.NewTape(tapeLength, 0)
	}
	s.tape.Clear()
	s.tape.SetGap(s.gap())
	d.Watch(s.tape)
	s.past = past{tape: s.past.tape}
	s.past.mark(d, true)
	s.heard, s.since, s.looksBack, s.failed = 0, 0, false, false
	s.fresh, s.beads, s.scales = s.fresh[:0], render.Beads{}, render.Scales{}
	s.span = turnsShown * s.turn()
	s.changed = true
	s.edition++
	return nil
}

// turn returns how long an electrical turn takes, in s.
func (s *Show) turn() float64 {
	sc := s.drive.Scenario()
	f := math.Abs(sc.Gating.Frequency)
	if sc.Gating.Follow != drive.Clock || f == 0 {
		speed := sc.Shaft.Speed
		if sc.Shaft.Free {
			speed = max(math.Abs(sc.Shaft.StartSpeed), math.Abs(s.drive.Now().Speed))
		}
		f = math.Abs(speed) * float64(sc.Machine.PolePairs) / (2 * math.Pi)
	}
	if !(f > 0) {
		return idleTurn
	}
	return 1 / f
}

// gap returns how far samples of the tape may lie apart, in s.
func (s *Show) gap() float64 { return s.turn() / tapePerTurn }

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

// note keeps the present instant until the tape has it, and lets the full scales grow.
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

// View returns what is to be drawn.
func (s *Show) View() render.View {
	sc := s.drive.Scenario()
	v := render.View{
		Scenario: &sc, Now: s.now(), Span: s.span, Playing: s.playing, TimeScale: paces[s.pace],
		Beads: s.beads, Hover: s.framed(), Numbering: s.labels(), Theme: s.theme, Warmth: s.warmth(), Since: s.since,
		Cursors: s.tapeTaste.cursors, Emphasis: s.emphasis(),
	}
	if s.Hiding() {
		sc.Faults = nil
	}
	const future = 0.3 // of the span: more than fits right of the now-line
	v.Tape = s.record(v.Now.Time-s.span, min(v.Now.Time+future*s.span, s.drive.Time()))
	s.scales = s.scales.Union(render.ScalesOf(&v.Now, v.Tape)) // a picture that moves is not rescaled all the time
	v.Scales = s.scales
	return v
}

// Edition returns a number that is new whenever the scenario is.
func (s *Show) Edition() int { return s.edition }

// Changed reports whether there is anything new to draw since it was last asked.
func (s *Show) Changed() bool {
	c := s.changed
	s.changed = false
	return c
}

// TextScale returns the scale of all text.
func (s *Show) TextScale() float64 { return textSizes[s.text] }

// Focus returns which parts of the stage are shown.
func (s *Show) Focus() render.Focus { return s.focus }

// roomForAll is how many heights of a button a stage that is wider than tall must be wide for all of it to be read.
const roomForAll = 12

// LooksAt returns which parts of the stage are shown in a frame: on a small one, what is asked for in full would be too
// small to be read.
func (s *Show) LooksAt(f *Frame) render.Focus {
	switch {
	case s.focus != render.Everything || !f.small():
		return s.focus
	case s.panel == TapeLanes:
		return render.OnTape
	}
	return render.OnBridgeAndWheel
}

// small reports whether the stage is too small for all of it to be read: side by side on a phone held upright.
func (f *Frame) small() bool {
	area := f.Stage.Size()
	return area.X > 0.9*area.Y && area.X < roomForAll*f.cell
}

// StageText returns the scale of the stage's text in a frame.
func (s *Show) StageText(f *Frame) float64 {
	if f.small() {
		return textSizes[len(textSizes)-1]
	}
	return s.TextScale()
}

// SetFocus sets which parts of the stage are shown.
func (s *Show) SetFocus(f render.Focus) { s.focus, s.changed = f, true }

// SetTheme sets the theme.
func (s *Show) SetTheme(t render.Theme) { s.theme, s.changed = t, true }

// Message returns what is to be told to the spectator now, or nothing.
func (s *Show) Message() string { return s.message }

func (s *Show) say(text string) { s.message, s.left, s.changed = text, messageStays, true }

// Touch has the picture drawn again.
func (s *Show) Touch() { s.changed = true }

// Covered reports whether help or buttons that come when asked for lie over the picture.
func (s *Show) Covered() bool { return s.help || s.more || s.panel != None }

// Span returns how much time the tape shows, in s.
func (s *Show) Span() float64 { return s.span }

// Scenario returns the name of the scenario.
func (s *Show) Scenario() string {
	if p := s.lecture.player; p != nil {
		return p.Lesson().Name
	}
	return s.choices[s.chosen].Name
}
