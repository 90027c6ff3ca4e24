package render

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"

	"sextant/motor/drive"
)

// ledgerRows are the ledger's bars from where power comes to where it goes.
var ledgerRows = [...]struct {
	name  string
	heat  bool
	tells PartKind // what it tells of, if one part
	of    func(*drive.Power) float64
}{
	{"supply", false, SupplyPart, func(w *drive.Power) float64 { return w.Supply }},
	{"bridge heat", true, Nowhere, func(w *drive.Power) float64 { return w.Bridge }},
	{"copper heat", true, Nowhere, func(w *drive.Power) float64 { return w.Copper }},
	{"stored", false, LinkPart, func(w *drive.Power) float64 { return w.Store }},
	{"shaft", false, RotorPart, func(w *drive.Power) float64 { return w.Shaft }},
}

// A book is where the ledger's rows lie: the bars' block and, where there is room, the readings below.
type book struct {
	bars   vg.Rectangle
	row    vg.Length // height of a bar's row
	axis   vg.Length // x of no power
	half   vg.Length // length of the full scale
	lines  bool      // names stand above the bars, not before them
	read   vg.Rectangle
	pitch  vg.Length // of readings
	margin vg.Length
	unit   vg.Length
}

func (l *Layout) book() book {
	r, u := l.Ledger, l.unit
	b := book{margin: l.margin, unit: l.unit}
	w, h := r.Max.X-r.Min.X, r.Max.Y-r.Min.Y
	if h > w { // a column
		b.lines = true
		b.bars = vg.Rectangle{Min: vg.Point{X: r.Min.X, Y: r.Max.Y - 36*u}, Max: r.Max}
		b.row = (36 - 4 - 2.6) * u / vg.Length(len(ledgerRows))
		b.axis = r.Min.X + w/2
		b.half = w/2 - b.margin
		b.read = vg.Rectangle{Min: r.Min, Max: vg.Point{X: r.Max.X, Y: b.bars.Min.Y - u}}
		b.pitch = (b.read.Max.Y - b.read.Min.Y - b.margin) / 12
		return b
	}
	b.bars = r
	b.row = (h - b.margin) / vg.Length(len(ledgerRows))
	b.axis = r.Min.X + w*0.56
	b.half = w * 0.17
	return b
}

// ledgerStill draws the names of the rows and the axis.
func (p *pen) ledgerStill() {
	b, l := p.l.book(), p.l
	top := b.bars.Max.Y
	if b.lines {
		head := label{at: vg.Point{X: l.Ledger.Min.X + b.margin, Y: top - 1.6*l.unit}, size: l.body, color: p.ink.text, bold: true, room: 0.4*(l.Ledger.Max.X-l.Ledger.Min.X) - b.margin}
		p.write("Power", head)
		top -= 4 * l.unit
	}
	for k, row := range ledgerRows {
		p.look(Part{Kind: LedgerPart, Row: k})
		p.write(row.name, b.label(k, top, l.small, left, p.ink.muted))
	}
	p.background()
	p.line(0.15*l.unit, p.ink.wire, vg.Point{X: b.axis, Y: top}, vg.Point{X: b.axis, Y: top - b.row*vg.Length(len(ledgerRows))})
	if !b.lines {
		return
	}
	note := vg.Point{X: l.Ledger.Min.X + b.margin, Y: b.bars.Min.Y + 1.2*l.unit}
	p.meanMark(note.Add(vg.Point{X: 0.5 * l.unit}), 0.9*l.unit)
	p.write("mean over the tape", label{at: note.Add(vg.Point{X: 1.8 * l.unit}), size: l.small * 0.9, color: p.ink.muted, room: 18 * l.unit})
	for k, r := range p.settings() {
		at := b.reading(k + 6)
		p.write(r[0], label{at: vg.Point{X: l.Ledger.Min.X + b.margin, Y: at}, size: l.small, color: p.ink.muted, room: 10.5 * l.unit})
		p.write(r[1], label{at: vg.Point{X: l.Ledger.Max.X - b.margin, Y: at}, size: l.small, align: right, color: p.ink.text, room: 12 * l.unit})
	}
	rule := b.reading(5) - b.pitch/2
	p.line(0.12*l.unit, p.ink.rule, vg.Point{X: l.Ledger.Min.X + b.margin, Y: rule}, vg.Point{X: l.Ledger.Max.X - b.margin, Y: rule})
	rule = b.reading(0) + b.pitch*0.6
	p.line(0.12*l.unit, p.ink.rule, vg.Point{X: l.Ledger.Min.X + b.margin, Y: rule}, vg.Point{X: l.Ledger.Max.X - b.margin, Y: rule})
}

// frame returns the rectangle of a row.
func (b *book) frame(k int) vg.Rectangle {
	r := b.bars
	r.Max.Y = b.top() - b.row*vg.Length(k)
	r.Min.Y = r.Max.Y - b.row
	return r
}

// top returns where the rows begin.
func (b *book) top() vg.Length {
	if b.lines {
		return b.bars.Max.Y - 4*b.unit
	}
	return b.bars.Max.Y
}

