package drive

import "math"

// An Account says where energy went, in J:
//
//	Supplied + Hand = Shaft + Copper + Bridge + Capacitor + Broken + Stored
//
// but for the error of the integration, which Residual tells.
type Account struct {
	Supplied  float64 // out of the source, at the link
	Shaft     float64 // torque times speed
	Copper    float64 // heat in the phase resistances, shorted turns among them
	Bridge    float64 // heat in switches and diodes
	Capacitor float64 // heat in the resistance in series with the link's capacitor
	Broken    float64 // lost in the spark where a phase, or a short between turns, opened with current
	Stored    float64 // growth of the energy in field and capacitor
	Hand      float64 // put in from outside, by a hand on the rotor or on the circuit, at one instant
	Passed    float64 // the sum of the sizes of all that was moved, to weigh the residual by
}

// Residual returns what is missing, in J.
func (a Account) Residual() float64 {
	return a.Supplied + a.Hand - a.Shaft - a.Copper - a.Bridge - a.Capacitor - a.Broken - a.Stored
}

// count adds a segment.
func (a *Account) count(seg *Segment) {
	p, n, q := seg.plant, &seg.net, &seg.stride.sums
	i, i2 := q.flown(p.outflow(), n.g)
	supplied := p.voltage*i - p.source*i2
	if p.refusing {
		supplied = -p.limit * q.link
	}
	var copper, bridge float64
	for k := range n.on {
		i, i2 := q.along(p.axes[k])
		copper += p.resistance[k] * i2
		bridge += n.on[k].resistance*i2 - n.on[k].offset*i
	}
	if r := &p.ring; r.on() {
		copper += r.resistance * (q.turns2 - q.quadratic(r.axis))
	}
	a.Supplied += supplied
	a.Shaft += q.work
	a.Copper += copper
	a.Bridge += bridge
	a.Stored += seg.stride.stored
	a.Passed += math.Abs(supplied) + math.Abs(q.work) + copper + bridge
	if p.capacitance != 0 && p.series != 0 {
		_, charge2 := q.flown(p.inflow(), n.g)
		a.Capacitor += p.series * charge2
		a.Passed += p.series * charge2
	}
}

// handle books what a hand did to the stored energy.
func (a *Account) handle(j float64) {
	a.Hand += j
	a.Stored += j
	a.Passed += math.Abs(j)
}

// lose books stored energy that a spark took.
func (a *Account) lose(j float64) {
	a.Broken += j
	a.Stored -= j
}
