package handout

import "gonum.org/v1/plot/vg"

const headHeight = vg.Length(14)

// rowHeight returns how high a row is: there is room to write in one that is not solved.
func rowHeight(solved bool) vg.Length {
	if solved {
		return 12
	}
	return 17
}

// height returns how high t is drawn.
func (t *Table) height(solved bool) vg.Length {
	h := headHeight + vg.Length(len(t.Rows))*rowHeight(solved)
	if t.grouped() {
		h += headHeight
	}
	return h
}

// grouped reports whether there are headings over those of columns.
func (t *Table) grouped() bool {
	for _, g := range t.Groups {
		if g.Name != "" {
			return true
		}
	}
	return false
}

// shares returns how wide the columns are within a width, by their widest words.
func (t *Table) shares(width vg.Length) []vg.Length {
	head, cell := muted(figureText), bold(figureHead)
	var natural []vg.Length
	sum := vg.Length(0)
	for k, name := range t.columns() {
		w := head.width(name)
		for _, r := range t.Rows {
			w = max(w, cell.width(r[k].Text))
		}
		natural = append(natural, w+8)
		sum += w + 8
	}
	for k := range natural {
		natural[k] += (width - sum) / vg.Length(len(natural))
	}
	return natural
}

// draw draws t from the top left of area on.
func (t *Table) draw(c vg.Canvas, area vg.Rectangle, solved bool) {
	p := pen{c}
	widths := t.shares(area.Size().X)
	top, y := area.Max.Y, area.Max.Y
	bottom, high := top-t.height(solved), rowHeight(solved)
	at := func(x, y vg.Length) vg.Point { return vg.Point{X: x, Y: y} }
	if t.grouped() {
		y -= headHeight
	}
	x, k := area.Min.X, 0
	for _, g := range t.Groups {
		from := x
		for i, name := range g.Columns {
			if i > 0 {
				p.line(0.4, theme.Rule(), at(x, y), at(x, bottom))
			}
			muted(figureText).place(c, centre, x+widths[k]/2, y-headHeight/2, name)
			x += widths[k]
			k++
		}
		bold(figureText).place(c, centre, (from+x)/2, y+headHeight/2, g.Name)
		p.line(0.8, theme.Text(), at(from, top), at(from, bottom))
	}
	p.line(0.8, theme.Text(), at(x, top), at(x, bottom))
	p.line(0.8, theme.Text(), at(area.Min.X, top), at(x, top))
	y -= headHeight
	p.line(0.8, theme.Text(), at(area.Min.X, y), at(x, y))
	for _, r := range t.Rows {
		x := area.Min.X
		for k, cell := range r {
			switch s := plain(figureHead); {
			case cell.Given:
				s.place(c, centre, x+widths[k]/2, y-high/2, cell.Text)
			case solved:
				s.bold = true
				s.place(c, centre, x+widths[k]/2, y-high/2, cell.Text)
			}
			x += widths[k]
		}
		y -= high
		p.line(0.4, theme.Rule(), at(area.Min.X, y), at(x, y))
	}
	p.line(0.8, theme.Text(), at(area.Min.X, bottom), at(x, bottom))
}