// label returns where a row's words are written.
func (b *book) label(k int, top, size vg.Length, a align, c color.Color) label {
	y := top - b.row*vg.Length(k)
	at := label{at: vg.Point{X: b.bars.Min.X + b.margin}, size: size, align: a, color: c}
	if a == right {
		at.at.X = b.bars.Max.X - b.margin
	}
	if b.lines {
		at.at.Y = y - b.row*0.24
		at.room = (b.bars.Max.X-b.bars.Min.X)/2 - b.margin
		if a == right {
			at.room -= b.margin / 2
		}
	} else {
		at.at.Y = y - b.row/2
		at.room = b.axis - b.half - b.bars.Min.X - b.margin - size/2
		if a == right {
			at.room = b.bars.Max.X - b.margin - size/2 - b.axis - b.half
		}
	}
	return at
}

// reading returns the height of the k-th reading below the bars.
func (b *book) reading(k int) vg.Length { return b.read.Max.Y - b.pitch*(vg.Length(k)+0.5) }

// ledgerMoving draws the bars and the readings.
func (p *pen) ledgerMoving() {
	b, l, now := p.l.book(), p.l, &p.v.Now
	top := b.top()
	if b.lines {
		p.write(senseOf(&now.Power), label{
			at:   vg.Point{X: l.Ledger.Max.X - b.margin, Y: b.bars.Max.Y - 1.6*l.unit},
			size: l.small * 1.1, align: right, color: p.ink.accent, bold: true, room: 0.6*(l.Ledger.Max.X-l.Ledger.Min.X) - b.margin,
		})
	}
	mean, known := p.meanPower()
	for k, row := range ledgerRows {
		p.look(Part{Kind: LedgerPart, Row: k})
		w := row.of(&now.Power)
		c := p.ink.text
		if row.heat {
			c = p.ink.heat
		}
		p.ledgerBar(&b, k, top, w, c)
		a := b.label(k, top, l.small*1.1, right, p.ink.text)
		a.bold = true
		p.write(quantity(w, "W"), a)
		if b.lines && known {
			y, h := b.bar(k, top)
			x := b.half * vg.Length(max(-1, min(1, share(row.of(&mean), p.scales.Power))))
			p.meanMark(vg.Point{X: b.axis + x, Y: y}, h*1.5)
		}
	}
	p.background()
	if !b.lines {
		return
	}
	readings := [...][2]string{
		{"link", steady(now.Link, p.scales.Voltage, "V")},
		{"speed", figures(now.RPM(), 5000) + " rpm"},
		{"torque", steady(now.Torque, p.scales.Torque, "N m")},
		{"current d", steady(now.ID, p.scales.Current, "A")},
		{"current q", steady(now.IQ, p.scales.Current, "A")},
	}
	shown := readings[:]
	if p.passive() {
		shown = readings[:1]
	}
	for k, r := range shown {
		at := b.reading(k)
		p.write(r[0], label{at: vg.Point{X: l.Ledger.Min.X + b.margin, Y: at}, size: l.small, color: p.ink.muted, room: 10.5 * l.unit})
		p.write(r[1], label{at: vg.Point{X: l.Ledger.Max.X - b.margin, Y: at}, size: l.small * 1.1, align: right, color: p.ink.text, bold: true, room: 12 * l.unit})
	}
}

// bar returns the middle and half the height of a row's bar.
func (b *book) bar(k int, top vg.Length) (y, half vg.Length) {
	if b.lines {
		return top - b.row*(vg.Length(k)+0.68), b.row * 0.18
	}
	return top - b.row*(vg.Length(k)+0.5), b.row * 0.26
}

// meanMark draws the mark of a mean: an upright stroke with the ground's colour round it.
func (p *pen) meanMark(at vg.Point, half vg.Length) {
	up := vg.Point{Y: half}
	p.line(0.9*p.l.unit, p.ink.ground, at.Sub(up), at.Add(up))
	p.line(0.4*p.l.unit, p.ink.accent, at.Sub(up), at.Add(up))
}

// ledgerBar draws a bar whose length is the power and whose pointed end is where it goes: right and down
// the ledger when positive, back to the supply when negative.
func (p *pen) ledgerBar(b *book, k int, top vg.Length, w float64, c color.Color) {
	y, h := b.bar(k, top)
	length := b.half * vg.Length(max(-1, min(1, share(w, p.scales.Power))))
	if w == 0 {
		return
	}
	if math.Abs(float64(length)) < 0.02*float64(b.half) {
		p.line(0.35*p.l.unit, c, vg.Point{X: b.axis, Y: y - h}, vg.Point{X: b.axis, Y: y + h})
		return
	}
	point := vg.Length(math.Copysign(float64(min(h, vg.Length(math.Abs(float64(length))))), float64(length)))
	x := b.axis
	p.shape(c, vg.Point{X: x, Y: y - h}, vg.Point{X: x + length - point, Y: y - h}, vg.Point{X: x + length, Y: y},
		vg.Point{X: x + length - point, Y: y + h}, vg.Point{X: x, Y: y + h})
}

// senseOf says in the trade's word which way power passes the shaft.
func senseOf(w *drive.Power) string {
	switch {
	case w.Shaft > 0:
		return "motoring"
	case w.Shaft < 0:
		return "generating"
	}
	return ""
}

// share returns x over full, or 0 where there is no full scale.
func share(x, full float64) float64 {
	if !(full > 0) {
		return 0
	}
	return finite(x) / full
}
