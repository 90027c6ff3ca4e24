package lesson

import (
	"maps"
	"slices"
	"strings"

	"sextant/inverter"
	"sextant/motor/drive"
	"sextant/render"
)

// A Lesson is scenes in the order in which they are shown.
type Lesson struct {
	Name   string // of the file, or of the built-in
	Title  string
	About  string
	Scenes []Scene
}

// A Scene is a drive to look at, what is said about it, and what is asked.
type Scene struct {
	Title    string
	Note     string       // for the speaker
	Focus    render.Focus // the part that gets all the room
	Point    render.Part  // the part that is pointed at
	Pace     float64      // s of the drive in a second of the spectator's; 0 leaves it to the player
	Duration float64      // s of the spectator's, for filming
	Labels   inverter.Numbering
	Hidden   bool // the drive's faults are not to be shown: they are what is asked for

	Moments   []Moment // the first is how the scene begins
	Probes    []Probe
	Questions []Question
}

// A Moment is a scenario from some time on, and what is said of it.
type Moment struct {
	After    float64 // s of the drive since the scene began
	Scenario drive.Scenario
	Words    string

	figures figures
}

// A Figure is a number of a moment's run, as words of a lesson name it in braces and as it is written in their place.
type Figure struct{ Name, Text string }

// Figures returns all figures of the moment that are of use, by name: not that it lacks a fault.
func (m *Moment) Figures() (all []Figure) {
	for _, name := range slices.Sorted(maps.Keys(m.figures)) {
		if x := m.figures[name]; x != 0 || !strings.HasPrefix(name, "fault.") {
			all = append(all, Figure{name, written(x, unitOf(name))})
		}
	}
	return all
}

// A Probe is a measurement that the spectator may take.
type Probe struct {
	Name string
	Says []string
}

// A Question has choices, or else a number for an answer.
type Question struct {
	Ask     string
	Because string

	Choices []string
	Right   int // index of the right choice

	Value     float64 // the right number, in Unit
	Unit      string
	Tolerance float64 // how far an answer may be off, as a part of Value
}

// Answer returns the right answer in words.
func (q *Question) Answer() string {
	if q.Choices != nil {
		return q.Choices[q.Right]
	}
	return written(q.Value, q.Unit)
}
