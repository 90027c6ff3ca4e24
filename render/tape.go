package render

import (
	"image/color"

	"gonum.org/v1/plot/vg"

	"sextant/inverter"
	"sextant/motor/drive"
)

// shows reports whether the tape has a lane.
func (l *Layout) shows(lane Lane) bool { return l.Lanes[lane].Max.Y > l.Lanes[lane].Min.Y }

// row returns the rectangle of a lane's n-th row in the trace.
func (l *Layout) row(lane Lane, n int) vg.Rectangle {
	r := l.Lanes[lane]
	h := (r.Max.Y - r.Min.Y) / vg.Length(laneKinds[lane].rows())
	r.Max.Y -= h * vg.Length(n)
	r.Min.Y = r.Max.Y - h
	return r
}

// tapeStill draws lanes, their names and zero lines.
func (p *pen) tapeStill() {
	l, u := p.l, p.l.unit
	for lane, r := range l.Lanes {
		if !l.shows(Lane(lane)) {
			continue
		}
		k := &laneKinds[lane]
		p.look(Part{Kind: LanePart, Lane: Lane(lane)})
		p.fillRect(r, p.ink.panel)
		name := label{
			at:   vg.Point{X: l.Tape.Min.X + l.margin, Y: (r.Min.Y + r.Max.Y) / 2},
			size: l.small, color: p.ink.muted, room: l.Trace.Min.X - l.Tape.Min.X - l.margin - 3.6*u,
		}
		if len(k.strips) == 1 {
			name.room += 3 * u // no row names stand beside it
		}
		line := k.name
		if k.unit != "" {
			line += ", " + k.unit
		}
		if k.shared { // a key stands beside it
			name.room = l.Trace.Min.X - l.Tape.Min.X - l.margin - keyLength*u - l.keyGap(k) - 0.5*u
		}
		p.write(line, name)
		for n := range k.rows() {
			p.rowStill(Lane(lane), n)
		}
	}
}

// rowStill draws the name and the zero line of a row.
func (p *pen) rowStill(lane Lane, n int) {
	l, u := p.l, p.l.unit
	k, r := &laneKinds[lane], p.l.row(lane, n)
	p.lookRow(lane, n)
	size := min(l.small, 0.98*(r.Max.Y-r.Min.Y))
	name := label{
		at:   vg.Point{X: l.Trace.Min.X - 0.6*u, Y: (r.Min.Y + r.Max.Y) / 2},
		size: size, align: right, color: p.ink.text, bold: true, room: 3.2 * u,
	}
	if k.strips == nil {
		p.write(p.v.Numbering.Label(inverter.Switches[n]), name)
		return
	}
	p.start()
	y := level(k, r, 0, 1)
	p.trail(vg.Point{X: r.Min.X, Y: y}, vg.Point{X: r.Max.X, Y: y})
	p.stroke(0.1*u, p.ink.rule)
	if !k.shared {
		p.write(k.strips[n].name, name)
		return
	}
	for i, s := range k.strips { // a key: a piece of line in each one's style
		p.lookRow(lane, i)
		name.color = p.ink.text
		at := name
		at.at.Y = r.Max.Y - (r.Max.Y-r.Min.Y)*(vg.Length(i)+0.5)/vg.Length(len(k.strips))
		at.size = min(l.small, 0.3*(r.Max.Y-r.Min.Y))
		p.write(s.name, at)
		p.key(vg.Point{X: l.Trace.Min.X - keyLength*u - l.keyGap(k), Y: at.at.Y}, keyLength*u, &s)
	}
}

// keyLength is how long the pieces of line in a lane's key are, in small lengths.
const keyLength = 2.4

// keyGap returns how far a lane's key lies from the trace: as far as its longest name, or a usual one, needs.
func (l *Layout) keyGap(k *laneKind) vg.Length {
	gap := 2.5 * l.unit
	for _, s := range k.strips {
		gap = max(gap, bold().width(s.name, l.small)+1.1*l.unit)
	}
	return gap
}

// lookRow takes up the colours of the n-th row or strip of a lane.
func (p *pen) lookRow(lane Lane, n int) {
	whole := Part{Kind: LanePart, Lane: lane}
	switch k := &laneKinds[lane]; {
	case k.strips == nil:
		p.look(whole, gatePart(inverter.Switches[n]))
	case k.strips[n].line >= 0 && lane != LineLane:
		p.look(whole, wirePart(inverter.Phase(k.strips[n].line)))
	default:
		p.look(whole)
	}
}

