package drive

import (
	"math"
	"math/cmplx"

	"sextant/inverter"
)

// A meter observes a run and sums it up.
type meter struct {
	from, to    float64 // s
	omega       float64 // electrical, of the fundamental, rad/s
	seen        bool
	axes        [3]inverter.Vector
	sums        sums
	account     Account
	linkTime    float64 // ∫ v dt between the rails
	supplied    float64 // ∫ i dt out of the source
	supplied2   float64 // ∫ i² dt out of the source
	drawn       float64 // ∫ i dt into the bridge
	drawn2      float64 // ∫ i² dt into the bridge
	ripple2     float64 // ∫ i² dt into the capacitor, where there is one
	lowest      float64 // V between the rails
	highest     float64
	peak        [3]float64 // A
	alpha, beta complex128 // ∫ i e^(-jωt) dt
	least, most float64    // N m
	ring        ring       // that was seen last
	turns       float64    // A, peak in it
	channel     [6]flowSums
	diode       [6]flowSums
}

// flowSums are ∫ |i| dt, ∫ i² dt and the heat of one device.
type flowSums struct{ i, i2, heat float64 }

// newMeter returns a meter that takes the fundamental at the given electrical frequency, in Hz.
func newMeter(frequency float64) *meter {
	return &meter{omega: 2 * math.Pi * math.Abs(frequency)}
}

// Observe counts a segment.
func (m *meter) Observe(seg *Segment) {
	if !m.seen {
		m.seen, m.from = true, seg.T0
		m.least, m.most = math.Inf(1), math.Inf(-1)
		m.lowest, m.highest = math.Inf(1), math.Inf(-1)
	}
	m.to, m.axes = seg.T1, seg.plant.axes
	q, n, p := &seg.stride.sums, &seg.net, seg.plant
	m.sums.merge(q)
	m.account.count(seg)
	m.supply(seg)
	m.devices(seg)
	if seg.T1 <= seg.T0 {
		return
	}
	seg.trace()
	if p.ring.on() {
		m.ring = p.ring
		m.turns = max(m.turns, seg.stride.greatestIn(&p.ring))
	}
	for k, sign := range n.sign {
		if sign == 0 {
			continue
		}
		m.peak[k] = max(m.peak[k], seg.stride.greatest(p.axes[k]))
	}
	h := seg.T1 - seg.T0
	turn := cmplx.Exp(complex(0, -m.omega*seg.T0)) * complex(h, 0)
	of := moments(m.omega * h)
	m.alpha += turn * seg.track.alpha.transform(&of)
	m.beta += turn * seg.track.beta.transform(&of)
	if p.pairs > 0 {
		low, high := seg.torques()
		m.least, m.most = min(m.least, low), max(m.most, high)
	}
}

// supply sums up the source and the link.
func (m *meter) supply(seg *Segment) {
	q, n, p := &seg.stride.sums, &seg.net, seg.plant
	f := &p.feed
	drawn := dot(n.g, q.i)
	supplied, supplied2 := q.flown(p.outflow(), n.g)
	m.drawn += drawn
	m.drawn2 += q.quadratic(n.g)
	m.linkTime += f.keep*q.link + f.give*q.time - f.resistance*drawn
	m.supplied += supplied
	m.supplied2 += supplied2
	if p.capacitance == 0 {
		for _, s := range [2]*state{&seg.stride.from, &seg.stride.to} {
			v := p.linkVoltage(s, dot(n.g, s.i))
			m.lowest, m.highest = min(m.lowest, v), max(m.highest, v)
		}
		return
	}
	_, charge2 := q.flown(p.inflow(), n.g)
	m.ripple2 += charge2
	seg.trace()
	volts := seg.mix(flow{f.give, f.keep, -f.resistance})
	low, high := volts.extremes()
	m.lowest, m.highest = min(m.lowest, low), max(m.highest, high)
}

// devices books each leg's current to the device that carries it.
func (m *meter) devices(seg *Segment) {
	q, n := &seg.stride.sums, &seg.net
	for _, k := range inverter.Phases {
		w := n.way[k]
		if w == inverter.Idle {
			continue
		}
		s := inverter.Low(k)
		if w.Upper() {
			s = inverter.High(k)
		}
		f := &m.diode[s]
		if w.Channel() {
			f = &m.channel[s]
		}
		i, i2 := q.along(seg.plant.axes[k])
		f.i += seg.stride.carried(seg.plant.axes[k])
		f.i2 += i2
		f.heat += n.on[k].resistance*i2 - n.on[k].offset*i
	}
}

// carried returns ∫ |i| dt of the current along axis a, which turns round inside a stride where its leg does not mind.
func (st *stride) carried(a inverter.Vector) float64 {
	all := dot(a, st.sums.i)
	y0, y1 := dot(a, st.from.i), dot(a, st.to.i)
	if y0*y1 >= 0 {
		return math.Abs(all)
	}
	c := st.curveOf(func(r *rate) float64 { return dot(a, r.i) }, y0, y1)
	sign := math.Copysign(1, y0)
	before := st.h * c.area(root(func(x float64) float64 { return sign * c.at(x) }, 0, 1))
	return math.Abs(before) + math.Abs(all-before)
}
