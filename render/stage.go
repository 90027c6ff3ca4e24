package render

import "gonum.org/v1/plot/vg"

// Draw draws the stage on c as l lays it out: all of it, background too.
func Draw(c vg.Canvas, l Layout, v *View) {
	DrawStill(c, l, v)
	DrawMoving(c, l, v)
}

// DrawStill draws what stays the same while time runs: ground, wires, symbols, labels. It depends on l
// and on v's Scenario, Numbering and Theme only, so a window may keep its picture until one changes.
func DrawStill(c vg.Canvas, l Layout, v *View) {
	p := newPen(c, &l, v)
	defer p.lift()
	p.fillRect(l.Area, p.ink.ground)
	p.bandStill()
	parts(p.l, p.bridgeStill, p.wheelStill, p.tapeStill, p.ledgerStill)
}

// DrawMoving draws on top of [DrawStill]'s picture what changes with time.
func DrawMoving(c vg.Canvas, l Layout, v *View) {
	p := newPen(c, &l, v)
	defer p.lift()
	p.scales = v.Scales.or(&v.Now, v.Tape)
	p.bandMoving()
	parts(p.l, p.bridgeMoving, p.wheelMoving, p.tapeMoving, p.ledgerMoving)
	p.hover()
}

// parts draws those parts that l has room for.
func parts(l *Layout, bridge, wheel, tape, ledger func()) {
	for k, r := range [...]vg.Rectangle{l.Bridge, l.Wheel, l.Tape, l.Ledger} {
		if !empty(r) {
			[...]func(){bridge, wheel, tape, ledger}[k]()
		}
	}
}

func empty(r vg.Rectangle) bool { return r.Max.X <= r.Min.X || r.Max.Y <= r.Min.Y }

// hover frames the part that is pointed at.
func (p *pen) hover() {
	r, ok := p.l.Where(p.v.Hover)
	if !ok {
		return
	}
	p.start()
	p.box(r)
	p.stroke(0.3*p.l.unit, p.ink.accent)
}
