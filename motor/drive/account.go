package drive

import "math"

// An Account says where energy went, in J:
//
//	Supplied = Shaft + Copper + Bridge + Broken + Stored
//
// but for the error of the integration, which Residual tells.
type Account struct {
	Supplied float64 // out of the source, at the link
	Shaft    float64 // torque times speed
	Copper   float64 // heat in the phase resistances, shorted turns among them
	Bridge   float64 // heat in switches and diodes
	Broken   float64 // lost in the spark where a phase, or a short between turns, opened with current
	Stored   float64 // growth of the energy in field and capacitor
	Hand     float64 // put in from outside, by a hand on the rotor or on the circuit, at one instant
	Passed   float64 // the sum of the sizes of all that was moved, to weigh the residual by
}

// Residual returns what is missing, in J.
func (a Account) Residual() float64 {
	return a.Supplied + a.Hand - a.Shaft - a.Copper - a.Bridge - a.Broken - a.Stored
}

// count adds a segment.
func (a *Account) count(seg *Segment) {
	p, n, q := seg.plant, &seg.net, &seg.stride.sums
	drawn := dot(n.g, q.i)
	supplied := p.voltage*drawn - p.source*q.quadratic(n.g)
	switch {
	case p.refusing:
		supplied = -p.limit * q.link
	case p.capacitance != 0:
		supplied = (p.voltage*q.link - q.link2) / p.source
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
