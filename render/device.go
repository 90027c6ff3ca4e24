package render

import (
	"gonum.org/v1/plot/vg"

	"sextant/inverter"
)

// device draws a switch's symbol at rest, insulated-gate bipolar or field-effect transistor, with its
// diode and its name. Shapes follow IEC 60617.
func (p *pen) device(f frame, s inverter.Switch) {
	p.look(diodePart(s))
	p.diode(f, s)
	p.look(devicePart(s))
	p.transistor(f, s)
	x, y := deviceXY(s)
	p.look(gatePart(s), devicePart(s), diodePart(s))
	name := label{at: f.at(x-6.3, y+2.9), size: 2.3 * f.u, align: centre, color: p.ink.text, bold: true}
	if p.v.Numbering != inverter.Names { // the number, and the name that the words use
		name.at = f.at(x-7.4, y+2.9)
		p.write(s.String(), label{at: f.at(x-6.2, y+2.9), size: 1.8 * f.u, color: p.ink.muted})
	}
	p.write(p.v.Numbering.Label(s), name)
}

// diode draws the diode beside a switch.
func (p *pen) diode(f frame, s inverter.Switch) {
	x, y := deviceXY(s)
	p.start()
	p.trail(f.at(x, y+3), f.at(x+diodeX, y+3), f.at(x+diodeX, y-3), f.at(x, y-3))
	p.trail(f.at(x+diodeX-1.3, y+1.2), f.at(x+diodeX+1.3, y+1.2)) // cathode
	p.stroke(0.22*f.u, p.ink.wire)
	p.shape(p.ink.wire, f.at(x+diodeX, y+1.2), f.at(x+diodeX-1.2, y-1), f.at(x+diodeX+1.2, y-1))
}

// transistor draws a switch's symbol.
func (p *pen) transistor(f frame, s inverter.Switch) {
	x, y := deviceXY(s)
	ink := p.ink.wire
	both := p.v.Scenario != nil && p.v.Scenario.Switches.BothWays
	p.start()
	p.trail(f.at(x-2.5, y-1.7), f.at(x-2.5, y+1.7)) // gate
	p.trail(f.at(x-4.6, y), f.at(x-2.5, y))
	if both {
		for _, dy := range []vg.Length{-1.5, 0, 1.5} {
			p.trail(f.at(x-1.7, y+dy), f.at(x, y+dy))
		}
		p.trail(f.at(x, y), f.at(x, y-3))
		p.trail(f.at(x, y+1.5), f.at(x, y+3))
	} else {
		p.trail(f.at(x-1.6, y+0.9), f.at(x, y+2.3), f.at(x, y+3))
		p.trail(f.at(x-1.6, y-0.9), f.at(x, y-2.3), f.at(x, y-3))
	}
	p.stroke(0.22*f.u, ink)
	p.start()
	if both {
		for _, dy := range []vg.Length{-1.5, 0, 1.5} {
			p.trail(f.at(x-1.7, y+dy-0.55), f.at(x-1.7, y+dy+0.55))
		}
	} else {
		p.trail(f.at(x-1.6, y-2), f.at(x-1.6, y+2))
	}
	p.stroke(0.45*f.u, ink)
	p.start()
	if both {
		p.polygon(f.at(x-1.5, y), f.at(x-0.5, y+0.5), f.at(x-0.5, y-0.5))
	} else {
		p.polygon(f.at(x-0.1, y-2.2), f.at(x-0.5, y-1.2), f.at(x-1.1, y-1.85))
	}
	p.fill(ink)
}

// gateBox returns where a switch's gate drive is drawn.
func gateBox(f frame, s inverter.Switch) vg.Rectangle {
	x, y := deviceXY(s)
	return f.rect(x-8, y-1.35, x-4.6, y+1.35)
}

// gate draws a gate's drive: a filled plate that points at the gate when on, an empty frame when off.
func (p *pen) gate(f frame, s inverter.Switch, on bool) {
	x, y := deviceXY(s)
	if on {
		p.shape(p.ink.accent, f.at(x-8, y-1.35), f.at(x-5.7, y-1.35), f.at(x-4.3, y), f.at(x-5.7, y+1.35), f.at(x-8, y+1.35))
		p.write("on", label{at: f.at(x-6.5, y), size: 1.75 * f.u, align: centre, color: p.ink.ground, bold: true})
		p.line(0.5*f.u, p.ink.accent, f.at(x-4.6, y), f.at(x-2.5, y))
		p.line(0.5*f.u, p.ink.accent, f.at(x-2.5, y-1.7), f.at(x-2.5, y+1.7))
		return
	}
	p.start()
	p.box(f.rect(x-8, y-1.1, x-5.2, y+1.1))
	p.stroke(0.22*f.u, p.ink.wire)
	p.write("off", label{at: f.at(x-6.6, y), size: 1.75 * f.u, align: centre, color: p.ink.muted})
}
