package handout

import (
	"fmt"

	"gonum.org/v1/plot/vg"
)

// answers returns the pieces of a sheet's key.
func (s *Sheet) answers(width vg.Length) []piece {
	l := column{width: width}
	l.words(bold(14), width, "Answers: "+s.Title, true)
	l.add(space(2))
	l.words(muted(9.5), width, fmt.Sprintf("%s, of %d points. %s", s.Mark(), s.Points(), within), false)
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
