package chart

import "sextant/render"

// A Mark is what stands where a row meets a column.
type Mark uint8

// The marks: nothing, always, sometimes, or in one of two cases, which have a letter.
const (
	Blank Mark = iota
	Full
	Ring
	First
	Second
)

// A Sheet is a table with headings that stand upright, in groups, and rows of marks.
type Sheet struct {
	Title   string
	Lead    []string // lines over the table
	Groups  []Group
	Rows    []Row
	Letters [2]string // of First and Second
	Legend  []string  // lines under it
	Theme   render.Theme
}

// A Group is columns under one heading.
type Group struct {
	Name    string
	Columns []string
}

// A Row has a name, a note behind it and a mark for each column of all groups.
type Row struct {
	Name, Note string
	Marks      []Mark
}

// columns returns how many columns there are.
func (s *Sheet) columns() int {
	n := 0
	for _, g := range s.Groups {
		n += len(g.Columns)
	}
	return n
}

// letter returns what stands for a mark in text.
func (s *Sheet) letter(m Mark) string {
	switch m {
	case Full:
		return "●"
	case Ring:
		return "○"
	case First:
		return s.Letters[0]
	case Second:
		return s.Letters[1]
	}
	return ""
}
