package render

import (
	"math"

	"gonum.org/v1/plot/vg"

	"sextant/inverter"
)

// At returns what lies at pt: the smallest thing there.
func (l *Layout) At(pt vg.Point) Part {
	switch {
	case inside(l.Bridge, pt):
		return l.bridgeAt(pt)
	case inside(l.Wheel, pt):
		return l.wheelAt(pt)
	case inside(l.Tape, pt):
		for lane, r := range l.Lanes {
			r.Min.X, r.Max.X = l.Tape.Min.X, l.Tape.Max.X
			if inside(r, pt) {
				return Part{Kind: LanePart, Lane: Lane(lane)}
			}
		}
		return Part{Kind: TapePart}
	case inside(l.Sentence, pt):
		return Part{Kind: SentencePart}
	case inside(l.Ledger, pt):
		for k := range ledgerRows {
			if part := (Part{Kind: LedgerPart, Row: k}); l.covers(part, pt) {
				return part
			}
		}
		return Part{Kind: LedgerPart, Row: -1}
	}
	return Part{}
}

func (l *Layout) bridgeAt(pt vg.Point) Part {
	for _, kind := range []PartKind{GatePart, DevicePart, DiodePart} {
		for _, s := range inverter.Switches {
			if part := (Part{Kind: kind, Switch: s}); l.covers(part, pt) {
				return part
			}
		}
	}
	for _, ph := range inverter.Phases {
		if part := (Part{Kind: WirePart, Phase: ph}); l.covers(part, pt) {
			return part
		}
	}
	for _, kind := range []PartKind{SupplyPart, LinkPart} {
		if part := (Part{Kind: kind}); l.covers(part, pt) {
			return part
		}
	}
	return Part{Kind: BridgePart}
}

func (l *Layout) wheelAt(pt vg.Point) Part {
	f := wheelFrame(l)
	d := pt.Sub(f.origin)
	if math.Hypot(float64(d.X), float64(d.Y)) < float64(boreR*f.u) {
		return Part{Kind: RotorPart}
	}
	for k := range inverter.Active {
		if part := (Part{Kind: CornerPart, Corner: k}); l.covers(part, pt) {
			return part
		}
	}
	if math.Hypot(float64(d.X), float64(d.Y)) < float64(statorR*f.u) {
		return Part{Kind: StatorPart}
	}
	return Part{Kind: WheelPart}
}

func (l *Layout) covers(part Part, pt vg.Point) bool {
	r, ok := l.Where(part)
	return ok && inside(r, pt)
}

// Where returns a rectangle round a part that can be pointed at; false for those that are ground to others.
func (l *Layout) Where(part Part) (vg.Rectangle, bool) {
	f, g := bridgeFrame(l), wheelFrame(l)
	x, y := vg.Length(0), vg.Length(0)
	if part.Switch <= inverter.WLow {
		x, y = deviceXY(part.Switch)
	}
	switch part.Kind {
	case GatePart, DevicePart, DiodePart, WirePart, SupplyPart, LinkPart:
		if empty(l.Bridge) {
			return vg.Rectangle{}, false
		}
	case RotorPart, StatorPart, CornerPart:
		if empty(l.Wheel) {
			return vg.Rectangle{}, false
		}
	}
	switch part.Kind {
	case GatePart:
		return f.rect(x-8.6, y-2, x-3.6, y+4.4), true
	case DevicePart:
		return f.rect(x-3.4, y-3.1, x+1, y+3.4), true
	case DiodePart:
		return f.rect(x+diodeX-1.8, y-3.4, x+diodeX+1.5, y+3.4), true
	case WirePart:
		y := wireY(part.Phase)
		return f.rect(legX(inverter.W)+1, y-1.5, terminalX+1.9, y+2.3), true
	case SupplyPart:
		return f.rect(sourceX-5, sourceY-5.6, sourceX+4.5, sourceY+5.6), true
	case LinkPart:
		return f.rect(linkX-3.2, sourceY-3, linkX+3.2, sourceY+3), true
	case RotorPart:
		return g.rect(-boreR, -boreR, boreR, boreR), true
	case StatorPart:
		return g.rect(-statorR, -statorR, statorR, statorR), true
	case CornerPart:
		at := polar(g.origin, hexagonR*g.u, cornerAngle(part.Corner))
		r := vg.Point{X: 2.2 * g.u, Y: 2.2 * g.u}
		return vg.Rectangle{Min: at.Sub(r), Max: at.Add(r)}, true
	case LanePart:
		if part.Lane < lanes && l.shows(part.Lane) {
			return l.Lanes[part.Lane], true
		}
	case LedgerPart:
		if part.Row >= 0 && part.Row < len(ledgerRows) && !empty(l.Ledger) {
			b := l.book()
			return b.frame(part.Row), true
		}
	}
	return vg.Rectangle{}, false
}

// Parts lists what can be pointed at and has a place in l, in the order in which a key goes round.
func (l *Layout) Parts() (all []Part) {
	add := func(p Part) {
		if _, ok := l.Where(p); ok {
			all = append(all, p)
		}
	}
	add(Part{Kind: SupplyPart})
	add(Part{Kind: LinkPart})
	for _, s := range inverter.Switches {
		add(Part{Kind: GatePart, Switch: s})
		add(Part{Kind: DevicePart, Switch: s})
		add(Part{Kind: DiodePart, Switch: s})
	}
	for _, ph := range inverter.Phases {
		add(Part{Kind: WirePart, Phase: ph})
	}
	add(Part{Kind: RotorPart})
	add(Part{Kind: StatorPart})
	for k := range inverter.Active {
		add(Part{Kind: CornerPart, Corner: k})
	}
	for lane := range lanes {
		add(Part{Kind: LanePart, Lane: lane})
	}
	for k := range ledgerRows {
		add(Part{Kind: LedgerPart, Row: k})
	}
	return all
}

// Bearing returns the direction, in rad, in which pt lies as seen from the middle of the machine.
func (l *Layout) Bearing(pt vg.Point) float64 {
	d := pt.Sub(wheelFrame(l).origin)
	return math.Atan2(float64(d.Y), float64(d.X))
}

func inside(r vg.Rectangle, p vg.Point) bool {
	return p.X >= r.Min.X && p.X < r.Max.X && p.Y >= r.Min.Y && p.Y < r.Max.Y
}
