package show

import (
	"fmt"

	"gonum.org/v1/plot/vg"

	"sextant/render"
	"sextant/render/lesson"
)

// moveListed marks another lesson in the list of all.
func (s *Show) moveListed(step int) {
	n := len(lesson.Course())
	s.lecture.listed = ((s.lecture.listed+step)%n + n) % n
}

// titles returns the titles of the built-in lessons, as they are listed.
func titles() []string {
	all := lesson.Course()
	for k, name := range all {
		if title, err := lesson.Title(name); err == nil {
			all[k] = title
		}
	}
	return all
}

// done tells of a listed lesson that was played how many of its answers were right, after the time that was played last
// and had any; "" where none has.
func (s *Show) done(name string) (says string) {
	for _, p := range s.lecture.played {
		if answered, right := marks(p); p.Lesson().Name == name && answered > 0 {
			says = fmt.Sprintf(" (%d of %d right)", right, answered)
		}
	}
	return says
}

const (
	entryWide  = 9.5 // width of a lesson in the list, in heights of a button
	mostAcross = 3   // lessons beside each other
)

// arrangeList lays the list of all lessons out over the stage: down its columns, each a button.
func (s *Show) arrangeList(f *Frame, width, cell float64) {
	names, course := titles(), lesson.Course()
	across := min(max(int((width/cell-margin)/entryWide), 1), mostAcross)
	down := (len(names) + across - 1) / across
	room := float64(f.Stage.Size().Y) * 0.98
	entry := min(0.84*cell, (room-1.3*cell)/float64(down))
	foot := float64(f.strip.Max.Y)
	top := foot + 1.3*cell + entry*float64(down)
	f.panel = vg.Rectangle{Min: vg.Point{Y: vg.Length(foot)}, Max: vg.Point{X: vg.Length(width), Y: vg.Length(top)}}
	wide := (width - margin*cell) / float64(across)
	for k, name := range names {
		x := margin/2*cell + wide*float64(k/down)
		y := top - 0.1*cell - entry*float64(k%down)
		c := newCell(piece{wish: LessonWish(k), on: s.lecture.player != nil && k == s.lecture.at}, x, y-entry, wide, entry)
		c.set = &setChoice{number: fmt.Sprint(k + 1), words: render.Paragraph{Text: name + s.done(course[k])}, marked: k == s.lecture.listed}
		c.set.fit(&c, vg.Length(min(letter*s.TextScale()*cell, 0.45*entry)))
		f.cells = append(f.cells, c)
	}
	row := [][]piece{
		{{width: 5.4, text: "lessons, in their order"}},
		{{wish: Dismiss, width: 1.6, text: "close"}},
	}
	f.place(row, (width-rowWidth(row)*cell)/2, foot+1.1*cell, cell)
}
