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
				c = mix(c, p.ink.ground, resting)
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

// carryBeads draws the beads of w along the path, straight pieces: small heads that taper in the sense of the
// current, as far along as the view's beads are. Of the beads every fourth is always there, those between grow
// with the current, so that more current is more beads and none jumps. They grow and shrink at the wire's ends.
func (p *pen) carryBeads(f frame, w wire) {
	const spacing = 2.3
	gap := spacing * f.u
	side := 0.4 * p.thickness(f, w)
	offset := p.v.Beads.offset[w]
	first := math.Floor(offset)
	next := vg.Length(offset-first) * gap // of the next bead, from the piece's start
	k := beadCycle - int(first)
	sense := vg.Length(1)
	if wireCurrent(w, &p.v.Now) < 0 {
		sense = -1
	}
	strength := p.strength(w)
	whole, passed := extent(p.path), vg.Length(0)
	p.beads = p.beads[:0]
	for i := 1; i < len(p.path); i++ {
		a, b := p.path[i-1].Pos, p.path[i].Pos
		length := apart(a, b)
		if length <= 0 {
			continue
		}
		along := b.Sub(a).Scale(1 / length)
		for ; next < length; next, k = next+gap, k+1 {
			d := passed + next
			size := beadSize(k, strength) * min(1, d/f.u, (whole-d)/f.u)
			if size > 0.2 && p.path[i].Type != vg.MoveComp {
				p.bead(a.Add(along.Scale(next)), along.Scale(sense), size*f.u, size*side)
			}
		}
		next -= length
		passed += length
	}
	p.SetColor(p.ink.ground)
	p.Fill(p.beads)
}

// bead adds a bead to the beads: a head with a notched back, its middle at a point.
func (p *pen) bead(at, ahead vg.Point, long, half vg.Length) {
	across := vg.Point{X: -ahead.Y, Y: ahead.X}.Scale(half)
	back := at.Sub(ahead.Scale(0.65 * long))
	p.beads.Move(at.Add(ahead.Scale(0.75 * long)))
	p.beads.Line(back.Add(across))
	p.beads.Line(at.Sub(ahead.Scale(0.35 * long)))
	p.beads.Line(back.Sub(across))
	p.beads.Close()
}

// extent returns how long a path of straight pieces is, from its first point to its last.
func extent(path vg.Path) vg.Length {
	sum := vg.Length(0)
	for i := 1; i < len(path); i++ {
		sum += apart(path[i-1].Pos, path[i].Pos)
	}
	return sum
}

// apart returns how far apart two points are.
func apart(a, b vg.Point) vg.Length { return vg.Length(math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y))) }

// beadSize returns how large the k-th bead is, 0 to 1, where the current is a share of the full scale.
func beadSize(k int, strength float64) vg.Length {
	grown := func(from, to float64) vg.Length { return vg.Length(max(0, min(1, (strength-from)/(to-from)))) }
	switch k % beadCycle {
	case 0:
		return 0.6 + 0.4*grown(0, 0.2)
	case 2:
		return grown(0.08, 0.25)
	}
	return grown(0.3, 0.55)
}
