package render

import "gonum.org/v1/plot/vg"

// Draw draws the stage on c as l lays it out: all of it, background too.
func Draw(c vg.Canvas, l Layout, v *View) {
	DrawStill(c, l, v)
	DrawMoving(c, l, v)
}

// DrawStill draws what stays the same while time runs: ground, wires, symbols, labels. It depends on l
// and on v's Scenario, Numbering, Theme, Bare and Emphasis only, so a window may keep its picture until one changes.
func DrawStill(c vg.Canvas, l Layout, v *View) {
	p := newPen(c, &l, v)
	defer p.lift()
	if !v.Bare {
		p.fillRect(l.Area, p.ink.ground)
	}
	if !empty(l.Sentence) {
		p.bandStill()
	}
	p.background()
	p.parts((*pen).bridgeStill, (*pen).wheelStill, (*pen).tapeStill, (*pen).ledgerStill)
}

// DrawMoving draws on top of [DrawStill]'s picture what changes with time.
func DrawMoving(c vg.Canvas, l Layout, v *View) {
	p := newPen(c, &l, v)
	defer p.lift()
	p.scales = v.Scales.or(&v.Now, v.Tape)
	if !empty(l.Sentence) {
		p.bandMoving()
	}
	p.background()
	p.parts((*pen).bridgeMoving, (*pen).wheelMoving, (*pen).tapeMoving, (*pen).ledgerMoving)
	p.bright()
	p.frame(v.Emphasis, 0.45)
	if v.Hover != v.Emphasis {
		p.frame(v.Hover, 0.3)
	}
}

// parts draws those parts that the layout has room for.
func (p *pen) parts(bridge, wheel, tape, ledger func(*pen)) {
	if !empty(p.l.Bridge) {
		bridge(p)
	}
	if !empty(p.l.Wheel) {
		wheel(p)
	}
	if !empty(p.l.Tape) {
		tape(p)
	}
	if !empty(p.l.Ledger) {
		ledger(p)
	}
}

func empty(r vg.Rectangle) bool { return r.Max.X <= r.Min.X || r.Max.Y <= r.Min.Y }

// frame draws a frame of a width, in small lengths, round a part: a ring round what is round.
func (p *pen) frame(part Part, width vg.Length) {
	r, ok := p.l.Where(part)
	if !ok {
		return
	}
	const clear, corner = 0.45, 1
	r.Min.X -= clear * p.l.unit
	r.Min.Y -= clear * p.l.unit
	r.Max.X += clear * p.l.unit
	r.Max.Y += clear * p.l.unit
	p.start()
	if part.Kind == RotorPart || part.Kind == StatorPart || part.Kind == CornerPart {
		p.ring(r.Min.Add(r.Max).Scale(0.5), (r.Max.X-r.Min.X)/2)
	} else {
		p.rounded(r, corner*p.l.unit)
	}
	p.stroke(width*p.l.unit, p.ink.accent)
}
