package handout

import "gonum.org/v1/plot/vg"

// A piece is a part of a page that is not divided.
type piece struct {
	height vg.Length
	draw   func(c vg.Canvas, area vg.Rectangle) // within area, which has its height
	keep   bool                                 // on one page with the next
	slack  bool                                 // may have more room behind it
}

// space is a piece with nothing in it.
func space(height vg.Length) piece { return piece{height: height, keep: true} }

// A page is pieces with how much room is added behind each that takes it.
type page struct {
	pieces []piece
	extra  vg.Length
}

// mostExtra is how much room is added behind a piece at most, so that pages look full.
const mostExtra = vg.Length(34)

// paginate divides pieces among pages of a height. Those that are kept together begin a new page together.
func paginate(pieces []piece, height vg.Length) (pages []page) {
	var now page
	used := vg.Length(0)
	for len(pieces) > 0 {
		n, together := 1, pieces[0].height
		for pieces[n-1].keep && n < len(pieces) {
			together += pieces[n].height
			n++
		}
		if used > 0 && used+together > height {
			now.stretch(height - used)
			pages = append(pages, now)
			now, used = page{}, 0
		}
		now.pieces = append(now.pieces, pieces[:n]...)
		used += together
		pieces = pieces[n:]
	}
	return append(pages, now)
}

// stretch adds the room that is left.
func (p *page) stretch(left vg.Length) {
	n := 0
	for _, x := range p.pieces[:len(p.pieces)-1] {
		if x.slack {
			n++
		}
	}
	if n > 0 {
		p.extra = min(left/vg.Length(n), mostExtra)
	}
}

// draw draws the page from the top of area on.
func (p *page) draw(c vg.Canvas, area vg.Rectangle) {
	y := area.Max.Y
	for _, x := range p.pieces {
		if x.draw != nil {
			x.draw(c, vg.Rectangle{Min: vg.Point{X: area.Min.X, Y: y - x.height}, Max: vg.Point{X: area.Max.X, Y: y}})
		}
		y -= x.height
		if x.slack {
			y -= p.extra
		}
	}
}
