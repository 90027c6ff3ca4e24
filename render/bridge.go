package render

import (
	"gonum.org/v1/plot/vg"

	"sextant/inverter"
)

// The bridge is drawn 80 by 42 units large, positive rail above.
const (
	bridgeWidth, bridgeHeight = 80, 42

	railTop, railBottom = 36, 5.5
	sourceX, linkX      = 8, 18 // battery and link capacitor
	sourceY             = 20.5
	terminalX           = 78
)

func bridgeFrame(l *Layout) frame { return within(l.Bridge, bridgeWidth, bridgeHeight) }

func legX(p inverter.Phase) vg.Length { return 31 + 15.5*vg.Length(p) }

// wireY is the height at which a phase's wire leaves for the machine.
func wireY(p inverter.Phase) vg.Length { return 24.3 - 3.8*vg.Length(p) }

// deviceXY is the middle of a switch's symbol; its diode stands diodeX to the right of it.
func deviceXY(s inverter.Switch) (x, y vg.Length) {
	if s.High() {
		return legX(s.Leg()), 30.6
	}
	return legX(s.Leg()), 10.9
}

const diodeX = 4.2

// bridgeStill draws the bridge at rest.
func (p *pen) bridgeStill() {
	f := bridgeFrame(p.l)
	thin := 0.22 * f.u
	p.start()
	for _, y := range []vg.Length{railTop, railBottom} {
		p.trail(f.at(sourceX, y), f.at(legX(inverter.W), y))
	}
	p.trail(f.at(sourceX, railTop), f.at(sourceX, sourceY+2.1))
	p.trail(f.at(sourceX, railBottom), f.at(sourceX, sourceY-2.1))
	if p.hasCapacitor() {
		p.trail(f.at(linkX, railTop), f.at(linkX, sourceY+0.7))
		p.trail(f.at(linkX, railBottom), f.at(linkX, sourceY-0.7))
	}
	for _, s := range inverter.Switches {
		x, y := deviceXY(s)
		end, outer := wireY(s.Leg()), vg.Length(railTop)
		if !s.High() {
			outer = railBottom
		}
		if s.High() {
			p.trail(f.at(x, end), f.at(x, y-3))
			p.trail(f.at(x, y+3), f.at(x, outer))
		} else {
			p.trail(f.at(x, end), f.at(x, y+3))
			p.trail(f.at(x, y-3), f.at(x, outer))
		}
	}
	p.stroke(thin, p.ink.wire)
	p.source(f)
	p.background()
	for _, s := range inverter.Switches {
		p.device(f, s)
	}
	for _, ph := range inverter.Phases {
		p.look(wirePart(ph))
		at := f.at(terminalX, wireY(ph))
		p.disc(at, 1.6*f.u, p.ink.phase[ph])
		p.write(ph.String(), label{at: at, size: 2.2 * f.u, align: centre, color: p.ink.ground, bold: true})
	}
}

// crossings clears the ground around the phases' wires where they pass over other legs.
func (p *pen) crossings(f frame) {
	p.start()
	for _, ph := range []inverter.Phase{inverter.U, inverter.V} {
		for over := ph + 1; over <= inverter.W; over++ {
			p.trail(f.at(legX(over)-1, wireY(ph)), f.at(legX(over)+1, wireY(ph)))
		}
	}
	p.stroke(1.9*f.u, p.ink.ground)
}

func (p *pen) hasCapacitor() bool {
	return p.v.Scenario != nil && p.v.Scenario.Supply.Capacitance > 0
}

// source draws the battery, long plates positive, and the link capacitor.
func (p *pen) source(f frame) {
	p.look(Part{Kind: SupplyPart})
	p.start()
	for _, y := range []vg.Length{2.1, -0.7} {
		p.trail(f.at(sourceX-3, sourceY+y), f.at(sourceX+3, sourceY+y))
	}
	p.stroke(0.35*f.u, p.ink.text)
	p.start()
	for _, y := range []vg.Length{0.7, -2.1} {
		p.trail(f.at(sourceX-1.5, sourceY+y), f.at(sourceX+1.5, sourceY+y))
	}
	p.stroke(0.8*f.u, p.ink.text)
	p.write("+", label{at: f.at(sourceX-3, sourceY+4.2), size: 2.6 * f.u, align: centre, color: p.ink.text, bold: true})
	p.write("-", label{at: f.at(sourceX-3, sourceY-4.2), size: 2.6 * f.u, align: centre, color: p.ink.text, bold: true})
	if p.hasCapacitor() {
		p.look(Part{Kind: LinkPart})
		p.start()
		for _, y := range []vg.Length{0.7, -0.7} {
			p.trail(f.at(linkX-2.6, sourceY+y), f.at(linkX+2.6, sourceY+y))
		}
		p.stroke(0.5*f.u, p.ink.text)
	}
}

// bothWays reports whether the switches are drawn as MOSFETs, whose channels conduct both ways.
func (p *pen) bothWays() bool { return p.v.Scenario != nil && p.v.Scenario.Switches.BothWays }

// bridgeMoving draws gates, conducting paths, beads, arrows and readings.
func (p *pen) bridgeMoving() {
	f := bridgeFrame(p.l)
	now := &p.v.Now
	p.rest(f)
	for _, s := range inverter.Switches {
		p.look(gatePart(s))
		p.gate(f, s, now.Gates.Has(s))
	}
	p.warmth(f)
	p.conduct(f)
	p.look(Part{Kind: SupplyPart})
	p.supplyArrow(f)
	p.write(steady(now.Link, p.scales.Voltage, "V"), label{at: f.at(sourceX+1.2, sourceY-8), size: 2.4 * f.u, color: p.ink.text, bold: true, room: 8 * f.u})
	for _, ph := range inverter.Phases {
		p.look(wirePart(ph))
		p.write(steady(now.Pole[ph], p.scales.Voltage, "V"), label{
			at: f.at(legX(ph)-1, 25.85), size: 1.9 * f.u, align: right, color: p.ink.text, room: 8.4 * f.u,
		})
		p.phaseArrow(f, ph)
	}
	p.bright()
	p.broken(f)
	p.background()
}

// supplyArrow draws the arrow above the positive rail that turns round when the supply is charged.
func (p *pen) supplyArrow(f frame) {
	now := &p.v.Now
	tail, tip := f.at(sourceX+1, railTop+2.6), f.at(sourceX+11, railTop+2.6)
	switch c := p.ink.accent; {
	case now.Power.Supply > 0:
		p.arrow(tail, tip, 0.75*f.u, c)
	case now.Power.Supply < 0:
		p.arrow(tip, tail, 0.75*f.u, c)
	default:
		p.line(0.3*f.u, p.ink.muted, tail, tip)
	}
	p.write("supply "+steady(now.Supply, p.scales.Supply, "A"), label{
		at: f.at(sourceX+12.5, railTop+2.6), size: 2.2 * f.u, color: p.ink.text, bold: true, room: 20 * f.u,
	})
}

// phaseArrow draws the sense of a phase's current on its wire and the current above it.
func (p *pen) phaseArrow(f frame, ph inverter.Phase) {
	i, y := p.v.Now.Current[ph], wireY(ph)
	tail, tip := f.at(63.7, y), f.at(66.9, y)
	if i < 0 {
		tail, tip = tip, tail
	}
	if size(i) > p.least() {
		p.arrow(tail, tip, 0.95*f.u, p.ink.text)
	}
	p.write(steady(i, p.scales.Current, "A"), label{
		at: f.at(terminalX-2, y+1.75), size: 2 * f.u, align: right, color: p.ink.text, bold: true, room: 8.6 * f.u,
	})
}
