package handout

import "fmt"

// A Sheet is one person's exercises, with their answers.
type Sheet struct {
	Title    string
	About    string
	Seed     uint64
	Number   int // from 1
	Cautions []string
	Sections []Section
}

// Mark tells the sheet from others, so that sheet and key can be matched.
func (s *Sheet) Mark() string { return fmt.Sprintf("Sheet %d, seed %d", s.Number, s.Seed) }

// Points returns what all exercises are worth.
func (s *Sheet) Points() (sum int) {
	for i := range s.Sections {
		for j := range s.Sections[i].Exercises {
			sum += s.Sections[i].Exercises[j].Points
		}
	}
	return sum
}

// Exercises returns all exercises in order.
func (s *Sheet) Exercises() (all []*Exercise) {
	for i := range s.Sections {
		for j := range s.Sections[i].Exercises {
			all = append(all, &s.Sections[i].Exercises[j])
		}
	}
	return all
}

// A Section is exercises that belong together, with what is to be read and looked at before.
type Section struct {
	Title     string
	Words     []string
	Picture   Figure // may be nil
	Exercises []Exercise
}

// An Exercise is one thing to do. Its words may hold subscripts, written _{q}.
type Exercise struct {
	Name    string // of its kind
	Ask     string
	Choices []string
	Table   *Table
	Figure  Figure // may be nil
	Number  bool   // a number is to be worked out: there is room for it
	Shown   bool   // table and figure are given whole, so that the key leaves them out
	Points  int

	Answer  string
	Working string

	Given []Given // what a number is worked out from
	Value float64 // the number, in the unit of Unit
	Unit  string
	Right int // index of the right choice
}

// A Given is a value that an exercise gives, in its unit: SI without prefix, or deg, rpm, %.
type Given struct {
	Symbol string
	Value  float64
	Unit   string
}

// A Table is filled in on paper. Cells that are not given are blank on the sheet and filled in the key.
type Table struct {
	Groups []Group
	Rows   [][]Cell
}

// A Group is columns under one heading.
type Group struct {
	Name    string
	Columns []string
}

// A Cell is where a row meets a column.
type Cell struct {
	Text  string
	Given bool
}

func (t *Table) columns() (names []string) {
	for _, g := range t.Groups {
		names = append(names, g.Columns...)
	}
	return names
}

// row returns cells that are all given, or are all to be filled in.
func row(given bool, texts ...string) []Cell {
	cells := make([]Cell, len(texts))
	for i, s := range texts {
		cells[i] = Cell{s, given}
	}
	return cells
}