// key draws a piece of a strip's line.
func (p *pen) key(at vg.Point, length vg.Length, s *strip) {
	p.start()
	if d := s.dash(); d == nil {
		p.trail(at, at.Add(vg.Point{X: length}))
	} else {
		unit := length / vg.Length(d[0]+d[1]+d[0]/2)
		if s.line == int(inverter.W) {
			unit = length / vg.Length(2*d[0]+2*d[1]+d[0])
		}
		for x := vg.Length(0); x < length; x += unit * vg.Length(d[0]+d[1]) {
			p.trail(at.Add(vg.Point{X: x}), at.Add(vg.Point{X: min(length, x+unit*vg.Length(d[0]))}))
		}
	}
	p.stroke(0.34*p.l.unit, p.inkOf(s))
}

// level returns the height of x in a row that full scale fills.
func level(k *laneKind, r vg.Rectangle, x, full float64) vg.Length {
	h := r.Max.Y - r.Min.Y
	share := 0.0
	if full > 0 {
		share = max(-1, min(1, finite(x)/full))
	}
	if k.signed {
		return r.Min.Y + h*(0.5+0.44*vg.Length(share))
	}
	return r.Min.Y + h*(0.14+0.72*vg.Length(share))
}

// tapeMoving draws the waveforms, the now-line, the readings at it and the time axis.
func (p *pen) tapeMoving() {
	l, u := p.l, p.l.unit
	w := l.window(p.v)
	for k, time := range p.v.cursors() {
		p.moments[k] = p.moment(time)
	}
	p.sample(w)
	p.steps(w)
	p.timeAxis(w)
	for lane := range lanes {
		switch {
		case !l.shows(lane):
		case laneKinds[lane].strips == nil:
			p.gateRows(w)
		default:
			p.waves(w, lane)
		}
	}
	p.background()
	for _, r := range l.Lanes {
		r.Min.X = l.Now
		if !empty(r) {
			p.fillRect(r, faded(p.ink.ground, 0.55))
		}
	}
	p.line(0.3*u, p.ink.accent, vg.Point{X: l.Now, Y: l.Trace.Min.Y - 0.3*u}, vg.Point{X: l.Now, Y: l.Trace.Max.Y})
	p.shape(p.ink.accent, vg.Point{X: l.Now, Y: l.Trace.Max.Y - 0.6*u},
		vg.Point{X: l.Now - 0.8*u, Y: l.Trace.Max.Y + 0.6*u}, vg.Point{X: l.Now + 0.8*u, Y: l.Trace.Max.Y + 0.6*u})
	p.cursorMarks(w)
	for lane := range lanes {
		if l.shows(lane) {
			p.laneReadings(lane)
		}
	}
}

// gateRows draws a bar wherever a gate is on.
func (p *pen) gateRows(w window) {
	for n, s := range inverter.Switches {
		p.start()
		r := p.l.row(GateLane, n)
		inset := (r.Max.Y - r.Min.Y) * 0.16
		r.Min.Y, r.Max.Y = r.Min.Y+inset, r.Max.Y-inset
		p.gateBars(w, s, r)
		p.lookRow(GateLane, n)
		p.fill(p.ink.phase[s.Leg()])
	}
}

// laneReadings writes a lane's values, right of the trace: at the now-line, and at the cursors.
func (p *pen) laneReadings(lane Lane) {
	l := p.l
	k := &laneKinds[lane]
	rows := k.rows()
	if k.shared {
		rows = len(k.strips)
	}
	for n := range rows {
		p.lookRow(lane, n)
		r := l.row(lane, n)
		if k.shared {
			r = l.Lanes[lane]
			h := (r.Max.Y - r.Min.Y) / vg.Length(rows)
			r.Max.Y -= h * vg.Length(n)
			r.Min.Y = r.Max.Y - h
		}
		for c, col := range l.columns() {
			a := label{
				at:   vg.Point{X: l.edge(c), Y: (r.Min.Y + r.Max.Y) / 2},
				size: min(l.small*1.1, 0.98*(r.Max.Y-r.Min.Y)), align: right, color: p.ink.text, bold: true,
				room: l.column() - 0.5*l.unit,
			}
			if k.strips == nil {
				s := inverter.Switches[n]
				on, known := p.gateReading(col, func(i *drive.Instant) bool { return i.Gates.Has(s) })
				switch {
				case on:
					p.write("on", a)
				case known:
					a.bold, a.color = false, p.ink.muted
					p.write("off", a)
				}
				continue
			}
			p.write(p.reading(col, k.strips[n].value, k.scale(&p.scales)), a)
		}
	}
}

// inkOf returns the colour of a strip's line.
func (p *pen) inkOf(s *strip) color.Color {
	switch s.line {
	case plain:
		return p.ink.text
	case other:
		return p.ink.field
	}
	return p.ink.phase[s.line]
}

// dash returns the dashes of a strip's line; nil is a whole one.
func (s *strip) dash() []float64 {
	switch s.line {
	case plain:
		return nil
	case other:
		return dashes[inverter.V]
	}
	return dashes[s.line]
}
