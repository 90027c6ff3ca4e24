package render

import (
	"math"

	"gonum.org/v1/plot/vg"

	"sextant/inverter"
)

// conduct draws the wires that carry current, thick, and the beads in them.
func (p *pen) conduct(f frame) {
	now := &p.v.Now
	least := p.least()
	p.beads = p.beads[:0]
	p.start()
	for w := range terminal {
		if w < upperBranch && math.Abs(wireCurrent(w, now)) > least {
			p.carry(f, w)
		}
	}
	if p.hasCapacitor() && math.Abs(wireCurrent(capacitor, now)) > least {
		p.carry(f, capacitor)
	}
	p.background()
	p.stroke(0.9*f.u, p.ink.text)
	for _, ph := range inverter.Phases {
		if math.Abs(now.Current[ph]) <= least {
			continue
		}
		p.start()
		s, way := inverter.High(ph), now.Ways[ph]
		switch {
		case way.Upper():
			p.carry(f, upperBranch+wire(ph))
		case way.Lower():
			s = inverter.Low(ph)
			p.carry(f, lowerBranch+wire(ph))
		}
		if way.Diode() {
			p.look(diodePart(s))
		} else {
			p.look(devicePart(s))
		}
		p.stroke(1.05*f.u, p.ink.phase[ph])
	}
	p.crossings(f)
	for _, ph := range inverter.Phases {
		p.look(wirePart(ph))
		p.start()
		p.trail(f.at(legX(ph), wireY(ph)), f.at(terminalX-1.6, wireY(ph)))
		if math.Abs(now.Current[ph]) <= least {
			p.stroke(0.22*f.u, p.ink.wire)
			continue
		}
		p.carryBeads(f, terminal+wire(ph), p.path)
		p.stroke(1.05*f.u, p.ink.phase[ph])
	}
	p.SetColor(p.ink.ground)
	p.Fill(p.beads)
	p.background()
	p.start()
	for _, ph := range inverter.Phases {
		p.ring(f.at(legX(ph), wireY(ph)), 0.8*f.u)
	}
	p.fill(p.ink.text)
}

// least is the current in A that is drawn as none.
func (p *pen) least() float64 { return 2e-3 * p.scales.Current }

// carry adds w to the path and its beads to the beads.
func (p *pen) carry(f frame, w wire) {
	from := len(p.path)
	switch {
	case w == sourceTop:
		p.trail(f.at(sourceX, sourceY+2.1), f.at(sourceX, railTop), f.at(linkX, railTop))
	case w == sourceBottom:
		p.trail(f.at(linkX, railBottom), f.at(sourceX, railBottom), f.at(sourceX, sourceY-2.1))
	case w < bottomRail:
		ph := inverter.Phase(w - topRail)
		p.trail(f.at(inner(ph), railTop), f.at(legX(ph), railTop))
	case w < upperBranch:
		ph := inverter.Phase(w - bottomRail)
		p.trail(f.at(legX(ph), railBottom), f.at(inner(ph), railBottom))
	case w < lowerBranch:
		p.branch(f, inverter.High(inverter.Phase(w-upperBranch)))
	case w < terminal:
		p.branch(f, inverter.Low(inverter.Phase(w-lowerBranch)))
	case w == capacitor:
		p.trail(f.at(linkX, railTop), f.at(linkX, sourceY+0.7))
		p.carryBeads(f, w, p.path[from:])
		from = len(p.path)
		p.trail(f.at(linkX, sourceY-0.7), f.at(linkX, railBottom))
	}
	p.carryBeads(f, w, p.path[from:])
}

// inner is where the rail's stretch to a leg begins.
func inner(ph inverter.Phase) vg.Length {
	if ph == inverter.U {
		return linkX
	}
	return legX(ph - 1)
}

// branch adds the way that current takes through a leg by s or its diode: from rail to terminal above, from
// terminal to rail below.
func (p *pen) branch(f frame, s inverter.Switch) {
	ph := s.Leg()
	x, y := deviceXY(s)
	top, bottom := vg.Length(railTop), wireY(ph)
	if !s.High() {
		top, bottom = wireY(ph), railBottom
	}
	switch {
	case p.v.Now.Ways[ph].Diode():
		p.trail(f.at(x, top), f.at(x, y+3), f.at(x+diodeX, y+3), f.at(x+diodeX, y-3), f.at(x, y-3), f.at(x, bottom))
	case p.v.Scenario != nil && p.v.Scenario.Switches.BothWays:
		p.trail(f.at(x, top), f.at(x, y+1.5), f.at(x-1.7, y+1.5), f.at(x-1.7, y-1.5), f.at(x, y-1.5), f.at(x, bottom))
	default:
		p.trail(f.at(x, top), f.at(x, y+2.3), f.at(x-1.6, y+0.9), f.at(x-1.6, y-0.9), f.at(x, y-2.3), f.at(x, bottom))
	}
}

// carryBeads adds the beads of w along a line of straight pieces: small arrowheads in the sense of the
// current, as far along as the view's beads are.
func (p *pen) carryBeads(f frame, w wire, line vg.Path) {
	const spacing, size = 3.1, 0.75
	sense := vg.Length(1)
	if wireCurrent(w, &p.v.Now) < 0 {
		sense = -1
	}
	gap := spacing * f.u
	next := vg.Length(p.v.Beads.offset[w]) * gap // of the next bead, from the piece's start
	for i := 1; i < len(line); i++ {
		a, b := line[i-1].Pos, line[i].Pos
		along := b.Sub(a)
		length := vg.Length(math.Hypot(float64(along.X), float64(along.Y)))
		if length <= 0 {
			continue
		}
		along = along.Scale(1 / length)
		ahead := along.Scale(sense * size * f.u)
		side := vg.Point{X: -along.Y, Y: along.X}.Scale(size / 1.7 * f.u)
		for ; next < length; next += gap {
			at := a.Add(along.Scale(next))
			back := at.Sub(ahead.Scale(0.6))
			p.beads.Move(at.Add(ahead))
			p.beads.Line(back.Add(side))
			p.beads.Line(back.Sub(side))
			p.beads.Close()
		}
		next -= length
	}
}
