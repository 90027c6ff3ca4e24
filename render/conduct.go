package render

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"

	"sextant/inverter"
)

// conduct draws the wires that carry current, the thicker the more, and the beads in them.
func (p *pen) conduct(f frame) {
	now := &p.v.Now
	p.background()
	for w := range terminal {
		if w < upperBranch {
			p.carry(f, w, p.ink.text)
		}
	}
	if p.hasCapacitor() {
		p.carry(f, capacitor, p.ink.text)
	}
	for _, ph := range inverter.Phases {
		if !p.carries(terminal + wire(ph)) {
			continue
		}
		switch way := now.Ways[ph]; {
		case way.Upper():
			p.carryLeg(f, inverter.High(ph))
		case way.Lower():
			p.carryLeg(f, inverter.Low(ph))
		}
	}
	p.background()
	p.crossings(f) // the phases' wires, carrying or not, are drawn over them here alone
	for _, ph := range inverter.Phases {
		p.look(wirePart(ph))
		if !p.carries(terminal + wire(ph)) {
			c := p.ink.wire
			if now.Ways[ph] == inverter.Idle {
				c = Mix(c, p.ink.ground, resting)
			}
			p.line(0.22*f.u, c, f.at(legX(ph), wireY(ph)), f.at(terminalX-1.6, wireY(ph)))
			continue
		}
		p.carry(f, terminal+wire(ph), p.ink.phase[ph])
	}
	p.background()
	p.nodes(f)
}

// nodes draws the joints of the wires that carry current, and the legs' terminals: hollow where a leg rests.
func (p *pen) nodes(f frame) {
	now := &p.v.Now
	for _, ph := range inverter.Phases {
		at := f.at(legX(ph), wireY(ph))
		if now.Ways[ph] == inverter.Idle {
			p.disc(at, 0.75*f.u, p.ink.ground)
			p.circle(at, 0.65*f.u, 0.2*f.u, p.ink.wire)
			continue
		}
		p.disc(at, 0.8*f.u, p.ink.text)
		switch {
		case !p.carries(terminal + wire(ph)):
		case now.Ways[ph].Upper():
			p.disc(f.at(legX(ph), railTop), 0.7*f.u, p.ink.text)
		case now.Ways[ph].Lower():
			p.disc(f.at(legX(ph), railBottom), 0.7*f.u, p.ink.text)
		}
	}
}

// resting is how far towards the ground a leg is drawn that carries nothing.
const resting = 0.55

// rest pales the legs that carry nothing.
func (p *pen) rest(f frame) {
	for _, ph := range inverter.Phases {
		if p.v.Now.Ways[ph] != inverter.Idle || p.carries(terminal+wire(ph)) {
			continue
		}
		x := legX(ph)
		p.fillRect(f.rect(x-3.4, railBottom+0.3, x+diodeX+1.7, railTop-0.3), faded(p.ink.ground, resting))
	}
}

// least is the current in A that is drawn as none.
func (p *pen) least() float64 { return 2e-3 * p.scales.Current }

// carries reports whether a wire carries a current that is drawn.
func (p *pen) carries(w wire) bool { return math.Abs(wireCurrent(w, &p.v.Now)) > p.least() }

// strength returns a wire's current as a share of the full scale, at most 1.
func (p *pen) strength(w wire) float64 {
	return min(math.Abs(share(wireCurrent(w, &p.v.Now), p.scales.Current)), 1)
}

// thickness returns how thick a wire is drawn that carries current.
func (p *pen) thickness(f frame, w wire) vg.Length {
	return vg.Length(0.5+0.6*p.strength(w)) * f.u
}

// carry draws w and its beads where it carries current.
func (p *pen) carry(f frame, w wire, c color.Color) {
	if !p.carries(w) {
		return
	}
	const lap = 0.15 // by which stretches of a rail overlap, so that no seam shows
	p.start()
	switch {
	case w == sourceTop:
		p.trail(f.at(sourceX, sourceY+2.1), f.at(sourceX, railTop), f.at(linkX, railTop))
	case w == sourceBottom:
		p.trail(f.at(linkX, railBottom), f.at(sourceX, railBottom), f.at(sourceX, sourceY-2.1))
	case w < bottomRail:
		ph := inverter.Phase(w - topRail)
		p.trail(f.at(inner(ph)-lap, railTop), f.at(legX(ph), railTop))
	case w < upperBranch:
		ph := inverter.Phase(w - bottomRail)
		p.trail(f.at(legX(ph), railBottom), f.at(inner(ph)-lap, railBottom))
	case w >= terminal && w < capacitor:
		ph := inverter.Phase(w - terminal)
		p.trail(f.at(legX(ph), wireY(ph)), f.at(terminalX-1.6, wireY(ph)))
	case w == capacitor:
		p.trail(f.at(linkX, railTop), f.at(linkX, sourceY+0.7))
		p.trail(f.at(linkX, sourceY-0.7), f.at(linkX, railBottom))
	}
	p.stroke(p.thickness(f, w), c)
	p.carryBeads(f, w)
}

// inner is where the rail's stretch to a leg begins.
func inner(ph inverter.Phase) vg.Length {
	if ph == inverter.U {
		return linkX
	}
	return legX(ph - 1)
}

// carryLeg draws the way that current takes through a leg by s or its diode: the wires to and from the symbol, and
// the symbol lit.
func (p *pen) carryLeg(f frame, s inverter.Switch) {
	ph := s.Leg()
	x, y := deviceXY(s)
	w, top, bottom := upperBranch+wire(ph), vg.Length(railTop), wireY(ph)
	if !s.High() {
		w, top, bottom = lowerBranch+wire(ph), wireY(ph), railBottom
	}
	p.start()
	if p.v.Now.Ways[ph].Diode() {
		p.look(diodePart(s))
		p.trail(f.at(x, top), f.at(x, y+3), f.at(x+diodeX, y+3), f.at(x+diodeX, y+1.2))
		p.trail(f.at(x+diodeX, y-1), f.at(x+diodeX, y-3), f.at(x, y-3), f.at(x, bottom))
	} else {
		p.look(devicePart(s))
		end := vg.Length(2.7)
		if p.bothWays() {
			end = 1.5
		}
		p.trail(f.at(x, top), f.at(x, y+end))
		p.trail(f.at(x, y-end), f.at(x, bottom))
	}
	c := p.ink.phase[ph]
	p.stroke(p.thickness(f, w), c)
	p.carryBeads(f, w)
	if p.v.Now.Ways[ph].Diode() {
		p.diode(f, s, 0.6, c)
	} else {
		p.transistor(f, s, 0.6, c)
	}
}
