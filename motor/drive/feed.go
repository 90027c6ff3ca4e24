package drive

import "sextant/inverter"

// A feed is the link as the bridge sees it: voltage keep v + give behind a resistance, v being that across the
// capacitor (Thévenin). A source V with R_s meets the capacitor and its series resistance r at the rails:
//
//	v_link = (R_s v + r V - R_s r i)/(R_s + r)
//
// i being the current that the bridge draws. Without a capacitor it is V - R_s i.
type feed struct {
	keep       float64
	give       float64 // V
	resistance float64 // Ω
}

// fed returns the feed that p's source and capacitor make.
func (p *plant) fed() feed {
	if p.capacitance == 0 {
		return feed{give: p.voltage, resistance: p.source}
	}
	sum := p.source + p.series
	return feed{keep: p.source / sum, give: p.series / sum * p.voltage, resistance: p.source * p.series / sum}
}

// linkVoltage returns the voltage between the rails when the bridge draws current drawn.
func (p *plant) linkVoltage(s *state, drawn float64) float64 {
	return p.feed.keep*s.link + p.feed.give - p.feed.resistance*drawn
}

// A flow is a current a + b v + c i, v being the voltage across the link's capacitor and i what the bridge draws.
type flow struct{ a, b, c float64 }

// outflow returns the current out of the source. One that refuses charge has no series resistance at its capacitor.
func (p *plant) outflow() flow {
	switch sum := p.source + p.series; {
	case p.capacitance == 0:
		return flow{c: 1}
	case p.refusing:
		return flow{a: -p.limit}
	default:
		return flow{a: p.voltage / sum, b: -1 / sum, c: p.series / sum}
	}
}

// inflow returns the current into the capacitor: what the source gives and the bridge does not draw.
func (p *plant) inflow() flow {
	f := p.outflow()
	f.c--
	return f
}

// at returns the current at capacitor voltage link while the bridge draws current drawn.
func (f *flow) at(link, drawn float64) float64 { return f.a + f.b*link + f.c*drawn }

// flown returns ∫ x dt and ∫ x² dt of current x, the bridge's being drawn along g.
func (q *sums) flown(f flow, g inverter.Vector) (x, x2 float64) {
	i, i2 := q.along(g)
	if f.a == 0 && f.b == 0 { // a link without capacitor, and the loop from event to event
		return f.c * i, f.c * f.c * i2
	}
	vi := g.Alpha*q.linkA + g.Beta*q.linkB
	x = f.a*q.time + f.b*q.link + f.c*i
	x2 = f.a*f.a*q.time + f.b*f.b*q.link2 + f.c*f.c*i2 + 2*(f.a*f.b*q.link+f.a*f.c*i+f.b*f.c*vi)
	return x, x2
}
