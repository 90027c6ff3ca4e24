package render

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"

	"sextant/inverter"
)

// loadStill draws a passive load at rest.
func (p *pen) loadStill(f frame) {
	for _, ph := range inverter.Phases {
		p.look(wirePart(ph))
		p.arm(f, ph, 0.22, p.ink.wire)
		at := polar(f.origin, armR*f.u, ph.Axis())
		p.disc(at, 1.6*f.u, p.ink.phase[ph])
		p.write(ph.String(), label{at: at, size: 2.2 * f.u, align: centre, color: p.ink.ground, bold: true})
	}
}

const armR = 13.6 // terminals of the load

// arm draws a phase of the load along its axis, from the star point to its terminal: an inductor (a filled bar,
// as IEC 60617 allows) and a resistor (a frame).
func (p *pen) arm(f frame, ph inverter.Phase, width vg.Length, c color.Color) {
	a := ph.Axis()
	p.line(width*f.u, c, f.origin, polar(f.origin, (armR-1.6)*f.u, a))
	p.bar(f, a, 4.4, 7.4, 0.95)
	p.fill(c)
	p.bar(f, a, 8.6, 11.6, 0.95)
	p.fill(p.ink.panel)
	p.stroke(max(0.3, width/2)*f.u, c)
}

// bar starts a path with a rectangle along the direction a, between two distances and a half-width.
func (p *pen) bar(f frame, a float64, from, to, half vg.Length) {
	p.start()
	side := a + math.Pi/2
	near, far := polar(f.origin, from*f.u, a), polar(f.origin, to*f.u, a)
	p.polygon(polar(near, half*f.u, side), polar(far, half*f.u, side), polar(far, -half*f.u, side), polar(near, -half*f.u, side))
}

// loadMoving lights each arm that carries current and shows its sense beside it.
func (p *pen) loadMoving(f frame) {
	for _, ph := range inverter.Phases {
		i := p.v.Now.Current[ph]
		w := reach(math.Abs(i), p.scales.Current, 1.1)
		if w < 0.03 {
			continue
		}
		p.look(wirePart(ph))
		p.arm(f, ph, max(w, 0.25), p.ink.phase[ph])
		from, to := p.beside(f, ph, 11.4), p.beside(f, ph, 7.4)
		if i < 0 {
			from, to = to, from
		}
		p.arrow(from, to, 0.55*f.u, p.ink.phase[ph])
	}
}

// beside returns a point two units to the left of an arm.
func (p *pen) beside(f frame, ph inverter.Phase, r vg.Length) vg.Point {
	return polar(polar(f.origin, r*f.u, ph.Axis()), 2.2*f.u, ph.Axis()+math.Pi/2)
}
