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
	p.slots(f)
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

// conductors draws in each slot its conductor, and in it a dot where current comes out of the plane or a cross where
// it goes in, as large as the current is.
func (p *pen) conductors(f frame) {
	carried := p.v.Now.ByWinding(p.v.Now.Current)
	for _, ph := range inverter.Phases {
		i := carried[ph]
		p.look(wirePart(ph))
		r := vg.Length(math.Sqrt(float64(reach(math.Abs(i), p.scales.Current, 1))))
		in := ph.Axis() - math.Pi/2 // where a positive current goes in
		if i < 0 {
			in += math.Pi
		}
		p.start()
		for k := range 2 * sideSlots {
			side := in + math.Pi*float64(k/sideSlots)
			p.ring(p.conductor(f, side, k%sideSlots), conductorR*f.u)
		}
		p.stroke(0.2*f.u, p.ink.phase[ph])
		if r < 0.12 {
			continue // too little to see: an empty conductor
		}
		p.start()
		for k := range sideSlots {
			p.ring(p.conductor(f, in+math.Pi, k), min(0.78*r, 0.9)*conductorR*f.u)
		}
		p.fill(p.ink.phase[ph])
		p.start()
		for k := range sideSlots {
			at := p.conductor(f, in, k)
			for _, turn := range []float64{math.Pi / 4, -math.Pi / 4} {
				p.trail(polar(at, min(r, 1)*conductorR*f.u, turn), polar(at, -min(r, 1)*conductorR*f.u, turn))
			}
		}
		p.stroke(0.36*f.u, p.ink.phase[ph])
	}
}

const (
	sideSlots            = 4 // of a winding's side
	conductorR vg.Length = 0.92
)

// conductor returns the middle of the k-th conductor of the winding's side in a direction.
func (p *pen) conductor(f frame, side float64, k int) vg.Point {
	return polar(f.origin, slotR*f.u, side+(float64(k)-(sideSlots-1)/2.0)*2*math.Pi/teeth)
}

// rotor draws the rotor with its magnets, the d axis along the north pole's middle.
func (p *pen) rotor(f frame) {
	theta := finite(p.v.Now.Rotor)
	p.disc(f.origin, rotorR*f.u, p.ink.iron)
	const half = 1.25 // of a magnet's arc, rad
	for k, c := range []color.Color{p.ink.north, p.ink.south} {
		p.start()
		p.sector(f.origin, magnetR*f.u, rotorR*f.u, theta+math.Pi*float64(k)-half, 2*half)
		p.fill(c)
	}
}

// poles writes the letters of the magnet's poles, beside the rotor's arrow, each on a patch of its colour that keeps
// traces off it.
func (p *pen) poles(f frame) {
	const beside = 0.7 // rad
	for k, name := range []string{"N", "S"} {
		at := polar(f.origin, (magnetR+rotorR)/2*f.u, finite(p.v.Now.Rotor)+math.Pi*float64(k)-beside)
		p.disc(at, 1.05*f.u, [2]color.Color{p.ink.north, p.ink.south}[k])
		p.write(name, label{at: at, size: 1.9 * f.u, align: centre, color: p.ink.text, bold: true})
	}
}

// wedge draws the angle between rotor and field, and an arrow round the shaft in the sense of the torque.
func (p *pen) wedge(f frame) {
	now := &p.v.Now
	delta := math.Remainder(now.FieldVector().Angle()-now.Rotor, 2*math.Pi)
	if finite(delta) != delta || size(now.Torque) <= 5e-3*p.scales.Torque {
		return
	}
	const r = 5
	p.start()
	p.sector(f.origin, 0, r*f.u, now.Rotor, delta)
	p.fill(faded(p.ink.field, 0.30))
	sweep := math.Copysign(math.Abs(delta), now.Torque)
	const clear = 0.3 // of the field's arrow
	if sweep*delta > 0 && math.Abs(sweep) > 2*clear {
		sweep -= math.Copysign(clear, sweep)
	}
	p.start()
	tip := now.Rotor + sweep
	p.path.Move(polar(f.origin, r*f.u, now.Rotor))
	p.path.Arc(f.origin, r*f.u, now.Rotor, sweep)
	p.stroke(0.4*f.u, p.ink.pull)
	at := polar(f.origin, r*f.u, tip)
	ahead := tip + math.Copysign(math.Pi/2, sweep)
	p.shape(p.ink.pull, polar(at, 0.9*f.u, ahead), polar(polar(at, -0.5*f.u, ahead), 0.75*f.u, tip), polar(polar(at, -0.5*f.u, ahead), -0.75*f.u, tip))
}
