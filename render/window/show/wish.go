package show

// A Wish is something that a spectator may want. Those from firstFault on are for faults, see faultWish, those from
// firstLane, firstFile and firstLesson on for lanes, files and lessons, see laneWish, fileWish and LessonWish.
type Wish uint16

// The wishes. Fullscreen is the window's to grant; the zero Wish is none.
const (
	None Wish = iota
	PlayPause
	NextEvent
	PreviousEvent
	Present
	LookBack
	LookForward
	Faster
	Slower
	MuchFaster
	MuchSlower
	Restart
	Undo
	Redo
	NextPattern
	PreviousPattern
	FrequencyUp
	FrequencyDown
	ModulationUp
	ModulationDown
	SupplyUp
	SupplyDown
	CarrierUp
	CarrierDown
	DeadTimeUp
	DeadTimeDown
	SpeedUp
	SpeedDown
	LoadUp
	LoadDown
	CommandUp
	CommandDown
	FluxUp
	FluxDown
	AdvanceUp
	AdvanceDown
	DutyUp
	DutyDown
	NextDevice
	PreviousDevice
	RotorOn
	RotorBack
	Dials
	Faults
	MendAll
	Heat
	NextDeviceA
	PreviousDeviceA
	NextDeviceB
	PreviousDeviceB
	Lesson
	Lessons
	NextLesson
	PreviousLesson
	NextScene
	PreviousScene
	Notes
	Terms
	Choice1
	Choice2
	Choice3
	Choice4
	Choice5
	Choice6
	NextScenario
	PreviousScenario
	LongerTape
	ShorterTape
	TapeLanes
	UsualLanes
	LaneUp
	LaneDown
	LaneOff
	Cursors
	CursorOn
	CursorBack
	FilePanel
	OpenFile
	Save
	SaveAs
	SaveAnswers
	NextPart
	PreviousPart
	PressPart
	NextFocus
	NextNumbering
	NextTheme
	NextTextSize
	Fullscreen
	Help
	More
	Dismiss
	firstFault
)

// firstLane, firstFile and firstLesson are where wishes for lanes, files and lessons begin.
const firstLane, firstFile, firstLesson Wish = 10000, 20000, 30000

// LessonWish returns the wish for the k-th lesson of the list of all.
func LessonWish(k int) Wish { return firstLesson + Wish(k) }

// An action is how a wish, and the one that takes it back, are made at the keyboard, and what they do, for
// the help.
type action struct {
	wish, back       Wish   // back is None where there is no such wish
	keys             string // as printed on the keys
	typed, typedBack rune   // what typing them yields; 0 where it yields nothing
	does             string
}

