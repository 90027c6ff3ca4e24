package show

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"github.com/dustin/go-humanize"
	"gonum.org/v1/plot/vg"

	"sextant/inverter"
	"sextant/motor/drive"
)

// A Frame is where stage and buttons lie in a window. Y points up, as on every vg.Canvas.
type Frame struct {
	Stage vg.Rectangle
	strip vg.Rectangle
	chart vg.Rectangle // within panel, above its buttons; empty where it has none
	panel vg.Rectangle // over the foot of the stage; empty while there is none
	cell  vg.Length    // height of a button
	words *sheet       // of a lesson, in chart; nil where none is open
	cells []cell
	short bool // of room for a lesson: on a phone
	low   bool // and that lies on its side

	manual manual // over the stage; its box is empty while it is closed
}

// A cell is a button, or a reading between two.
type cell struct {
	box     vg.Rectangle
	wish    Wish // None for a reading
	caption string
	text    string
	on      bool
	set     *setChoice // its words, where it is a choice
}

// A piece is a cell before it has its place; its width is in heights.
type piece struct {
	wish          Wish
	width         float64
	caption, text string
	on            bool
}

const (
	gap    = 0.25 // between groups, in heights of a button
	pad    = 0.08 // around a button's face, in heights
	margin = 0.3  // left and right of the strip together, in heights
)

// groups returns the buttons that belong together, the ones most wanted first; with those of a lesson that its panel
// has no room for.
func (s *Show) groups(short bool) [][]piece {
	numbering := "U+"
	switch s.numbering {
	case inverter.Rows:
		numbering = "rows"
	case inverter.Firing:
		numbering = "firing"
	}
	button := func(w Wish) piece { return piece{wish: w, width: 1} }
	run := button(PlayPause)
	run.on = s.playing
	pace := stepper(Slower, Faster, 2.3, "time scale", "1 s = "+seconds(paces[s.pace]))
	if !s.live() {
		pace[1] = piece{wish: Present, width: 2.3, caption: seconds(s.drive.Time()-s.seen) + " ago", text: "to now"}
	}
	panel := func(w Wish, width float64, text string) piece {
		return piece{wish: w, width: width, text: text, on: s.panel == w}
	}
	help := button(Help)
	help.on = s.help
	transport := []piece{button(Restart), button(PreviousEvent), run, button(NextEvent)}
	panels := []piece{button(Undo), button(Redo), panel(Dials, 1.3, "dials"), panel(Faults, 1.4, "faults")}
	more := []piece{panel(Heat, 1.2, "heat"), panel(TapeLanes, 1.2, "tape"), panel(FilePanel, 1.2, "files")}
	lesson := panel(Lesson, 1.7, "lessons")
	looks := []piece{{wish: NextNumbering, width: 1, text: numbering}, button(NextTheme), button(NextTextSize), button(NextFocus), button(Fullscreen), help}
	switch s.panel { // the stage wants the room
	case Lesson: // has its own scenarios
		all := []piece{lesson}
		if short { // the panel has no room for them
			all = append(all, piece{wish: Lessons, width: 2.6, text: "all lessons"}, s.notesButton())
		}
		return [][]piece{transport, pace, panels, more, all, looks}
	case Dials, TapeLanes:
		return [][]piece{transport, pace, panels, more, looks}
	}
	return append(append([][]piece{transport, pace, panels, {lesson}, more}, s.commands()...),
		stepper(PreviousScenario, NextScenario, 2.7, "scenario", shortName(s.Scenario())),
		looks)
}

// commands returns the steppers of what commands the gates.
func (s *Show) commands() [][]piece {
	sc := s.drive.Scenario()
	g := &sc.Gating
	modulation := "none"
	if g.Kind.Compares() && g.Follow == drive.Clock {
		modulation = fmt.Sprintf("%.2f", g.Modulation)
	}
	frequency := "none"
	switch {
	case g.Follow != drive.Clock:
		frequency = "follows"
	case g.Frequency != 0:
		frequency = number(g.Frequency) + " Hz"
	}
	return [][]piece{
		stepper(PreviousPattern, NextPattern, 2.6, "pattern", g.Kind.String()),
		stepper(FrequencyDown, FrequencyUp, 1.7, "frequency", frequency),
		stepper(ModulationDown, ModulationUp, 1.5, "modulation", modulation),
	}
}

// seconds returns a time to two figures with a prefix, like "2 ms".
func seconds(t float64) string {
	x, prefix := humanize.ComputeSI(t)
	if prefix == "" && x == 1 {
		return "1 s"
	}
	return strconv.FormatFloat(round(x, 2), 'f', -1, 64) + " " + prefix + "s"
}

