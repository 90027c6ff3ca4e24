package render

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"

	"sextant/inverter"
)

// device draws a switch at rest with its diode and its name. Shapes follow IEC 60617.
func (p *pen) device(f frame, s inverter.Switch) {
	x, y := deviceXY(s)
	p.look(diodePart(s))
	p.line(0.22*f.u, p.ink.wire, f.at(x, y+3), f.at(x+diodeX, y+3), f.at(x+diodeX, y-3), f.at(x, y-3))
	p.diode(f, s, 0.22, p.ink.wire)
	p.look(devicePart(s))
	p.gateLead(f, s, 0.22, p.ink.wire)
	if !p.bothWays() {
		p.start()
		p.trail(f.at(x, y+2.7), f.at(x, y+3))
		p.trail(f.at(x, y-2.7), f.at(x, y-3))
	} else {
		p.start()
		p.trail(f.at(x, y+1.5), f.at(x, y+3))
		p.trail(f.at(x, y-1.5), f.at(x, y-3))
	}
	p.stroke(0.22*f.u, p.ink.wire)
	p.transistor(f, s, 0.22, p.ink.wire)
	p.look(gatePart(s), devicePart(s), diodePart(s))
	name := label{at: f.at(x-6.3, y+2.9), size: 2.3 * f.u, align: centre, color: p.ink.text, bold: true}
	if p.v.Numbering != inverter.Names { // the number, and the name that the words use
		name.at = f.at(x-7.4, y+2.9)
		p.write(s.String(), label{at: f.at(x-6.2, y+2.9), size: 1.8 * f.u, color: p.ink.muted})
	}
	p.write(p.v.Numbering.Label(s), name)
}

// diode draws the symbol of the diode beside a switch, its cathode above.
func (p *pen) diode(f frame, s inverter.Switch, width vg.Length, c color.Color) {
	x, y := deviceXY(s)
	x += diodeX
	p.line(max(width, 0.4)*f.u, c, f.at(x-1.3, y+1.2), f.at(x+1.3, y+1.2))
	p.shape(c, f.at(x, y+1.2), f.at(x-1.3, y-1.1), f.at(x+1.3, y-1.1))
}

// gateLead draws the gate and the lead to it: in line with the source where there is one.
func (p *pen) gateLead(f frame, s inverter.Switch, width vg.Length, c color.Color) {
	x, y := deviceXY(s)
	p.start()
	p.trail(f.at(x-2.5, y-1.9), f.at(x-2.5, y+1.9))
	if p.bothWays() {
		p.trail(f.at(x-4.6, y), f.at(x-3.5, y), f.at(x-3.5, y-1.5), f.at(x-2.5, y-1.5))
	} else {
		p.trail(f.at(x-4.6, y), f.at(x-2.5, y))
	}
	p.stroke(width*f.u, c)
}

// transistor draws a switch's symbol without its gate: insulated-gate bipolar, its emitter's arrow outwards, or
// field-effect with an n channel of the enhancement kind, its substrate's arrow inwards.
func (p *pen) transistor(f frame, s inverter.Switch, width vg.Length, c color.Color) {
	x, y := deviceXY(s)
	bar := max(0.45, width*1.15) * f.u
	p.start()
	if p.bothWays() {
		for _, dy := range []vg.Length{-1.5, 0, 1.5} {
			p.trail(f.at(x-1.7, y+dy), f.at(x, y+dy))
		}
		p.trail(f.at(x, y), f.at(x, y-1.5))
		p.stroke(width*f.u, c)
		p.start()
		for _, dy := range []vg.Length{-1.5, 0, 1.5} {
			p.trail(f.at(x-1.7, y+dy-0.55), f.at(x-1.7, y+dy+0.55))
		}
		p.stroke(bar, c)
		p.shape(c, f.at(x-1.5, y), f.at(x-0.4, y+0.6), f.at(x-0.4, y-0.6))
		return
	}
	p.trail(f.at(x-1.6, y+0.9), f.at(x, y+2.3), f.at(x, y+2.7))
	p.trail(f.at(x-1.6, y-0.9), f.at(x, y-2.3), f.at(x, y-2.7))
	p.stroke(width*f.u, c)
	p.line(bar, c, f.at(x-1.6, y-2), f.at(x-1.6, y+2))
	// The arrowhead lies along the emitter, its tip 0.12 units before the end.
	const run, fall = -1.6, 1.4 // of the emitter, as seen from its end
	long := vg.Length(math.Hypot(run, fall))
	ahead := vg.Point{X: -run / long, Y: -fall / long}
	side := vg.Point{X: -ahead.Y, Y: ahead.X}.Scale((0.45 + width/2) * f.u)
	tip := f.at(x, y-2.3).Sub(ahead.Scale(0.12 * f.u))
	back := tip.Sub(ahead.Scale((0.9 + width) * f.u))
	p.shape(c, tip, back.Add(side), back.Sub(side))
}

// lamp draws the lamp of a gate's drive, glowing or dark.
func (p *pen) lamp(f frame, s inverter.Switch, lit bool) {
	x, y := deviceXY(s)
	at := f.at(x-8.85, y)
	if !lit {
		p.circle(at, 0.42*f.u, 0.18*f.u, p.ink.wire)
		return
	}
	p.disc(at, 0.85*f.u, faded(p.ink.accent, 0.25))
	p.disc(at, 0.46*f.u, p.ink.accent)
}

// gate draws a gate's drive: a filled plate that points at the gate when on, an empty frame when off.
func (p *pen) gate(f frame, s inverter.Switch, on bool) {
	x, y := deviceXY(s)
	if on {
		p.shape(p.ink.accent, f.at(x-8, y-1.35), f.at(x-5.7, y-1.35), f.at(x-4.3, y), f.at(x-5.7, y+1.35), f.at(x-8, y+1.35))
		p.write("on", label{at: f.at(x-6.5, y), size: 1.75 * f.u, align: centre, color: p.ink.ground, bold: true})
		p.gateLead(f, s, 0.5, p.ink.accent)
		p.lamp(f, s, true)
		return
	}
	p.lamp(f, s, false)
	p.start()
	p.box(f.rect(x-8, y-1.1, x-5.2, y+1.1))
	p.stroke(0.22*f.u, p.ink.wire)
	p.write("off", label{at: f.at(x-6.6, y), size: 1.75 * f.u, align: centre, color: p.ink.muted})
}