// actions lists the wishes in the order in which the help shows them.
var actions = []action{
	{PlayPause, None, "space", ' ', 0, "play or pause"},
	{NextEvent, PreviousEvent, "right left", 0, 0, "to the next, previous switching event"},
	{Present, None, "e", 'e', 0, "from the past to the present"},
	{LookBack, LookForward, "home end", 0, 0, "further back in time, forward again"},
	{Faster, Slower, "up down", '+', '-', "time runs faster, slower"},
	{MuchFaster, MuchSlower, "* /", '*', '/', "ten times as fast, as slow"},
	{Restart, None, "r", 'r', 0, "start over from time zero"},
	{Undo, Redo, "u U", 'u', 'U', "take a change back, make it again"},
	{NextPattern, PreviousPattern, "p P", 'p', 'P', "next, previous gating pattern"},
	{FrequencyUp, FrequencyDown, "] [", ']', '[', "more, less frequency"},
	{ModulationUp, ModulationDown, ". ,", '.', ',', "more, less modulation"},
	{SupplyUp, SupplyDown, "v V", 'v', 'V', "more, less supply voltage"},
	{CarrierUp, CarrierDown, "c C", 'c', 'C', "faster, slower carrier"},
	{DeadTimeUp, DeadTimeDown, "d D", 'd', 'D', "more, less dead time"},
	{SpeedUp, SpeedDown, "k K", 'k', 'K', "more, less speed"},
	{LoadUp, LoadDown, "l L", 'l', 'L', "more, less load torque"},
	{CommandUp, CommandDown, "i I", 'i', 'I', "more, less current asked for, iq"},
	{FluxUp, FluxDown, "; :", ';', ':', "more, less of it along the magnet, id"},
	{AdvanceUp, AdvanceDown, "} {", '}', '{', "more, less advance of the sensors"},
	{DutyUp, DutyDown, "' \"", '\'', '"', "more, less duty of chopping"},
	{NextDevice, PreviousDevice, "B G", 'B', 'G', "next, previous device in the bridge"},
	{RotorOn, RotorBack, "> <", '>', '<', "turn the rotor by hand, on and back"},
	{Dials, None, "m", 'm', 0, "these as buttons"},
	{Faults, MendAll, "x X", 'x', 'X', "break things; mend all"},
	{Heat, None, "g", 'g', 0, "heat and temperature of two devices"},
	{NextScenario, PreviousScenario, "s S", 's', 'S', "next, previous scenario"},
	{FilePanel, Save, "F  ctrl s", 'F', 0, "open a scenario; save this one"},
	{Lesson, None, "b", 'b', 0, "lessons: scenes, words, questions"},
	{NextLesson, PreviousLesson, "y Y", 'y', 'Y', "next, previous lesson"},
	{NextScene, PreviousScene, "q Q", 'q', 'Q', "on in the lesson, and back"},
	{NextScene, PreviousScene, "pgdn pgup", 0, 0, "the same; a presenter's remote has them"},
	{Choice1, Choice2, "1 to 6", '1', '2', "answer the question, or take a reading"},
	{Notes, None, "z", 'z', 0, "the speaker's notes"},
	{Terms, None, "N", 'N', 0, "what the lesson's terms mean"},
	{LongerTape, ShorterTape, "w W", 'w', 'W', "tape shows more, less time"},
	{TapeLanes, UsualLanes, "T Z", 'T', 'Z', "choose the tape's lanes; the usual ones"},
	{LaneUp, LaneDown, "R E", 'R', 'E', "lane that is pointed at up, down"},
	{LaneOff, None, "H", 'H', 0, "leave that lane out"},
	{Cursors, None, "M", 'M', 0, "measure with cursors: A, B, off"},
	{CursorOn, CursorBack, ") (", ')', '(', "move the cursor on, back"},
	{NextPart, PreviousPart, "tab j J", 'j', 'J', "explain the next, previous part"},
	{PressPart, None, "enter", 0, 0, "press that part"},
	{NextFocus, None, "o", 'o', 0, "only bridge, wheel, both, tape"},
	{NextNumbering, None, "n", 'n', 0, "switches by name, rows, firing order"},
	{NextTheme, None, "t", 't', 0, "dark, light, projector, print"},
	{NextTextSize, None, "a", 'a', 0, "larger text"},
	{Fullscreen, None, "f", 'f', 0, "full screen and back"},
	{Help, None, "h ?", 'h', 0, "this help"},
	{Dismiss, None, "esc", 0, 0, "close what lies over the picture"},
}

// Typed returns the wish that typing r makes, or None.
func Typed(r rune) Wish {
	switch r {
	case 0:
		return None
	case '?':
		return Help
	case '=': // the key of + without shift, on many keyboards
		return Faster
	case '3', '4', '5', '6':
		return Choice1 + Wish(r-'1')
	}
	for _, a := range actions {
		switch r {
		case a.typed:
			return a.wish
		case a.typedBack:
			return a.back
		}
	}
	return None
}

// Repeats reports whether a key held down makes the wish again and again.
func (w Wish) Repeats() bool {
	switch w {
	case NextEvent, PreviousEvent, LookBack, LookForward, Faster, Slower, Undo, Redo, FrequencyUp, FrequencyDown, ModulationUp, ModulationDown,
		SupplyUp, SupplyDown, CarrierUp, CarrierDown, DeadTimeUp, DeadTimeDown, SpeedUp, SpeedDown, LoadUp, LoadDown,
		CommandUp, CommandDown, FluxUp, FluxDown, AdvanceUp, AdvanceDown, DutyUp, DutyDown, RotorOn, RotorBack,
		CursorOn, CursorBack, LongerTape, ShorterTape, NextPart, PreviousPart:
		return true
	}
	return false
}
