package show

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// stepper is a reading between the buttons for less and more.
func stepper(down, up Wish, width float64, caption, text string) []piece {
	return []piece{{wish: down, width: 1}, {width: width, caption: caption, text: text}, {wish: up, width: 1}}
}

// panelGroups returns what the open panel holds; less of a lesson's where room is short.
func (s *Show) panelGroups(short bool) [][]piece {
	switch s.panel {
	case Dials:
		return s.dials()
	case Faults:
		return s.faultButtons()
	case Heat:
		return s.heatButtons()
	case Lesson:
		return s.lectureButtons(short)
	case TapeLanes:
		return s.tapeButtons()
	case FilePanel:
		return s.fileButtons()
	}
	return nil
}

// arrangePanel lays the open panel out over the foot of the stage, leaving bridge and wheel to be seen where
// the window is wide.
func (s *Show) arrangePanel(f *Frame, width, cell float64) {
	if s.panel == Lessons {
		s.arrangeList(f, width, cell)
		return
	}
	groups := s.panelGroups(f.short)
	if groups == nil {
		return
	}
	widest := 0.0
	for _, g := range groups {
		widest = max(widest, groupWidth(g))
	}
	if s.panel == Lesson && f.low {
		s.arrangeAside(f, width, cell)
		return
	}
	if s.panel == Lesson && width > roomBeside*cell {
		s.arrangeBeside(f, groups, widest, width, cell)
		return
	}
	cell = min(cell, width/(widest+margin))
	rows := flow(groups, width/cell-margin+1e-9)
	chart := 0.0 // height of what stands above the buttons, in heights of one
	if s.panel == Heat {
		chart = 4.4
		if width < 14*cell {
			chart = 8
		}
	}
	room := float64(f.Stage.Max.Y-f.Stage.Min.Y) * 0.98
	if s.panel == Lesson {
		most := mostWords
		if f.short {
			most = 8
		}
		most = min(most, room/cell-1.12*float64(len(rows))-0.2)
		words := s.lecturePage(f.short).set(0, 0, vg.Length(width-0.6*cell), vg.Length((most-0.4)*cell), vg.Length(letter*s.TextScale()*cell), vg.Length(finger*cell))
		chart = max(float64(words.height)/cell+0.4, 1.2)
	}
	cell = min(cell, room/(1.12*float64(len(rows))+0.2+chart))
	line := cell * 1.12
	foot := float64(f.strip.Max.Y)
	top := foot + float64(len(rows))*line + 0.2*cell
	f.panel = vg.Rectangle{Min: vg.Point{Y: vg.Length(foot)}, Max: vg.Point{X: vg.Length(width), Y: vg.Length(top)}}
	if chart > 0 {
		f.chart = vg.Rectangle{Min: vg.Point{X: vg.Length(0.3 * cell), Y: f.panel.Max.Y}, Max: vg.Point{X: vg.Length(width - 0.3*cell), Y: f.panel.Max.Y + vg.Length((chart-0.2)*cell)}}
		f.panel.Max.Y += vg.Length(chart * cell)
	}
	if s.panel == Lesson {
		f.setPage(s.lecturePage(f.short), letter*s.TextScale()*cell, cell)
	}
	if s.panel == Lesson || s.panel == TapeLanes || s.panel == Dials { // what it speaks of is to be seen
		f.Stage.Min.Y = f.panel.Max.Y
	}
	for r, row := range rows {
		f.place(row, (width-rowWidth(row)*cell)/2, top-0.16*cell-float64(r)*line, cell)
	}
}

const (
	// letter is the size of a lesson's letters, in heights of a button, before the spectator's scale.
	letter     = 0.4
	roomBeside = 22   // from so many heights of a button on, a window has room for words beside a block of buttons
	block      = 7.9  // the block's width at least: a lesson's buttons in two or three rows
	mostWords  = 5.2  // height of a lesson's words at most
	finger     = 0.78 // height of a choice at least
	mostGrowth = 1.5  // by how much a lesson's letters grow at most to fill the room beside its buttons
)

