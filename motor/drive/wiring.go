package drive

import (
	"math"

	"sextant/inverter"
)

// A wiring is what the faults of the present make of the circuit.
type wiring struct {
	next    float64 // s, when a fault comes or goes
	cut     [3]bool
	dead    inverter.Gates // channels that are never gated
	live    inverter.Gates // channels that are always gated
	shorted inverter.Gates // devices that conduct both ways whatever their gate does
	bare    inverter.Gates // devices whose diode is gone
	blocked bool           // the shaft
	tripped bool           // the gates have been blocked for a shoot-through
}

// faulty reports whether the legs are other than their gates say.
func (w *wiring) faulty() bool {
	return w.cut != [3]bool{} || w.dead|w.live|w.shorted|w.bare != 0 || w.tripped
}

// strike lets the faults that come or go at time t do so, and reports whether any did.
func (d *Drive) strike(t float64, s *state) bool {
	if t < d.wiring.next {
		return false
	}
	w := wiring{next: math.Inf(1), tripped: d.wiring.tripped}
	p := d.base
	p.motion, p.refusing, p.flat = d.plant.motion, d.plant.refusing, d.plant.flat
	d.gate.mend()
	for k := range d.scenario.Faults {
		f := &d.scenario.Faults[k]
		if f.Time > t {
			w.next = min(w.next, f.Time)
		}
		if f.Until > t {
			w.next = min(w.next, f.Until)
		}
		if f.On(t) {
			w.apply(f)
			p.apply(f)
			d.gate.apply(f)
		}
	}
	if was := &d.plant.ring; was.on() && !was.is(&p.ring) {
		d.account.lose(d.seg.net.part(s, &d.plant))
	}
	switch {
	case w.blocked:
		p.free, s.speed = false, 0
	case d.wiring.blocked && !p.free:
		s.speed = d.scenario.startSpeed()
	}
	p.feed = p.fed()
	d.wiring, d.plant = w, p
	d.gate.renew(t)
	return true
}

func (w *wiring) apply(f *Fault) {
	switch f.Kind {
	case PhaseOpen:
		w.cut[f.Phase] = true
	case SwitchOpen, GateStuckOff:
		w.dead = w.dead.With(f.Switch)
	case GateStuckOn:
		w.live = w.live.With(f.Switch)
	case SwitchShort:
		w.shorted = w.shorted.With(f.Switch)
	case DiodeOpen:
		w.bare = w.bare.With(f.Switch)
	case ShaftBlocked:
		w.blocked = true
	}
}

func (p *plant) apply(f *Fault) {
	switch f.Kind {
	case PhaseResistance:
		p.resistance[f.Phase] += f.Value
	case PhaseSwap:
		v := f.Phase.Next()
		p.axes[v], p.axes[v.Next()] = p.axes[v.Next()], p.axes[v]
	case SupplySag:
		p.voltage = f.Value
	case CapacitorAged:
		p.capacitance *= f.Value
	case CapacitorResistance:
		p.series += f.Value
	case Demagnetised:
		p.psi *= f.Value
	case TurnsShorted:
		p.short(axes[f.Phase], f.Value)
	}
}

// effective returns what the commanded gates and the faults make of the gates.
func (w *wiring) effective(gates inverter.Gates) inverter.Gates {
	return gates&^w.dead | w.live | w.shorted
}

// leg returns the characteristic of leg k with effective gates g.
func (w *wiring) leg(k inverter.Phase, g inverter.Gates, table *legTable) leg {
	high, low := inverter.High(k), inverter.Low(k)
	switch {
	case w.cut[k]:
		return cutLeg
	case w.shorted.Has(high):
		return shortedLeg(branch{up: 1, way: inverter.UpperChannel})
	case w.shorted.Has(low):
		return shortedLeg(branch{way: inverter.LowerChannel})
	}
	l := *table.of(k, g)
	if w.bare.Has(low) && l.source.way == inverter.LowerDiode {
		l.source.offset = math.Inf(-1)
	}
	if w.bare.Has(high) && l.sink.way == inverter.UpperDiode {
		l.sink.offset = math.Inf(1)
	}
	l.mark()
	return l
}

// spark breaks the currents that have lost their path, and books what that costs.
func (d *Drive) spark(s *state) {
	tiny := tiny * d.size
	for range inverter.Phases {
		broke := false
		for _, k := range inverter.Phases {
			i, l := dot(d.plant.axes[k], s.i), &d.seg.legs[k]
			if i > tiny && math.IsInf(l.source.offset, -1) || i < -tiny && math.IsInf(l.sink.offset, 1) {
				before := d.plant.stored(s)
				d.plant.clear(s, k)
				d.account.lose(before - d.plant.stored(s))
				broke = true
			}
		}
		if !broke {
			return
		}
	}
	d.account.lose(d.plant.open(s))
}
