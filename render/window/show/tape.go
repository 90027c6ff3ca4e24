package show

import (
	"fmt"
	"slices"
	"strings"

	"sextant/render"
)

// A tapeTaste is how the spectator wants the tape: which lanes, in which order, and measured with which cursors.
type tapeTaste struct {
	lanes   []render.Lane // from the top; nil for the usual ones
	shown   []render.Lane // on the last layout
	at      render.Lane   // that was pointed at last
	cursors []float64     // s; none, or A and B
	active  int           // the cursor that keys move
}

// laneWish returns the wish to show a lane, or to leave it out.
func laneWish(k render.Lane) Wish { return firstLane + Wish(k) }

// lane returns the lane that w shows or leaves out, if it does.
func lane(w Wish) (render.Lane, bool) {
	k := w - firstLane
	return render.Lane(k), w >= firstLane && int(k) < len(render.Lanes)
}

// Lanes returns the lanes that the tape is to show, from the top; none for the usual ones.
func (s *Show) Lanes() []render.Lane { return s.tapeTaste.lanes }

// words returns a lane's name as people read it.
func words(k render.Lane) string { return strings.ReplaceAll(k.String(), "-", " ") }

// turnLane shows a lane below the others, or leaves it out; one must stay.
func (s *Show) turnLane(k render.Lane) {
	now := slices.Clone(s.tapeTaste.shown)
	switch at := slices.Index(now, k); {
	case at < 0:
		now = append(now, k)
	case len(now) == 1:
		s.say("The tape keeps at least one lane.")
		return
	default:
		now = slices.Delete(now, at, at+1)
	}
	s.setLanes(now)
	s.tapeTaste.at = k
}

func (s *Show) setLanes(lanes []render.Lane) {
	s.tapeTaste.lanes, s.tapeTaste.shown, s.changed = lanes, lanes, true
}

// MoveLane puts a lane where another is, which gives way.
func (s *Show) MoveLane(k, to render.Lane) {
	now := slices.Clone(s.tapeTaste.shown)
	from, at := slices.Index(now, k), slices.Index(now, to)
	if from < 0 || at < 0 || from == at {
		return
	}
	now = slices.Insert(slices.Delete(now, from, from+1), at, k)
	s.setLanes(now)
}

// shiftLane moves the lane that is pointed at, or was last, up or down.
func (s *Show) shiftLane(by int) {
	k := s.pointedLane()
	at := slices.Index(s.tapeTaste.shown, k)
	if to := at + by; at >= 0 && to >= 0 && to < len(s.tapeTaste.shown) {
		s.MoveLane(k, s.tapeTaste.shown[to])
		s.say(fmt.Sprintf("Lane %s moved.", words(k)))
	}
}

func (s *Show) pointedLane() render.Lane {
	if s.hover.Kind == render.LanePart {
		s.tapeTaste.at = s.hover.Lane
	}
	if shown := s.tapeTaste.shown; len(shown) > 0 && !slices.Contains(shown, s.tapeTaste.at) {
		s.tapeTaste.at = shown[0]
	}
	return s.tapeTaste.at
}

// turnCursors puts the cursors on the tape, goes over to the other one, or takes them off.
func (s *Show) turnCursors() {
	t := &s.tapeTaste
	switch {
	case t.cursors == nil:
		now := s.time()
		t.cursors, t.active = []float64{now - 0.6*s.span, now - 0.2*s.span}, 0
		s.playing = false
		s.say("Cursors A and B measure: drag them, or move A by ) and (. Press M for B, and again for none.")
	case t.active == 0:
		t.active = 1
		s.say("Cursor B is moved by ) and (. Press M again to take the cursors off.")
	default:
		t.cursors = nil
		s.say("The cursors are off.")
	}
}

// MoveCursor puts a cursor at a time in s.
func (s *Show) MoveCursor(k int, time float64) {
	if k < len(s.tapeTaste.cursors) {
		s.tapeTaste.cursors[k], s.tapeTaste.active, s.changed = time, k, true
	}
}

// nudgeCursor moves the active cursor by a hundredth of the tape.
func (s *Show) nudgeCursor(sense float64) {
	t := &s.tapeTaste
	if t.cursors == nil {
		s.turnCursors()
		return
	}
	s.MoveCursor(t.active, t.cursors[t.active]+sense*s.span/100)
}

// tapeButtons returns what the tape's panel holds: all lanes, lit where they are shown, then what is done to them.
func (s *Show) tapeButtons() [][]piece {
	var groups [][]piece
	for _, k := range render.Lanes {
		on := slices.Contains(s.tapeTaste.shown, k)
		groups = append(groups, []piece{{wish: laneWish(k), width: 2.6, text: words(k), on: on}})
	}
	cursors := "cursors"
	if s.tapeTaste.cursors != nil {
		cursors = "cursor " + [2]string{"A", "B"}[s.tapeTaste.active]
	}
	return append(groups,
		[]piece{{wish: LaneUp, width: 1.2, text: "up"}, {width: 2.6, caption: "lane", text: words(s.pointedLane())}, {wish: LaneDown, width: 1.4, text: "down"}, {wish: LaneOff, width: 1, text: "off"}},
		[]piece{{wish: CursorBack, width: 1}, {wish: Cursors, width: 1.9, text: cursors, on: s.tapeTaste.cursors != nil}, {wish: CursorOn, width: 1}},
		stepper(LookBack, LookForward, 2.2, "looks back", seconds(s.Past())),
		stepper(ShorterTape, LongerTape, 2.2, "tape shows", seconds(s.span)),
		[]piece{{wish: UsualLanes, width: 2.4, text: "usual lanes"}, {wish: Dismiss, width: 1.6, text: "close"}})
}
