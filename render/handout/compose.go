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
func (l *column) words(s style, from, room vg.Length, text string, keep bool) {
	lines := s.wrap(text, room)
	gap := s.size * leading
	l.add(piece{height: vg.Length(len(lines)) * gap, keep: keep, draw: func(c vg.Canvas, area vg.Rectangle) {
		drawLines(c, s, area.Min.X+from, area.Max.Y, lines)
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
	l.words(bold(17), 0, width, s.Title, true)
	l.add(space(3))
	l.words(muted(9.5), 0, width, s.About, true)
	l.add(space(12))
	l.add(piece{height: 20, draw: s.blanks})
	l.add(space(8))
	if len(s.Cautions) > 0 {
		l.cautions(s.Cautions)
	}
	l.words(muted(9), 0, width, rounding, false)
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
	l.words(bold(12.5), 0, l.width, s.Title, true)
	l.add(space(3))
	for i, w := range s.Words {
		l.words(plain(textSize), 0, l.width, w, s.Picture != nil || s.Exercises != nil || i+1 < len(s.Words))
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

// answerRoom is for working and the line that the answer is written on.
const answerRoom = vg.Length(40)

// exercise adds one, which is not divided.
func (l *column) exercise(n int, x *Exercise) {
	ask := plain(textSize).wrap(x.Ask, l.width-indent-scoring)
	inner := l.width - indent
	var choices [][]string
	height := vg.Length(len(ask)) * lineGap
	for _, c := range x.Choices {
		lines := plain(textSize).wrap(c, inner-38)
		choices = append(choices, lines)
		height += vg.Length(len(lines))*lineGap + 3
	}
	drawn, tall := x.drawn(inner, false)
	height += tall
	if x.Number {
		height += answerRoom
	}
	l.add(space(11))
	l.add(piece{height: height, slack: true, draw: func(c vg.Canvas, area vg.Rectangle) {
		left, y := area.Min.X+indent, area.Max.Y
		bold(textSize).write(c, area.Min.X, y-lineGap+0.3*textSize, fmt.Sprint(n))
		l.score(c, area.Max.X, y-lineGap+0.3*textSize, x.Points)
		y = drawLines(c, plain(textSize), left, y, ask)
		for i, lines := range choices {
			y -= 3
			pen{c}.box(0.8, theme.Text(), vg.Rectangle{Min: vg.Point{X: left, Y: y - 11}, Max: vg.Point{X: left + 9, Y: y - 2}})
			plain(textSize).write(c, left+16, y-lineGap+0.3*textSize, letter(i))
			y = drawLines(c, plain(textSize), left+30, y, lines)
		}
		drawn(c, vg.Point{X: left, Y: y})
		if x.Number {
			l.answerLine(c, left, area.Max.X, area.Min.Y+4)
		}
	}})
}

func letter(i int) string { return string(rune('a'+i)) + ")" }

func (l *column) score(c vg.Canvas, x, y vg.Length, points int) {
	of := fmt.Sprintf(" / %d", points)
	s := muted(9)
	w := s.width(of)
	s.write(c, x-w, y, of)
	pen{c}.line(0.5, theme.Muted(), vg.Point{X: x - w - 18, Y: y - 1.5}, vg.Point{X: x - w, Y: y - 1.5})
}

func (l *column) answerLine(c vg.Canvas, x0, x1, y vg.Length) {
	const answer = 150
	end := plain(9).write(c, x1-answer, y, "Answer")
	pen{c}.line(0.6, theme.Text(), vg.Point{X: end + 5, Y: y - 2}, vg.Point{X: x1, Y: y - 2})
	for k := range 2 {
		to := x1 - answer - 12
		if k == 1 {
			to = x1
		}
		at := y - 2 + 20*vg.Length(k)
		pen{c}.dashed(0.4, theme.Rule(), []float64{0.4, 0.8}, vg.Point{X: x0, Y: at}, vg.Point{X: to, Y: at})
	}
}

// beside is the part of the room up to which a figure leaves a place for the table beside it.
const beside = 0.55

// drawn returns what draws the exercise's table and figure below a point, and how high they are.
func (x *Exercise) drawn(room vg.Length, solved bool) (draw func(c vg.Canvas, top vg.Point), height vg.Length) {
	var w, h vg.Length
	if x.Figure != nil {
		w, h = x.Figure.Size(room, solved)
	}
	figure := func(c vg.Canvas, at vg.Point) {
		x.Figure.Draw(c, vg.Rectangle{Min: vg.Point{X: at.X, Y: at.Y - h}, Max: vg.Point{X: at.X + w, Y: at.Y}}, solved)
	}
	table := func(c vg.Canvas, at vg.Point, width vg.Length) {
		x.Table.draw(c, vg.Rectangle{Min: vg.Point{X: at.X, Y: at.Y - x.Table.height(solved)}, Max: vg.Point{X: at.X + width, Y: at.Y}}, solved)
	}
	const gap = 8
	switch {
	case x.Figure == nil && x.Table == nil, x.Shown && solved:
		return func(vg.Canvas, vg.Point) {}, 0
	case x.Table == nil:
		return func(c vg.Canvas, top vg.Point) { figure(c, top.Sub(vg.Point{Y: gap})) }, h + gap
	case x.Figure == nil:
		return func(c vg.Canvas, top vg.Point) { table(c, top.Sub(vg.Point{Y: gap}), room) }, x.Table.height(solved) + gap
	case w < beside*room:
		tall := max(h, x.Table.height(solved))
		return func(c vg.Canvas, top vg.Point) {
			top.Y -= gap
			figure(c, top.Sub(vg.Point{Y: (tall - h) / 2}))
			table(c, top.Add(vg.Point{X: w + 20, Y: -(tall - x.Table.height(solved)) / 2}), room-w-20)
		}, tall + gap
	}
	return func(c vg.Canvas, top vg.Point) {
		top.Y -= gap
		figure(c, top)
		table(c, top.Sub(vg.Point{Y: h + gap}), room)
	}, h + x.Table.height(solved) + 2*gap
}

// answers returns the pieces of a sheet's key.
func (s *Sheet) answers(width vg.Length) []piece {
	l := column{width: width}
	l.words(bold(14), 0, width, "Answers: "+s.Title, true)
	l.add(space(2))
	l.words(muted(9.5), 0, width, fmt.Sprintf("%s, of %d points. %s", s.Mark(), s.Points(), within), false)
	for i, x := range s.Exercises() {
		l.key(i+1, x)
	}
	return l.pieces
}

// key adds the answer to an exercise.
func (l *column) key(n int, x *Exercise) {
	inner := l.width - indent
	room := inner - scoring/2
	answer := bold(textSize).wrap(x.answer(), room)
	end := bold(textSize).width(answer[len(answer)-1]) + 8 // of the answer, where its working begins
	working := plain(9).wrapAfter(end, x.Working, room)
	drawn, tall := x.drawn(inner, true)
	height := vg.Length(len(answer)+len(working)-1)*lineGap + tall
	l.add(space(3))
	l.add(piece{height: height, draw: func(c vg.Canvas, area vg.Rectangle) {
		left, y := area.Min.X+indent, area.Max.Y
		bold(textSize).write(c, area.Min.X, y-lineGap+0.3*textSize, fmt.Sprint(n))
		of := fmt.Sprint(x.Points)
		muted(9).write(c, area.Max.X-muted(9).width(of), y-lineGap+0.3*textSize, of)
		y = drawLines(c, bold(textSize), left, y, answer)
		for i, line := range working {
			at := left
			if i == 0 {
				at += end
			} else {
				y -= lineGap
			}
			plain(9).write(c, at, y+0.3*textSize, line)
		}
		drawn(c, vg.Point{X: left, Y: y})
	}})
}

// answer returns the answer with the letter of the choice that it is.
func (x *Exercise) answer() string {
	if x.Choices != nil {
		return letter(x.Right) + " " + x.Answer
	}
	return x.Answer
}

// foot writes what stands under every page.
func (s *Sheet) foot(c vg.Canvas, area vg.Rectangle, kind string, n, of int) {
	y := area.Min.Y
	pen{c}.line(0.4, theme.Rule(), vg.Point{X: area.Min.X, Y: y + 13}, vg.Point{X: area.Max.X, Y: y + 13})
	st := muted(8)
	st.write(c, area.Min.X, y, s.Mark())
	st.place(c, centre, (area.Min.X+area.Max.X)/2, y+capHeight*st.size/2, invented)
	at := strings.TrimSpace(fmt.Sprintf("%s page %d of %d", kind, n, of))
	st.write(c, area.Max.X-st.width(render.Typeset(at)), y, at)
}
