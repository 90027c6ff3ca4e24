package show

import (
	"fmt"
	"math"
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
	files   Files // nil where there are none
	naming  naming

	// The drive, and what is known of its past.
	drive   *drive.Drive
	edition int     // counts scenarios, for pictures kept of what depends on one
	since   float64 // s, when the scenario was last changed
	heard   int     // notices of the drive that were told
	failed  bool    // the drive cannot go on
	tape    *drive.Tape
	fresh   []drive.Instant // since the end of the tape, which holds only what lies behind an event
	past    past
	scratch []drive.Instant

	// Time as the spectator has it.
	playing   bool
	still     bool    // it was opened paused, and nobody has let it play since: scenes begin so too
	pace      int     // index in paces
	span      float64 // s of tape shown
	looksBack bool    // the spectator looks into the past, at
	seen      float64 // s

	// The spectator's hand.
	hover         render.Part   // that is pointed at
	rest          float64       // s for which it has been
	parts         []render.Part // that can be pointed at
	grip          grip
	gripped       bool   // the last step is the grip's
	forced        int    // 1 + the switch that the interlock has just kept off; 0 for none
	steps, undone []step // that can be taken back, and made again

	// What lies over the picture.
	panel             Wish // Dials, Faults, Heat or Lesson, while it does
	heating           heating
	lecture           lecture
	help, more        bool
	page, pages       int // of the help, from 0
	message           string
	left              float64     // s that the message stays
	boxed             render.Part // what was explained last, and how large the box for it was
	boxWidth, boxSize vg.Length

	// How it looks.
	theme     render.Theme
	focus     render.Focus
	numbering inverter.Numbering
	text      int // index in textSizes
	tapeTaste tapeTaste
	scales    render.Scales
	beads     render.Beads
	changed   bool // since the picture was drawn
}

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
)

// New returns a show of choices[first], paused or playing. It fails where that scenario cannot run.
func New(choices []Choice, first int, playing bool) (*Show, error) {
	s := &Show{choices: choices, chosen: first, playing: playing, still: !playing, changed: true}
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
