package render

import (
	"image/color"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"

	"sextant/inverter"
	"sextant/motor/drive"
)

// The wheel is drawn 62 by 42 units large, its centre in the middle.
const (
	wheelWidth, wheelHeight = 62, 42

	hexagonR = 18 // to a corner: two thirds of the supply
	statorR  = 15.2
	letterR  = 13.9 // letters of the windings' sides
	slotR    = 11.4 // middles of the slots
	boreR    = 9.5
	rotorR   = 8.9
	magnetR  = 6.7 // inner edge of the magnets
	shaftR   = 1.5
)

// wheelFrame returns the wheel's frame, its origin in the middle.
func wheelFrame(l *Layout) frame {
	f := within(l.Wheel, wheelWidth, wheelHeight)
	f.origin = f.at(wheelWidth/2, wheelHeight/2)
	return f
}

func (p *pen) passive() bool { return passive(p.v.Scenario) }

// cornerAngle is the direction of the k-th of the active states.
func cornerAngle(k int) float64 { return float64(k) * math.Pi / 3 }

// wheelStill draws hexagon and iron.
func (p *pen) wheelStill() {
	f := wheelFrame(p.l)
	p.start()
	for k := range inverter.Active {
		at := polar(f.origin, hexagonR*f.u, cornerAngle(k))
		if k == 0 {
			p.path.Move(at)
		} else {
			p.path.Line(at)
		}
	}
	p.path.Close()
	p.fill(p.ink.panel)
	p.stroke(0.28*f.u, p.ink.wire)
	if p.passive() {
		p.loadStill(f)
		return
	}
	p.stator(f)
}

// Towards returns the state of the bridge that puts the voltage vector on corner k of the hexagon: inverter.Active[k],
// unless leads are crossed, and none for k out of range.
func Towards(now *drive.Instant, k int) (g inverter.Gates) {
	if k < 0 || k >= len(inverter.Active) {
		return 0
	}
	for _, leg := range inverter.Phases {
		if inverter.Active[k].Has(inverter.High(now.Winding(leg))) {
			g = g.With(inverter.High(leg))
		} else {
			g = g.With(inverter.Low(leg))
		}
	}
	return g
}

// cornerName writes the state that makes the vector to corner k.
func (p *pen) cornerName(f frame, k int, g inverter.Gates, c color.Color, strong bool) {
	a := label{size: 2 * f.u, color: c, bold: strong, room: 11 * f.u}
	at := polar(f.origin, (hexagonR+1.2)*f.u, cornerAngle(k))
	switch k {
	case 0:
		a.at, a.align = at, left
	case 3:
		a.at, a.align = at, right
	default:
		a.at, a.align = at.Add(vg.Point{Y: f.u * vg.Length(math.Copysign(0.6, math.Sin(cornerAngle(k))))}), centre
	}
	p.write(p.stateName(g), a)
}

// stateName writes a state of the bridge in the view's numbering.
func (p *pen) stateName(g inverter.Gates) string {
	if names := &stateNames[p.v.Numbering%3]; names[g&63] != "" {
		return names[g&63]
	}
	return g.String()
}

// stateNames holds how each numbering writes the eight states, by their gates.
var stateNames = func() (names [3][64]string) {
	for n := range names {
		for _, g := range inverter.States {
			var on []string
			for _, s := range inverter.Switches {
				if g.Has(s) {
					on = append(on, inverter.Numbering(n).Label(s))
				}
			}
			if inverter.Numbering(n) != inverter.Names {
				slices.Sort(on)
			}
			names[n][g] = strings.Join(on, " ")
		}
	}
	return names
}()

// zeroName writes one of the states that make no vector, below the hexagon on either side.
func (p *pen) zeroName(f frame, g inverter.Gates, on bool) {
	side, a := vg.Length(-1), left
	if g == inverter.AllHigh {
		side, a = 1, right
	}
	at := f.at(side*(wheelWidth/2-1.6), -18.4)
	text := label{
		at: f.at(side*(wheelWidth/2-3.8), -18.4), size: 2 * f.u, align: a, color: p.ink.muted, bold: on, room: 12 * f.u,
	}
	if on {
		text.color = p.ink.text
		p.disc(at, 0.95*f.u, p.ink.volt)
	} else {
		p.circle(at, 0.8*f.u, 0.25*f.u, p.ink.wire)
	}
	p.write(p.stateName(g), text)
}

