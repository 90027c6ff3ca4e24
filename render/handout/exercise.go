package handout

import (
	"fmt"

	"gonum.org/v1/plot/vg"
)

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
