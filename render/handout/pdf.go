package handout

import (
	"io"

	"gonum.org/v1/plot/vg"

	"sextant/render/picture"
)

// A Part is what of sheets is written.
type Part uint8

// The parts: the sheets with their keys behind them, the sheets alone, the keys alone.
const (
	Both Part = iota
	Questions
	Answers
)

// Margins of a page.
const (
	sideMargin = 2 * vg.Centimeter
	topMargin  = 1.8 * vg.Centimeter
	lowMargin  = 2.4 * vg.Centimeter
	footMargin = 1.3 * vg.Centimeter
)

// WritePDF writes a part of sheets, all pages of one paper, text as text with its fonts embedded.
func WritePDF(w io.Writer, paper Paper, part Part, sheets []*Sheet) error {
	width, height := paper.size()
	area := vg.Rectangle{
		Min: vg.Point{X: sideMargin, Y: lowMargin},
		Max: vg.Point{X: width - sideMargin, Y: height - topMargin},
	}
	var draws []func(c vg.Canvas)
	add := func(s *Sheet, kind string, pieces []piece) {
		pages := paginate(pieces, area.Size().Y)
		for i := range pages {
			draws = append(draws, func(c vg.Canvas) {
				pages[i].draw(c, area)
				s.foot(c, vg.Rectangle{Min: vg.Point{X: area.Min.X, Y: footMargin}, Max: area.Max}, kind, i+1, len(pages))
			})
		}
	}
	title := ""
	for _, s := range sheets {
		title = s.Title
		if part != Answers {
			add(s, "", s.questions(area.Size().X))
		}
	}
	for _, s := range sheets {
		if part != Questions {
			add(s, "Key,", s.answers(area.Size().X))
		}
	}
	return picture.Pages(w, width, height, title, len(draws), func(i int, c vg.Canvas) { draws[i](c) })
}