// wheelMoving draws currents, rotor, arrows, torque and the corner that the gates choose.
func (p *pen) wheelMoving() {
	f := wheelFrame(p.l)
	now := &p.v.Now
	p.states(f)
	if p.passive() {
		p.loadMoving(f)
	} else {
		p.gapField(f)
		p.conductors(f)
		p.look(Part{Kind: RotorPart})
		p.rotor(f)
		p.wedge(f)
	}
	p.background()
	p.loci(f)
	p.voltageArrow(f)
	p.look(Part{Kind: RotorPart})
	if !p.passive() {
		p.poles(f)
		p.arrow(f.origin, polar(f.origin, (magnetR-0.4)*f.u, now.Rotor), 0.5*f.u, p.ink.text)
	}
	i := now.FieldVector()
	if length := reach(i.Abs(), p.scales.Current, boreR-0.2); length > 0.3 {
		p.arrow(f.origin, polar(f.origin, length*f.u, i.Angle()), 0.95*f.u, p.ink.field)
	}
	if !p.passive() {
		p.disc(f.origin, shaftR*f.u, p.ink.wire)
		p.disc(polar(f.origin, shaftR*0.6*f.u, now.Shaft), 0.35*f.u, p.ink.ground)
	}
	p.wheelReadings(f)
	p.bright()
	p.wornWords(f)
	p.background()
}

// reach is how long an arrow of x is when full scale is to be most long, never more than 1.3 of that.
func reach(x, full float64, most vg.Length) vg.Length {
	if !(full > 0) {
		return 0
	}
	return most * vg.Length(min(finite(x)/full, 1.3))
}

// states names the eight states and lights the one that the gates command.
func (p *pen) states(f frame) {
	g := p.v.Now.Gates
	p.zeroName(f, inverter.AllLow, g == inverter.AllLow)
	p.zeroName(f, inverter.AllHigh, g == inverter.AllHigh)
	for k := range inverter.Active {
		active := Towards(&p.v.Now, k)
		p.look(Part{Kind: CornerPart, Corner: k})
		c := p.ink.muted
		if g == active {
			c = p.ink.text
			p.disc(polar(f.origin, hexagonR*f.u, cornerAngle(k)), 0.95*f.u, p.ink.volt)
		}
		p.cornerName(f, k, active, c, g == active)
	}
	p.background()
}

// voltageArrow draws the voltage vector from the rotor's rim outwards, two thirds of the supply reaching a
// corner; a vector of no length is a ring round the middle.
func (p *pen) voltageArrow(f frame) {
	v := p.v.Now.VoltageVector()
	length := reach(v.Abs(), p.scales.Voltage*2/3, hexagonR)
	if length < 0.3 {
		p.circle(f.origin, (shaftR+0.7)*f.u, 0.42*f.u, p.ink.volt)
		return
	}
	p.dashed(f.origin, polar(f.origin, length*f.u, v.Angle()), 0.42*f.u, p.ink.volt)
}

// wheelReadings writes the angles with the arrows they belong to, torque and speed.
func (p *pen) wheelReadings(f frame) {
	now := &p.v.Now
	const x, top, pitch = 1 - wheelWidth/2, 19.2, 2.7
	row := func(k int, name, value string) {
		y := top - pitch*vg.Length(k)
		p.write(name, label{at: f.at(x+3.2, y), size: 1.9 * f.u, color: p.ink.text})
		p.write(value, label{at: f.at(x+14, y), size: 1.9 * f.u, align: right, color: p.ink.text, bold: true})
	}
	p.background()
	p.dashed(f.at(x, top), f.at(x+2.7, top), 0.42*f.u, p.ink.volt)
	row(0, "voltage", angleOf(now.VoltageVector()))
	p.look(Part{Kind: RotorPart})
	p.arrow(f.at(x, top-pitch), f.at(x+2.7, top-pitch), 0.7*f.u, p.ink.field)
	row(1, "field", angleOf(now.FieldVector()))
	if p.passive() {
		return
	}
	p.arrow(f.at(x, top-2*pitch), f.at(x+2.7, top-2*pitch), 0.5*f.u, p.ink.text)
	row(2, "rotor", degrees(now.Rotor))
	end := f.at(wheelWidth/2-1, top)
	p.write(steady(now.Torque, p.scales.Torque, "N m"), label{at: end, size: 2.6 * f.u, align: right, color: p.ink.text, bold: true, room: 15 * f.u})
	end.Y -= 2.9 * f.u
	p.write(figures(now.RPM(), 5000)+" rpm", label{at: end, size: 2 * f.u, align: right, color: p.ink.text, room: 13 * f.u})
}

// angleOf writes a vector's direction; one of no length has none.
func angleOf(v inverter.Vector) string {
	if v.Abs() < 1e-9 {
		return "-"
	}
	return degrees(v.Angle())
}
