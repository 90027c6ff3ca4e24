package drive

import (
	"fmt"
	"math"

	"sextant/inverter"
)

// anyGate is all of them.
const anyGate = inverter.AllHigh | inverter.AllLow

// show counts a finished segment and shows it to the watchers.
func (d *Drive) show(seg *Segment) {
	d.account.count(seg)
	for _, o := range d.watchers {
		o.Observe(seg)
	}
}

// pass leaves the present segment behind, lets happen what ends it, and integrates the next.
func (d *Drive) pass() error {
	if d.left != nil {
		if *d.left--; *d.left < 0 {
			return ErrStrides
		}
	}
	d.show(&d.seg)
	t, s := d.seg.T1, d.seg.stride.to
	if turn := 2 * math.Pi * max(d.plant.pairs, 1); s.theta > turn || s.theta < -turn {
		s.theta = math.Mod(s.theta, turn)
	}
	d.now = t
	if d.ending.cause != nothing {
		d.end(t, &s)
	}
	d.lag.follow(d, t, &s)
	if err := d.happen(t, &s); err != nil {
		return err
	}
	return d.fill(t, &s)
}

// resume starts over at time t with state s: legs, conduction, segment.
func (d *Drive) resume(t float64, s *state) error {
	d.ending = ending{}
	if d.plant.trapezoid {
		d.plant.flat = newSector(6, 0, s.theta)
	}
	d.plant.move(s)
	d.plant.refusing = d.plant.bounded() && (s.link-d.plant.voltage)/d.plant.source > d.plant.limit
	d.lag.begin(d, t, s)
	if err := d.wire(t, s, anyGate); err != nil {
		return err
	}
	if err := d.happen(t, s); err != nil {
		return err
	}
	return d.fill(t, s)
}

// wire gives the legs the characteristics that gates and faults make of them, and settles how they carry
// their currents. Only the legs of the gates in changed are looked at anew.
func (d *Drive) wire(t float64, s *state, changed inverter.Gates) error {
	gates := d.commanded()
	effective := d.wiring.effective(gates)
	if err := effective.Interlock(); err != nil {
		if d.wiring.live|d.wiring.shorted == 0 {
			return fmt.Errorf("at %.9g s: %w", t, err)
		}
		if err := d.trip(t, s, err); err != nil {
			return err
		}
		gates, changed = 0, anyGate
		effective = d.wiring.effective(gates)
	}
	d.seg.gates = gates
	for _, k := range inverter.Phases {
		switch {
		case !changed.Has(inverter.High(k)) && !changed.Has(inverter.Low(k)):
		case d.wiring.faulty():
			d.seg.legs[k] = d.wiring.leg(k, effective, &d.legs)
		default:
			d.seg.legs[k] = *d.legs.of(k, effective)
		}
	}
	if d.wiring.faulty() {
		d.spark(s)
	}
	d.seg.net.conduct(s, &d.seg.legs, &d.plant, tiny*d.size, start{})
	return nil
}

// commanded returns the gates that the gating commands, none after a trip.
func (d *Drive) commanded() inverter.Gates {
	if d.wiring.tripped {
		return 0
	}
	return d.gate.gates()
}

// trip blocks the gates, as the protection of a drive does when both devices of a leg conduct. The surge
// until it acts, some microseconds, is left out. It fails where blocking does not help.
func (d *Drive) trip(t float64, s *state, cause error) error {
	d.wiring.tripped = true
	if err := d.wiring.effective(0).Interlock(); err != nil {
		return fmt.Errorf("at %.9g s: %w, and no gate can stop it", t, err)
	}
	surge := ""
	if held := d.plant.capacitance * s.link * s.link / 2; held > 0 {
		surge = fmt.Sprintf("; until it acts the short draws on the %.3g J that the link's capacitor holds, a surge that is left out", held)
	}
	d.tell(t, "%v: the protection blocks all gates at %.6g s%s", cause, t, surge)
	return nil
}

// happen lets the gate edges and faults that are due at time t happen.
func (d *Drive) happen(t float64, s *state) error {
	for d.gate.peek() <= t {
		d.gate.take(t, s, &d.plant, d.plant.linkVoltage(s, dot(d.seg.net.g, s.i)))
	}
	changed := d.commanded() ^ d.seg.gates
	if changed != 0 {
		d.events++
	}
	if d.strike(t, s) {
		changed = anyGate
		d.lag.begin(d, t, s) // leads that are crossed turn the field round
	}
	if changed == 0 {
		return nil
	}
	return d.wire(t, s, changed)
}

// end lets happen what ended the segment.
func (d *Drive) end(t float64, s *state) {
	p := &d.plant
	switch e := d.ending; e.cause {
	case rotorSteps:
		d.gate.commute.leave(t, s.theta)
		return
	case fluxBends:
		p.flat.leave(s.theta)
		return
	case motionTurns:
		p.turn(s)
		return
	case sourceTurns:
		p.refusing = !p.refusing
		d.tellRefusal(t)
		return
	case currentEnds:
		p.clear(s, e.leg)
		if d.seg.net.tied < 3 { // no current returns by the leg that is idle already
			s.i = inverter.Vector{}
		}
		if d.seg.legs[e.leg].tight {
			e.begun = start{leg: e.leg, sign: -d.seg.net.sign[e.leg]}
		}
		fallthrough
	default:
		d.events++
		d.seg.net.conduct(s, &d.seg.legs, p, tiny*d.size, e.begun)
		if d.stalls > fewStalls {
			d.seg.net.search(s, &d.seg.legs, p, tiny*d.size)
		}
	}
}
