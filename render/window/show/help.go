package show

import (
	"fmt"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/vg"

	"sextant/render"
	"sextant/render/lesson"
)

// notes stand before the keys.
var notes = []string{
	"Every key has its button below. Press a gate to switch it, a corner of the hexagon to put the field there, a wire to cut it, a device to break it.",
	"Rest on any part to have it explained; with a finger, keep it there. Drag the rotor by hand, the tape to go back in time, a lane by its name to another place.",
	"The wheel, or two fingers, stretch the tape. Drop a scenario file here to load it.",
	"For learning and reasoning; it certifies nothing. Working on a drive is for qualified people.",
}

// A manual is how the help is set: on as many pages as its letters need to be read.
type manual struct {
	box     vg.Rectangle
	line    vg.Length // from line to line
	columns int       // of keys
	rows    int       // of keys on a page, in a column
	words   []string  // the notes, broken into lines
	pages   int       // of notes and keys, and behind them of terms
	terms   [][]string
}

const (
	manualHead  = 2.2 // lines for the title
	manualFoot  = 1.3 // lines for what turns the page
	manualColum = 17  // lines, width of a column of keys
	manualSize  = 0.62
)

// arrangeHelp sets the help over the stage.
func (f *Frame) arrangeHelp() {
	m := &f.manual
	area := f.Stage.Size()
	room := vg.Length(0.98)
	m.columns = 2
	if area.X < area.Y {
		m.columns = 1
	}
	if area.X > 1.9*area.Y {
		m.columns = 3
	}
	most := min(area.X*room/(manualColum*vg.Length(m.columns)+1), f.cell*0.62)
	least := min(f.cell*0.4, most) // smaller ones are hard to read
	for m.line = most; ; m.line *= 0.96 {
		width := m.line * (manualColum*vg.Length(m.columns) + 1)
		m.words = nil
		for _, note := range notes {
			m.words = append(m.words, wrap(note, render.Face(xfont.WeightNormal, m.line*manualSize), width-m.line)...)
		}
		down := int((area.Y*room)/m.line - manualHead - manualFoot)
		if keys := (len(actions) + m.columns - 1) / m.columns; keys+len(m.words)+1 <= down {
			m.rows, m.pages = keys, 1
		} else if m.rows = max(down, 1); m.line*0.96 < least {
			m.pages = 1 + (len(actions)+m.rows*m.columns-1)/(m.rows*m.columns)
		} else {
			continue
		}
		rows := m.rows
		if m.pages == 1 {
			rows += len(m.words) + 1
		}
		m.terms = explained(rows, m.line*manualSize, width-m.line)
		m.pages += len(m.terms)
		tall := m.line * (vg.Length(rows) + manualHead + manualFoot)
		at := vg.Point{X: f.Stage.Min.X + (area.X-width)/2, Y: f.Stage.Min.Y + (area.Y-tall)/2}
		m.box = vg.Rectangle{Min: at, Max: at.Add(vg.Point{X: width, Y: tall})}
		return
	}
}

// explained returns what the terms of lessons mean, on pages of so many lines.
func explained(most int, size, room vg.Length) (pages [][]string) {
	var page []string
	for _, t := range lesson.Terms() {
		lines := wrap(upper(t.Word)+": "+t.Means, render.Face(xfont.WeightNormal, size), room)
		if len(page) > 0 && len(page)+len(lines) > most {
			pages, page = append(pages, page), nil
		}
		page = append(page, lines...)
	}
	return append(pages, page)
}

// turnHelp opens the help, goes on to its next page, and closes it behind the last.
func (s *Show) turnHelp() {
	switch {
	case !s.help:
		s.help, s.page = true, 0
	case s.page+1 < s.pages:
		s.page++
	default:
		s.help = false
	}
}

// help draws a page of the help over the stage.
func (b brush) help(f *Frame, page int) {
	m := &f.manual
	line, size := m.line, m.line*manualSize
	b.fill(m.box, b.theme.Panel())
	b.outline(m.box, line*0.06, b.theme.Accent())
	width := m.box.Max.X - m.box.Min.X
	mid := (m.box.Min.X + m.box.Max.X) / 2
	title, turn := "Hand and keys", "press h or this page to close"
	terms := page - (m.pages - len(m.terms)) // page of them
	if terms >= 0 {
		title = "Terms"
	}
	if m.pages > 1 {
		title = fmt.Sprintf("%s, page %d of %d", title, page+1, m.pages)
	}
	if page+1 < m.pages {
		turn = "press h or this page for the next"
	}
	b.write(title, vg.Point{X: mid, Y: m.box.Max.Y - line}, line*0.8, width-line, b.theme.Text(), xfont.WeightBold)
	b.write(turn, vg.Point{X: mid, Y: m.box.Min.Y + line*0.7}, size, width-line, b.theme.Muted(), xfont.WeightNormal)
	y := m.box.Max.Y - line*manualHead
	if terms >= 0 {
		for _, text := range m.terms[terms] {
			b.from(text, vg.Point{X: m.box.Min.X + line/2, Y: y}, size, b.theme.Text(), xfont.WeightNormal)
			y -= line
		}
		return
	}
	if page == 0 {
		for _, text := range m.words {
			b.from(text, vg.Point{X: m.box.Min.X + line/2, Y: y}, size, b.theme.Text(), xfont.WeightNormal)
			y -= line
		}
		y -= line
	}
	if m.pages-len(m.terms) > 1 {
		page--
	}
	if page < 0 {
		return
	}
	column := (width - line) / vg.Length(m.columns)
	first := page * m.rows * m.columns
	for i, a := range actions[first:min(first+m.rows*m.columns, len(actions))] {
		x := m.box.Min.X + line/2 + column*vg.Length(i/m.rows)
		y := y - line*vg.Length(i%m.rows)
		b.write(a.keys, vg.Point{X: x + line*1.9, Y: y}, size, line*3.6, b.theme.Accent(), xfont.WeightBold)
		b.start(a.does, vg.Point{X: x + line*4, Y: y}, size, column-line*4.2, b.theme.Text())
	}
}
