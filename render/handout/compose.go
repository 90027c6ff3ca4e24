package handout

import (
	"fmt"
	"strings"

	"gonum.org/v1/plot/vg"

	"sextant/render"
)

const (
	textSize = vg.Length(10)
	lineGap  = textSize * leading
	indent   = vg.Length(22)
	scoring  = vg.Length(44) // column of points
)

// What is said of numbers, and of where data come from.
const (
	within   = "A number within 1 % counts as right unless the question says otherwise."
	rounding = "Give numbers to three significant figures, with their unit, and show your working. " + within
	invented = "Machines, scenarios and data are invented. For learning; it certifies nothing."
)

// A column is where pieces are made for.
type column struct {
	width  vg.Length
	pieces []piece
}

func (l *column) add(p piece) { l.pieces = append(l.pieces, p) }

// words adds a paragraph.
func (l *column) words(s style, room vg.Length, text string, keep bool) {
	lines := s.wrap(text, room)
	gap := s.size * leading
	l.add(piece{height: vg.Length(len(lines)) * gap, keep: keep, draw: func(c vg.Canvas, area vg.Rectangle) {
		drawLines(c, s, area.Min.X, area.Max.Y, lines)
	}})
}

// drawLines writes lines below a height and returns that below them.
func drawLines(c vg.Canvas, s style, x, top vg.Length, lines []string) vg.Length {
	for _, line := range lines {
		top -= s.size * leading
		s.write(c, x, top+0.3*s.size, line)
	}
	return top
}

// questions returns the pieces of a sheet.
func (s *Sheet) questions(width vg.Length) []piece {
	l := column{width: width}
	l.words(bold(17), width, s.Title, true)
	l.add(space(3))
	l.words(muted(9.5), width, s.About, true)
	l.add(space(12))
	l.add(piece{height: 20, draw: s.blanks})
	l.add(space(8))
	if len(s.Cautions) > 0 {
		l.cautions(s.Cautions)
	}
	l.words(muted(9), width, rounding, false)
	n := 0
	for i := range s.Sections {
		sec := &s.Sections[i]
		l.section(sec)
		for k := range sec.Exercises {
			n++
			l.exercise(n, &sec.Exercises[k])
		}
	}
	return l.pieces
}

// blanks draws the lines for name, date and score.
func (s *Sheet) blanks(c vg.Canvas, area vg.Rectangle) {
	p := pen{c}
	y := area.Min.Y + 5
	x, width := area.Min.X, area.Size().X
	for _, f := range []struct {
		name     string
		from, to vg.Length
		after    string
	}{{"Name", 0, 0.52, ""}, {"Date", 0.56, 0.77, ""}, {"Score", 0.81, 1, fmt.Sprintf(" / %d", s.Points())}} {
		from, to := x+f.from*width, x+f.to*width
		from = plain(textSize).write(c, from, y, f.name) + 5
		if f.after != "" {
			to -= plain(textSize).width(f.after)
			plain(textSize).write(c, to, y, f.after)
		}
		p.line(0.6, theme.Text(), vg.Point{X: from, Y: y - 2}, vg.Point{X: to, Y: y - 2})
	}
}

// cautions adds what could hurt somebody, in a frame.
func (l *column) cautions(list []string) {
	s := plain(9)
	room := l.width - 16
	var lines []string
	for _, x := range list {
		lines = append(lines, s.wrap(x, room)...)
	}
	height := vg.Length(len(lines)+1)*s.size*leading + 12
	l.add(piece{height: height, keep: true, draw: func(c vg.Canvas, area vg.Rectangle) {
		pen{c}.box(0.9, theme.Text(), area)
		x, y := area.Min.X+8, area.Max.Y-5
		y = drawLines(c, bold(9), x, y, []string{"Before anybody acts on a real drive"})
		drawLines(c, s, x, y, lines)
	}})
	l.add(space(8))
}

func (l *column) section(s *Section) {
	if s.Title == "" {
		l.add(space(8))
		return
	}
	l.add(space(14))
	l.words(bold(12.5), l.width, s.Title, true)
	l.add(space(3))
	for i, w := range s.Words {
		l.words(plain(textSize), l.width, w, s.Picture != nil || s.Exercises != nil || i+1 < len(s.Words))
		if i+1 < len(s.Words) {
			l.add(space(3))
		}
	}
	if s.Picture != nil {
		w, h := s.Picture.Size(l.width, false)
		l.add(space(6))
		l.add(piece{height: h, draw: func(c vg.Canvas, area vg.Rectangle) {
			at := area.Min.X + (area.Size().X-w)/2
			s.Picture.Draw(c, vg.Rectangle{Min: vg.Point{X: at, Y: area.Min.Y}, Max: vg.Point{X: at + w, Y: area.Max.Y}}, false)
		}})
	}
}

// foot writes what stands under every page.
func (s *Sheet) foot(c vg.Canvas, area vg.Rectangle, kind string, n, of int) {
	drawFoot(c, area, s.Mark(), strings.TrimSpace(fmt.Sprintf("%s page %d of %d", kind, n, of)))
}

// drawFoot writes what stands under a page: what it belongs to, and which it is.
func drawFoot(c vg.Canvas, area vg.Rectangle, mark, at string) {
	y := area.Min.Y
	pen{c}.line(0.4, theme.Rule(), vg.Point{X: area.Min.X, Y: y + 13}, vg.Point{X: area.Max.X, Y: y + 13})
	st := muted(8)
	st.write(c, area.Min.X, y, mark)
	st.place(c, centre, (area.Min.X+area.Max.X)/2, y+render.CapHeight*st.size/2, invented)
	st.write(c, area.Max.X-st.width(render.Typeset(at)), y, at)
}