// setPage sets a lesson's page into the frame's chart.
func (f *Frame) setPage(p *page, size, cell float64) {
	r := f.chart
	f.words = p.set(r.Min.X, r.Max.Y, r.Max.X-r.Min.X, r.Max.Y-r.Min.Y, vg.Length(size), vg.Length(finger*cell))
	f.cells = append(f.cells, f.words.cells...)
}

// arrangeBeside lays a lesson out over the foot of a wide window: its words on the left, its buttons beside them,
// which leaves the stage more than one below the other would.
func (s *Show) arrangeBeside(f *Frame, groups [][]piece, widest, width, cell float64) {
	widest = max(widest, block)
	rows := flow(groups, widest+1e-9)
	left := width - (widest+2*margin)*cell
	size := letter * s.TextScale() * cell
	words := s.lecturePage(false).set(0, 0, vg.Length(left-2*margin*cell), vg.Length((mostWords-0.4)*cell), vg.Length(size), vg.Length(finger*cell))
	foot, line := float64(f.strip.Max.Y), 1.12*cell
	tall := max(float64(len(rows))*line+0.2*cell, min(float64(words.height)+0.4*cell, mostWords*cell))
	top := foot + min(tall, 0.98*float64(f.Stage.Max.Y-f.Stage.Min.Y))
	at := func(x, y float64) vg.Point { return vg.Point{X: vg.Length(x), Y: vg.Length(y)} }
	f.panel = vg.Rectangle{Min: at(0, foot), Max: at(width, top)}
	f.chart = vg.Rectangle{Min: at(margin*cell, foot), Max: at(left-margin*cell, top-0.2*cell)}
	f.setPage(s.lecturePage(false), size*s.growth(f.chart.Size(), size, cell), cell)
	f.Stage.Min.Y = f.panel.Max.Y // what it speaks of is to be seen
	y := (foot+top+float64(len(rows))*line)/2 - 0.06*cell
	for r, row := range rows {
		f.place(row, left+(widest-rowWidth(row))/2*cell, y-float64(r)*line, cell)
	}
}

// growth returns by how much letters of a size may grow, so that the page can be read from the back of a hall and yet fits
// the room.
func (s *Show) growth(room vg.Point, size, cell float64) float64 {
	for by := mostGrowth; by > 1; by *= 0.95 {
		words := s.lecturePage(false).set(0, 0, room.X, vg.Length(math.Inf(1)), vg.Length(by*size), vg.Length(finger*cell))
		if words.height <= room.Y-vg.Length(0.2*cell) {
			return by
		}
	}
	return 1
}

// arrangeAside lays a lesson out to the right of the stage of a low window, a phone on its side: its words above its
// buttons.
func (s *Show) arrangeAside(f *Frame, width, cell float64) {
	groups := s.panelGroups(true)
	left := width - max(width*0.48, (oneRow-1.2)*cell)
	rows := flow(groups, (width-left)/cell-margin+1e-9)
	foot, line := float64(f.strip.Max.Y), 1.12*cell
	top := foot + float64(len(rows))*line + 0.2*cell
	at := func(x, y float64) vg.Point { return vg.Point{X: vg.Length(x), Y: vg.Length(y)} }
	f.panel = vg.Rectangle{Min: at(left, foot), Max: vg.Point{X: vg.Length(width), Y: f.Stage.Max.Y}}
	f.chart = vg.Rectangle{Min: at(left+margin*cell, top), Max: at(width-margin*cell, float64(f.Stage.Max.Y)-0.2*cell)}
	f.setPage(s.lecturePage(true), letter*s.TextScale()*cell, cell)
	f.Stage.Max.X = f.panel.Min.X
	for r, row := range rows {
		f.place(row, left+(width-left-rowWidth(row)*cell)/2, top-0.16*cell-float64(r)*line, cell)
	}
}

// place puts a row of groups from x on, below y.
func (f *Frame) place(row [][]piece, x, y, cell float64) {
	for _, g := range row {
		for _, p := range g {
			w := p.width * cell
			f.cells = append(f.cells, newCell(p, x, y-cell, w, cell))
			x += w
		}
		x += gap * cell
	}
}
