package render

import (
	"math"

	"gonum.org/v1/plot/vg"

	"sextant/inverter"
)

// loadStill draws a passive load as a star whose arms lie along the phases' axes: a resistor (a frame) and
// an inductor (a filled bar, as IEC 60617 allows) in each.
func (p *pen) loadStill(f frame) {
	for _, ph := range inverter.Phases {
		a := ph.Axis()
		p.line(0.22*f.u, p.ink.wire, polar(f.origin, 3*f.u, a), polar(f.origin, 12.8*f.u, a))
		p.bar(f, a, 4.2, 7, 0.9)
		p.fill(p.ink.wire)
		p.bar(f, a, 8.2, 11, 0.9)
		p.fill(p.ink.panel)
		p.stroke(0.3*f.u, p.ink.wire)
		at := polar(f.origin, 13.2*f.u, a)
		p.disc(at, 1.5*f.u, p.ink.phase[ph])
		p.write(ph.String(), label{at: at, size: 2 * f.u, align: centre, color: p.ink.ground, bold: true})
	}
}

// bar starts a path with a rectangle along the direction a, between two distances and a half-width.
func (p *pen) bar(f frame, a float64, from, to, half vg.Length) {
	p.start()
	side := a + math.Pi/2
	p.polygon(
		polar(polar(f.origin, from*f.u, a), half*f.u, side), polar(polar(f.origin, to*f.u, a), half*f.u, side),
		polar(polar(f.origin, to*f.u, a), -half*f.u, side), polar(polar(f.origin, from*f.u, a), -half*f.u, side),
	)
}

// loadMoving lights each arm with an arrow as wide as its current is strong, inwards when positive.
func (p *pen) loadMoving(f frame) {
	for _, ph := range inverter.Phases {
		i := p.v.Now.Current[ph]
		w := reach(math.Abs(i), p.scales.Current, 0.8)
		if w < 0.05 {
			continue
		}
		from, to := polar(f.origin, 12.2*f.u, ph.Axis()+0.17), polar(f.origin, 3.2*f.u, ph.Axis()+0.6)
		if i < 0 {
			from, to = to, from
		}
		p.arrow(from, to, w*f.u, p.ink.phase[ph])
	}
}
