package render

import (
	"math"

	"gonum.org/v1/plot/vg"

	"sextant/inverter"
	"sextant/motor"
	"sextant/motor/drive"
)

// teeth is how many teeth the machine is drawn with, as many as slots.
const teeth = 24

// gapFlux returns the flux that links the stator's winding at an instant, in Wb per phase, and its greatest size: of
// the magnet together with the full scale of current. In the air gap it passes from rotor to stator in its own
// direction, back on the other side, and between them as the cosine of the angle: only the fundamental along
// the circumference is known to the dq model, which counts the little that leaks in the slots with it.
func gapFlux(now *drive.Instant, s *drive.Scenario, current float64) (flux inverter.Vector, most float64) {
	m := s.Machine.Star()
	present(now, s, func(f *drive.Fault) {
		if f.Kind == drive.Demagnetised {
			m.FluxLinkage *= f.Value
		}
	})
	f := m.Flux(motor.DQ{D: now.ID, Q: now.IQ})
	flux = finiteVector(inverter.Vector{Alpha: f.D, Beta: f.Q}.Turn(-finite(now.Rotor)))
	return flux, math.Hypot(s.Machine.Star().FluxLinkage, m.InductanceQ*current)
}

// gapField shades each tooth by the field before it in the air gap: towards the colour of a north pole where the
// field comes out of the rotor, of a south pole where it goes in.
func (p *pen) gapField(f frame) {
	if p.v.Scenario == nil {
		return
	}
	flux, most := gapFlux(&p.v.Now, p.v.Scenario, p.scales.Current)
	for k := range teeth {
		axis := float64(k) * 2 * math.Pi / teeth
		share := share(flux.Alpha*math.Cos(axis)+flux.Beta*math.Sin(axis), most)
		c := Mix(p.ink.iron, p.ink.north, min(share, 1))
		if share < 0 {
			c = Mix(p.ink.iron, p.ink.south, min(-share, 1))
		}
		p.start()
		p.sector(f.origin, boreR*f.u, (slotR+slotHalf)*f.u, axis-math.Pi/teeth, 2*math.Pi/teeth)
		p.fill(c)
	}
	p.slots(f)
}

// slots draws the slots, open to the bore.
func (p *pen) slots(f frame) {
	for k := range teeth { // one by one: outlines that are apart are cheap to fill in a window
		p.start()
		angle := (float64(k) + 0.5) * 2 * math.Pi / teeth
		at := polar(f.origin, slotR*f.u, angle)
		mouth := polar(f.origin, (boreR-0.1)*f.u, angle)
		p.path.Move(polar(at, slotHalf*f.u, angle-math.Pi/2))
		p.path.Arc(at, slotHalf*f.u, angle-math.Pi/2, math.Pi)
		p.path.Line(polar(mouth, slotMouth*f.u, angle+math.Pi/2))
		p.path.Line(polar(mouth, slotMouth*f.u, angle-math.Pi/2))
		p.path.Close()
		p.fill(p.ink.bore)
	}
}

const (
	slotHalf  vg.Length = 1.16 // half a slot's width
	slotMouth vg.Length = 0.5  // half that of its opening
)
