package show

import (
	"fmt"
	"strings"

	"gonum.org/v1/plot/vg"

	"sextant/render"
	"sextant/render/lesson"
)

// A page is what a lesson says now: words, what there is to choose from, and words about what was chosen.
type page struct {
	above, below []render.Paragraph
	choices      []setChoice
}

// A sheet is a page with its places, in letters of a size.
type sheet struct {
	size   vg.Length
	prose  []prose
	cells  []cell
	height vg.Length
}

// prose is words and where they stand.
type prose struct {
	area  vg.Rectangle
	words []render.Paragraph
}

// longestLine is how many sizes of its letters a column of words is wide at most: longer lines are hard to read.
const longestLine = 52

// set sets the page below top in a column between left and left + room, in letters of a size, or in smaller ones where
// it would be taller than most. Choices are as tall as a finger needs.
func (p *page) set(left, top, room, most, size, finger vg.Length) *sheet {
	across := p.across(min(room, longestLine*size), size)
	for {
		s := &sheet{size: size}
		column := min(room, longestLine*size)
		left := left + (room-column)/2
		at := top
		write := func(words []render.Paragraph) {
			if len(words) == 0 {
				return
			}
			tall := render.ProseHeight(words, column, size)
			s.prose = append(s.prose, prose{vg.Rectangle{Min: vg.Point{X: left, Y: at - tall*1.01}, Max: vg.Point{X: left + column, Y: at}}, words})
			at -= tall
		}
		write(p.above)
		if len(p.choices) > 0 {
			at -= size * 0.3
			at = s.choices(p.choices, across, left, at, column, finger)
			at -= size * 0.3
		}
		write(p.below)
		if s.height = top - at; s.height <= most || size < 1 {
			return s
		}
		size *= 0.95
	}
}

// across returns how many choices go beside each other in a column, in letters of a size.
func (p *page) across(column, size vg.Length) int {
	n, widest := len(p.choices), vg.Length(0)
	if n == 0 {
		return 1
	}
	for k := range p.choices {
		widest = max(widest, p.choices[k].width(size))
	}
	most := min(max(int(column/widest), 1), n)
	down := (n + most - 1) / most
	return (n + down - 1) / down
}

// choices sets buttons in a column from at down, so many beside each other, and returns where they end.
func (s *sheet) choices(all []setChoice, across int, left, at, column, finger vg.Length) vg.Length {
	wide := column / vg.Length(across)
	for k := 0; k < len(all); k += across {
		row := all[k:min(k+across, len(all))]
		tall := vg.Length(0)
		for i := range row {
			tall = max(tall, choiceHeight(row[i].words, wide, s.size, finger))
		}
		for i := range row {
			x := left + wide*vg.Length(i)
			c := cell{box: vg.Rectangle{Min: vg.Point{X: x, Y: at - tall}, Max: vg.Point{X: x + wide, Y: at}}, wish: Choice1 + Wish(k+i), set: &row[i]}
			c.set.fit(&c, s.size)
			s.cells = append(s.cells, c)
		}
		at -= tall
	}
	return at
}

// lecturePage returns what the lesson says now. Where room is short, readings that were taken stand in for the words.
func (s *Show) lecturePage(short bool) *page {
	p := s.lecture.player
	scene := p.Scene()
	var all page
	if q := p.Question(); q != nil {
		all.above = []render.Paragraph{{Text: q.Ask, Tone: render.Strong}}
		all.choices, all.below = s.asked()
	} else {
		all.above = s.said(short)
	}
	if s.lecture.terms {
		all.below = append(all.below, all.explained()...)
	}
	if s.lecture.notes && scene.Note != "" {
		all.below = append(all.below, render.Paragraph{Text: "Speaker: " + scene.Note, Tone: render.Quiet})
	}
	return &all
}

// mostTerms is how many terms are explained on a page.
const mostTerms = 5

// explained returns what the terms on a page mean.
func (p *page) explained() []render.Paragraph {
	used := lesson.TermsIn(strings.Join(p.lines(), "\n"))
	if len(used) == 0 {
		return []render.Paragraph{{Text: "This page uses no term that is explained.", Tone: render.Quiet}}
	}
	var all []render.Paragraph
	for _, t := range used[:min(len(used), mostTerms)] {
		all = append(all, render.Paragraph{Text: t.Word + ": " + t.Means, Tone: render.Quiet})
	}
	return all
}

// said returns the words of the scene and the readings that were taken.
func (s *Show) said(short bool) []render.Paragraph {
	p := s.lecture.player
	scene := p.Scene()
	title := p.Lesson().Title + ". " + scene.Title
	if short && p.Index() > 0 {
		title = scene.Title
	}
	words := []render.Paragraph{{Text: title, Tone: render.Strong}}
	var readings []render.Paragraph
	for k := range scene.Probes {
		if s.lecture.taken[k] {
			readings = append(readings, scene.Probes[k].Shows()...)
		}
	}
	if short && len(readings) > 0 {
		return append(words, readings...)
	}
	words = append(words, render.Paragraph{Text: p.Moment().Words})
	if s.Hiding() {
		sc := s.drive.Scenario()
		hint := "Press a wire to clamp it."
		if proved(&sc) {
			hint = "Press a wire or a device to put the meter there."
		}
		words = append(words, render.Paragraph{Text: hint, Tone: render.Quiet})
	}
	return append(words, readings...)
}

// asked returns what there is to choose from, and what is said of what was chosen.
func (s *Show) asked() (choices []setChoice, verdict []render.Paragraph) {
	p := s.lecture.player
	q, v := p.Question(), p.Verdict()
	for k, offer := range q.Offers() {
		c := setChoice{number: fmt.Sprint(k + 1), words: render.Paragraph{Text: offer}}
		switch {
		case v == nil:
		case offer == v.Correct:
			c.mark, c.words.Tone = right, render.Strong
		default:
			if c.words.Tone = render.Quiet; offer == v.Answer {
				c.mark = wrong
			}
		}
		choices = append(choices, c)
	}
	if v == nil {
		return choices, nil
	}
	says := "Right, " + v.Correct + "."
	if !v.Right {
		says = "Not so. It is: " + v.Correct + "."
	}
	return choices, []render.Paragraph{{Text: says, Tone: render.Strong}, {Text: v.Because}}
}