// Arrange lays out a window of the given size in pixels, of which ratio make a pixel as a fingertip and an
// eye know it.
func (s *Show) Arrange(width, height, ratio float64) Frame {
	natural := max(ratio, min(width/1440, height/810)) * 44
	short := width < shortRoom*natural
	low := !short && height < lowRoom*natural
	groups := s.groups(short || low)
	least := 33 * ratio // a smaller one is hard to hit
	total := -gap
	for _, g := range groups {
		total += groupWidth(g) + gap
	}
	cell := natural
	if fit := width / (total + margin); fit < natural {
		if fit >= least {
			cell = fit
		} else if narrow := width / cellsAcross; narrow < natural {
			cell = max(narrow, 0.8*least)
		}
	}
	if fit := width / twoRows; short && fit >= least {
		cell = min(cell, fit)
	}
	if fit := width / oneRow; s.panel == Lesson && short && fit >= least { // its words need the room
		cell = min(cell, fit)
	}
	room := width/cell - margin + 1e-9
	rows := flow(groups, room)
	most := 2 // rows, without asking for more
	if height < 12*cell {
		most = 1
	}
	if s.panel == Lesson && short {
		most = 1
	}
	foot := len(rows) // of what the stage leaves free
	if len(rows) > most {
		few := fewer(groups, most, room, s.more)
		foot = len(few)
		if s.more { // over the stage
			groups[0] = append(slices.Clip(groups[0]), piece{wish: More, width: 1, on: true})
			rows = flow(groups, room)
		} else {
			rows = few
		}
	}
	f := Frame{cell: vg.Length(cell), short: short, low: low}
	line := cell * 1.12
	tall := func(rows int) float64 { return float64(rows)*line + 0.2*cell }
	top := tall(len(rows))
	f.strip = vg.Rectangle{Max: vg.Point{X: vg.Length(width), Y: vg.Length(top)}}
	f.Stage = vg.Rectangle{Min: vg.Point{Y: vg.Length(tall(foot))}, Max: vg.Point{X: vg.Length(width), Y: vg.Length(height)}}
	for r, row := range rows {
		f.place(row, (width-rowWidth(row)*cell)/2, top-0.16*cell-float64(r)*line, cell)
	}
	s.arrangePanel(&f, width, natural)
	if s.help {
		f.arrangeHelp()
		s.pages = f.manual.pages
		s.page = min(s.page, s.pages-1)
	}
	return f
}

// fewer returns as many of the first groups as fit into so many rows, with the button for the rest.
func fewer(groups [][]piece, most int, room float64, on bool) [][][]piece {
	for n := len(groups) - 1; ; n-- {
		few := slices.Clone(groups[:n])
		few[n-1] = append(slices.Clip(few[n-1]), piece{wish: More, width: 1, on: on})
		if rows := flow(few, room); len(rows) <= most || n == 1 {
			return rows
		}
	}
}

// cellsAcross is how many heights of a button a phone held upright is wide at least: the first group, and
// the second with its way to the rest, each fit.
const cellsAcross = 6.4

// oneRow is how many are needed for both beside each other, and twoRows without the way to the rest.
const oneRow, twoRows = 9.85, 8.85

// shortRoom is how many heights of a button wide a window is where there is little room.
const shortRoom = 14

// lowRoom is how many heights of a button high a window is where words below the stage would leave it too little.
const lowRoom = 11

func newCell(p piece, x, y, w, h float64) cell {
	return cell{
		box: vg.Rectangle{
			Min: vg.Point{X: vg.Length(x), Y: vg.Length(y)},
			Max: vg.Point{X: vg.Length(x + w), Y: vg.Length(y + h)},
		},
		wish: p.wish, caption: p.caption, text: p.text, on: p.on,
	}
}

func groupWidth(g []piece) float64 {
	w := 0.0
	for _, p := range g {
		w += p.width
	}
	return w
}

func rowWidth(row [][]piece) float64 {
	w := -gap
	for _, g := range row {
		w += groupWidth(g) + gap
	}
	return w
}

// flow puts groups into as few rows as the room allows, in order, and evens out the rows.
func flow(groups [][]piece, room float64) [][][]piece {
	fill := func(room float64) (rows [][][]piece) {
		used := math.Inf(1)
		for _, g := range groups {
			w := groupWidth(g) + gap
			if used+w-gap > room {
				rows, used = append(rows, nil), 0
			}
			rows[len(rows)-1] = append(rows[len(rows)-1], g)
			used += w
		}
		return rows
	}
	rows := fill(room)
	for range 40 {
		room *= 0.97
		tighter := fill(room)
		if len(tighter) > len(rows) {
			break
		}
		rows = tighter
	}
	return rows
}

// At returns the wish of the button at p, or None; over tells whether p is on the strip or a panel at all.
func (f *Frame) At(p vg.Point) (w Wish, over bool) {
	if within(f.manual.box, p) {
		return Help, true
	}
	if !within(f.strip, p) && !within(f.panel, p) {
		return None, false
	}
	for _, c := range f.cells {
		if c.wish != None && within(c.box, p) {
			return c.wish, true
		}
	}
	return None, true
}

// Center returns the middle of the button for w, and whether there is one.
func (f *Frame) Center(w Wish) (vg.Point, bool) {
	for _, c := range f.cells {
		if c.wish == w {
			return c.box.Min.Add(c.box.Max).Scale(0.5), true
		}
	}
	return vg.Point{}, false
}

func within(r vg.Rectangle, p vg.Point) bool {
	return p.X >= r.Min.X && p.X < r.Max.X && p.Y >= r.Min.Y && p.Y < r.Max.Y
}
