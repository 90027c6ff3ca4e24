package render

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"

	"sextant/inverter"
)

// stator draws the iron with its slots and the names of the windings' sides.
func (p *pen) stator(f frame) {
	p.disc(f.origin, statorR*f.u, p.ink.iron)
	p.disc(f.origin, boreR*f.u, p.ink.bore)
	p.start()
	for k := range 24 {
		p.slot(f, (float64(k)+0.5)*math.Pi/12)
	}
	p.fill(p.ink.bore)
	for _, ph := range inverter.Phases {
		p.look(wirePart(ph))
		for end, side := range []float64{-math.Pi / 2, math.Pi / 2} {
			p.write(windingEnd[ph][end], label{
				at: polar(f.origin, letterR*f.u, ph.Axis()+side), size: 1.75 * f.u, align: centre, color: p.ink.text, bold: true,
			})
		}
	}
}

// windingEnd names the sides of the windings as their terminals are marked; a positive current enters the
// drawing's plane at the first and leaves it at the second, so that its field lies along the phase's axis.
var windingEnd = [3][2]string{{"U1", "U2"}, {"V1", "V2"}, {"W1", "W2"}}

// slot adds a slot open to the bore to the path.
func (p *pen) slot(f frame, angle float64) {
	at := polar(f.origin, slotR*f.u, angle)
	p.path.Move(polar(at, 1.3*f.u, angle-math.Pi/2))
	p.path.Arc(at, 1.3*f.u, angle-math.Pi/2, math.Pi)
	p.path.Line(polar(polar(f.origin, (boreR-0.1)*f.u, angle), 0.55*f.u, angle+math.Pi/2))
	p.path.Line(polar(polar(f.origin, (boreR-0.1)*f.u, angle), 0.55*f.u, angle-math.Pi/2))
	p.path.Close()
}

// conductors draws in each slot a dot where current comes out of the plane and a cross where it goes in,
// as large as the current is.
func (p *pen) conductors(f frame) {
	const most = 1.08
	for _, ph := range inverter.Phases {
		i := p.v.Now.Current[ph]
		r := reach(math.Abs(i), p.scales.Current, most*most)
		r = vg.Length(math.Sqrt(float64(r)))
		if r < 0.12 {
			continue // too little to see: an empty slot
		}
		p.look(wirePart(ph))
		in := ph.Axis() - math.Pi/2 // where a positive current goes in
		if i < 0 {
			in += math.Pi
		}
		p.start()
		for k := range 4 {
			angle := in + math.Pi + (float64(k)-1.5)*math.Pi/12
			p.ring(polar(f.origin, slotR*f.u, angle), r*f.u)
		}
		p.fill(p.ink.phase[ph])
		p.start()
		for k := range 4 {
			angle := in + (float64(k)-1.5)*math.Pi/12
			at := polar(f.origin, slotR*f.u, angle)
			for _, turn := range []float64{math.Pi / 4, -math.Pi / 4} {
				p.trail(polar(at, r*f.u, turn), polar(at, -r*f.u, turn))
			}
		}
		p.stroke(0.42*f.u, p.ink.phase[ph])
	}
}

// rotor draws the rotor with its magnets, the d axis along the north pole's middle.
func (p *pen) rotor(f frame) {
	theta := finite(p.v.Now.Rotor)
	p.disc(f.origin, rotorR*f.u, p.ink.iron)
	const half = 1.25 // of a magnet's arc, rad
	for _, pole := range []struct {
		name  string
		color color.Color
		turn  float64
	}{{"N", p.ink.north, 0}, {"S", p.ink.south, math.Pi}} {
		p.start()
		p.sector(f.origin, magnetR*f.u, rotorR*f.u, theta+pole.turn-half, 2*half)
		p.fill(pole.color)
		p.write(pole.name, label{
			at: polar(f.origin, (magnetR+rotorR)/2*f.u, theta+pole.turn), size: 1.9 * f.u, align: centre, color: p.ink.text, bold: true,
		})
	}
}

// wedge draws the angle between rotor and field, and an arrow round the shaft in the sense of the torque.
func (p *pen) wedge(f frame) {
	now := &p.v.Now
	delta := math.Remainder(now.CurrentVector().Angle()-now.Rotor, 2*math.Pi)
	if finite(delta) != delta || size(now.Torque) <= 5e-3*p.scales.Torque {
		return
	}
	const r = 5
	p.start()
	p.sector(f.origin, 0, r*f.u, now.Rotor, delta)
	p.fill(faded(p.ink.field, 0.30))
	sweep := math.Copysign(math.Abs(delta), now.Torque)
	p.start()
	tip := now.Rotor + sweep
	p.path.Move(polar(f.origin, r*f.u, now.Rotor))
	p.path.Arc(f.origin, r*f.u, now.Rotor, sweep)
	p.stroke(0.4*f.u, p.ink.pull)
	at := polar(f.origin, r*f.u, tip)
	ahead := tip + math.Copysign(math.Pi/2, sweep)
	p.shape(p.ink.pull, polar(at, 0.9*f.u, ahead), polar(polar(at, -0.5*f.u, ahead), 0.75*f.u, tip), polar(polar(at, -0.5*f.u, ahead), -0.75*f.u, tip))
}
