package show

// A Wish is something that a spectator may want.
type Wish uint8

// The wishes. Fullscreen is the window's to grant; the zero Wish is none.
const (
	None Wish = iota
	PlayPause
	NextEvent
	PreviousEvent
	Present
	Faster
	Slower
	Restart
	NextPattern
	PreviousPattern
	FrequencyUp
	FrequencyDown
	ModulationUp
	ModulationDown
	SupplyUp
	SupplyDown
	NextScenario
	PreviousScenario
	LongerTape
	ShorterTape
	NextNumbering
	NextTheme
	NextTextSize
	Fullscreen
	Help
	More
	Dismiss
)

// An Action is how a wish is made at the keyboard, and what it does, for the help.
type Action struct {
	Wish Wish
	Keys string // as printed on the keys
	Rune rune   // what typing it yields; 0 where it yields nothing
	Does string
}

// Actions lists the wishes in the order in which the help shows them.
var Actions = []Action{
	{PlayPause, "space", ' ', "play or pause"},
	{NextEvent, "right", 0, "to the next switching event"},
	{PreviousEvent, "left", 0, "to the previous switching event"},
	{Present, "e", 'e', "from the past to the present"},
	{Faster, "up  +", '+', "time runs faster"},
	{Slower, "down  -", '-', "time runs slower"},
	{Restart, "r", 'r', "start over from time zero"},
	{NextPattern, "p", 'p', "next gating pattern"},
	{PreviousPattern, "P", 'P', "previous gating pattern"},
	{FrequencyUp, "]", ']', "more frequency"},
	{FrequencyDown, "[", '[', "less frequency"},
	{ModulationUp, ".", '.', "more modulation"},
	{ModulationDown, ",", ',', "less modulation"},
	{SupplyUp, "v", 'v', "more supply voltage"},
	{SupplyDown, "V", 'V', "less supply voltage"},
	{NextScenario, "s", 's', "next scenario"},
	{PreviousScenario, "S", 'S', "previous scenario"},
	{LongerTape, "w", 'w', "tape shows more time"},
	{ShorterTape, "W", 'W', "tape shows less time"},
	{NextNumbering, "n", 'n', "switches by name, rows, firing order"},
	{NextTheme, "t", 't', "dark, light, projector, print"},
	{NextTextSize, "a", 'a', "larger text"},
	{Fullscreen, "f", 'f', "full screen and back"},
	{Help, "h  ?", 'h', "this help"},
	{Dismiss, "esc", 0, "close what lies over the picture"},
}

// Typed returns the wish that typing r makes, or None.
func Typed(r rune) Wish {
	switch r {
	case '?':
		return Help
	case '=': // the key of + without shift, on many keyboards
		return Faster
	}
	for _, a := range Actions {
		if a.Rune == r && r != 0 {
			return a.Wish
		}
	}
	return None
}

// Repeats reports whether a key held down makes the wish again and again.
func (w Wish) Repeats() bool {
	switch w {
	case NextEvent, PreviousEvent, Faster, Slower, FrequencyUp, FrequencyDown, ModulationUp, ModulationDown,
		SupplyUp, SupplyDown, LongerTape, ShorterTape:
		return true
	}
	return false
}
