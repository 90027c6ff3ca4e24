// Package drive runs a bridge wired to a machine: scenario in, record out. Between two switching events
// nothing jumps, so the equations are integrated from event to event with controlled error; gate edges come
// exactly from the pattern, and the instants at which a current or a diode ends or starts are solved for.
package drive

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"sextant/inverter"
)

// A Drive is a bridge, its supply and its machine at a present time, and can be carried on from there.
// Results do not depend on how its running is cut up: it integrates whole segments and answers for times
// inside them.
type Drive struct {
	scenario Scenario
	base     plant // without faults
	plant    plant // with the present ones
	gate     gate
	legs     legTable
	wiring   wiring
	now      float64 // s
	seg      Segment // T0 <= now <= T1, not yet shown to the watchers
	ending   ending  // how seg ends, where the state itself ends it
	lag      lag
	notices  []Notice
	refused  bool // and told so
	watchers []Observer
	account  Account
	events   int
	reach    float64 // s, the longest stride that kept the tolerance
	size     float64 // A, the largest current seen
	recent   float64 // A, the largest current of late
	stop     float64 // s, where a segment must end whatever happens
	stalls   int
}

const (
	// tolerance is how far the fourth-order result of a stride may lie from the fifth-order one that is
	// kept, as part of the largest current; so chosen that the energy account closes to 1e-9 of
	// what passed.
	tolerance = 3e-10
	// longest is the longest stride, in s, however little happens.
	longest = 0.1
	// guardedTurn is how far the rotor may turn, in electrical rad, in a stride on which a leg may start
	// or stop to conduct.
	guardedTurn = 0.2
	// fading is how much of the largest current of late is left, as the scale of errors, a stride on.
	fading = 0.97
	// dust is the least current, in A, by whose size errors are judged.
	dust = 1e-6
	// tiny is the part of the largest current that counts as none.
	tiny = 1e-12
	// grazing is the part of the largest current by which one may dip below zero and be said to touch it.
	grazing = 1e-9
	// mostStalls is how many events in a row may happen at one instant, or rounding apart, before the drive gives
	// up: a few legs can only do so much.
	mostStalls = 50
	// fewStalls is how many it takes to look at all ways to conduct at once.
	fewStalls = 3
)

// New returns a drive at t = 0, its dead times long over. It fails as [Scenario.Validate] does, for gates
// that short the supply, and for what no circuit can do.
//
// Junctions whose temperature is to come of their heat are taken to be as cold as their sink: [Simulation]
// finds what it comes to.
func New(s Scenario) (*Drive, error) { return newDrive(s, s.Switches.unheated()) }

// newDrive returns New's drive with its junctions at temperatures t.
func newDrive(s Scenario, t temperatures) (*Drive, error) {
	if err := s.ready(); err != nil {
		return nil, err
	}
	d := &Drive{scenario: s, base: newPlant(&s), legs: newLegTable(&s.Switches, &t), stop: math.Inf(1), reach: longest}
	d.plant = d.base
	d.seg.plant = &d.plant
	i, _ := s.Run.InitialCurrents.Clarke()
	st := state{i: i, theta: s.Shaft.StartAngle, speed: s.startSpeed(), link: s.Supply.Voltage}
	if s.Supply.StartSet {
		st.link = s.Supply.Start
	}
	d.size = max(i.Abs(), dust)
	d.recent = d.size
	var err error
	if d.gate, err = newGate(&s, &d.plant, &st); err != nil {
		return nil, err
	}
	if err := d.resume(0, &st); err != nil {
		return nil, err
	}
	return d, nil
}

// startSpeed returns the mechanical speed at t = 0.
func (s *Scenario) startSpeed() float64 {
	switch {
	case s.Machine.PolePairs == 0:
		return 0
	case s.Shaft.Free:
		return s.Shaft.StartSpeed
	}
	return s.Shaft.Speed
}

// Scenario returns what the drive runs by.
func (d *Drive) Scenario() Scenario { return d.scenario }

// Time returns the present time in s.
func (d *Drive) Time() float64 { return d.now }

// Now returns the drive at the present time; at a switching event, just after it.
func (d *Drive) Now() Instant { return d.seg.At(d.now) }

// Events returns how many switching events lie behind: gate edges, and legs that ended or started to carry
// current by themselves.
func (d *Drive) Events() int { return d.events }

// Account returns where the energy went up to the last event that lies behind.
func (d *Drive) Account() Account { return d.account }

// Clone returns a drive at the same present that goes on by itself, shown to no watchers. It runs on exactly as d does.
func (d *Drive) Clone() *Drive {
	c := *d
	c.seg.plant = &c.plant
	c.watchers, c.notices = nil, slices.Clip(c.notices)
	return &c
}

// Watch shows o every segment from the present one on.
func (d *Drive) Watch(o Observer) { d.watchers = append(d.watchers, o) }

// Advance carries the drive on by dt seconds. It fails where the drive comes to a state that it has no
// equations for, such as a shoot-through; the present time is then that of the failure.
func (d *Drive) Advance(dt float64) error {
	if !(dt >= 0) || math.IsInf(dt, 1) {
		return fmt.Errorf("drive: cannot advance by %g s", dt)
	}
	return d.advanceTo(d.now + dt)
}

func (d *Drive) advanceTo(t float64) error {
	for t >= d.seg.T1 {
		if err := d.pass(); err != nil {
			return err
		}
	}
	d.now = t
	return nil
}

// AdvanceToEvent carries the drive on to just after its next switching event, or by a second where none is
// near. It fails as Advance does.
func (d *Drive) AdvanceToEvent() error {
	before, limit := d.events, d.now+1
	for d.events == before && d.seg.T1 <= limit {
		if err := d.pass(); err != nil {
			return err
		}
	}
	if d.events == before {
		d.now = limit
	}
	return nil
}

// Change carries on by another scenario from the present time: currents, angles, speed and the link's
// voltage stay as they are, and so does the carrier's position. It fails, and changes nothing, for a
// scenario that New would refuse.
func (d *Drive) Change(s Scenario) error {
	if err := s.ready(); err != nil {
		return err
	}
	return d.carryOn(&s, d.present())
}

// Turn puts the rotor of a held shaft by so many electrical radians further at once, as a hand would between two
// looks at it; currents and all else stay as they are. Where the rotor is salient that takes work, which the account
// books as [Account.Hand]. It fails, and changes nothing, where no rotor is held.
func (d *Drive) Turn(by float64) error {
	s := d.scenario
	switch {
	case s.Machine.PolePairs == 0:
		return errors.New("a passive load has no rotor to turn")
	case s.Shaft.Free:
		return errors.New("the shaft is free, and only torque turns it; hold it to turn it by hand")
	case math.IsNaN(by) || math.IsInf(by, 0):
		return fmt.Errorf("drive: cannot turn by %g rad", by)
	}
	st := d.present()
	st.theta += by
	return d.carryOn(&s, st)
}

// carryOn goes on from the present time by scenario s, which is ready, and state st.
func (d *Drive) carryOn(s *Scenario, st state) error {
	next := *d
	found := d.present()
	unheated := s.Switches.unheated()
	next.scenario, next.legs = *s, newLegTable(&s.Switches, &unheated)
	next.base = newPlant(s)
	next.plant = next.base
	next.plant.ring = d.plant.ring
	if next.plant.capacitance == 0 || d.plant.capacitance == 0 {
		st.link = s.Supply.Voltage
	}
	if !next.plant.free {
		st.speed = s.startSpeed()
	}
	put := next.plant.stored(&st) - d.plant.stored(&found)
	if err := next.gate.change(d.now, s, &next.plant, &st); err != nil {
		return err
	}
	next.wiring = wiring{}
	next.reach = longest
	cut := d.seg
	next.seg.plant = &next.plant
	if err := next.resume(d.now, &st); err != nil {
		return err
	}
	broken := next.account.Broken - d.account.Broken // by faults of the new scenario, just now
	next.seg.plant = &d.plant
	if d.now > cut.T0 {
		cut.stride.take(&cut.stride.from, d.now-cut.T0, &cut.net, &d.plant)
		cut.T1, cut.traced = d.now, false
		d.show(&cut)
	}
	next.account = d.account
	next.account.handle(put)
	next.account.lose(broken)
	*d = next
	return nil
}

// present returns the state at the present time.
func (d *Drive) present() state {
	if d.now <= d.seg.T0 {
		return d.seg.stride.from
	}
	var st stride
	st.take(&d.seg.stride.from, d.now-d.seg.T0, &d.seg.net, &d.plant)
	return st.to
}

// show counts a finished segment and shows it to the watchers.
func (d *Drive) show(seg *Segment) {
	d.account.count(seg)
	for _, o := range d.watchers {
		o.Observe(seg)
	}
}

// pass leaves the present segment behind, lets happen what ends it, and integrates the next.
func (d *Drive) pass() error {
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
	if err := d.wire(t, s, ^inverter.Gates(0)); err != nil {
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
		gates, changed = 0, ^inverter.Gates(0)
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
		changed = ^inverter.Gates(0)
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

// fill integrates the segment that starts at time t with state s.
func (d *Drive) fill(t float64, s *state) error {
	seg := &d.seg
	seg.T0, seg.traced = t, false
	d.ending = ending{}
	until := min(d.gate.peek(), d.wiring.next, d.stop)
	h := d.stretch(s, until-t)
	for {
		seg.stride.take(s, h, &seg.net, &d.plant)
		miss := d.miss()
		if miss <= 1 {
			if h > d.reach/2 && h < longest {
				d.reach = max(d.reach, h*min(5, 0.9*math.Pow(max(miss, 1e-4), -0.2)))
			}
			break
		}
		if math.IsNaN(miss) || t+h == t {
			return fmt.Errorf("drive: the equations run away at %.9g s", t)
		}
		d.reach = h * max(0.2, 0.9*math.Pow(miss, -0.2))
		h = evenly(h, d.reach)
	}
	seg.T1 = until
	if h < until-t {
		seg.T1 = t + h
	}
	if seg.net.anyGuard || seg.net.tied < 3 || d.watchful() {
		d.guard(t, s)
	}
	if d.plant.source > 0 {
		for _, y := range [2]*state{s, &seg.stride.to} {
			if v := d.plant.linkVoltage(y, dot(seg.net.g, y.i)); v < 0 {
				return &LinkError{Time: seg.T1, Voltage: v}
			}
		}
	}
	d.recent = max(dust, fading*d.recent, largest(seg.stride.to.i))
	d.size = max(d.size, d.recent)
	if seg.T1-t > 4*(math.Nextafter(t, math.Inf(1))-t) {
		d.stalls = 0
	} else if d.stalls++; d.stalls > mostStalls {
		return fmt.Errorf("drive: the legs do not settle at %.9g s", t)
	}
	return nil
}

// evenly returns the longest equal part of h that is no longer than most: a short remainder after a long
// stride would cost as much as that.
func evenly(h, most float64) float64 {
	if n := math.Ceil(h / most); n > 1 && !math.IsInf(n, 1) {
		return h / n
	}
	return min(h, most)
}

// stretch returns how long a stride may be tried.
func (d *Drive) stretch(s *state, h float64) float64 {
	h = evenly(h, min(d.reach, longest))
	if n := &d.seg.net; n.anyGuard || n.tied < 3 || d.watchful() {
		if turn := math.Abs(s.speed) * d.plant.pairs * h; turn > guardedTurn {
			h *= guardedTurn / turn
		}
	}
	return h
}

// guard ends the segment, from t and s on, where a leg stops or starts to carry current.
func (d *Drive) guard(t float64, s *state) {
	seg := &d.seg
	e := d.watch()
	if e.cause == nothing {
		return
	}
	h := e.at * seg.stride.h
	most := seg.stride.h
	seg.stride.take(s, h, &seg.net, &d.plant)
	if e.cause == currentEnds && h > 0 {
		// The continuous extension is an order less exact than the stride: go where the stride says.
		for range 4 {
			i := dot(d.plant.axes[e.leg], seg.stride.to.i)
			slope := dot(d.plant.axes[e.leg], seg.stride.rates[stages-1].i)
			step := i / slope
			if slope == 0 || h-step <= 0 || h-step > most {
				break
			}
			h -= step
			seg.stride.take(s, h, &seg.net, &d.plant)
			if math.Abs(step) < 1e-15 {
				break
			}
		}
	}
	seg.T1 = t + h
	d.ending = e
}

// miss returns the stride's defect in units of what the tolerance allows.
func (d *Drive) miss() float64 {
	st, p := &d.seg.stride, &d.plant
	size := max(d.recent, st.cancelled(p), largest(st.to.i), st.h*largest(st.rates[0].i), st.h*largest(st.rates[stages-1].i))
	miss := 0.0
	if size > 0 {
		miss = largest(st.defect.i) / size
	}
	if p.slow() {
		miss = max(miss, math.Abs(st.defect.theta), math.Abs(st.defect.speed)/max(math.Abs(st.from.speed), math.Abs(st.to.speed), 1))
	}
	if p.ring.on() {
		miss = max(miss, math.Abs(st.defect.ring)/max(size, math.Abs(st.to.ring)))
	}
	if p.capacitance != 0 {
		miss = max(miss, math.Abs(st.defect.link)/max(d.base.voltage, math.Abs(st.to.link)))
	}
	return miss / tolerance
}

// cancelled returns the current, in A, whose tolerance is the rounding of voltages that cancel: a ten thousandth of
// what they would drive alone.
func (st *stride) cancelled(p *plant) float64 {
	return 1e-4 * st.h * (p.voltage + math.Abs(p.pairs*st.from.speed*p.psi)) / min(p.ld, p.lq)
}

// largest returns the larger size of a vector's two parts.
func largest(v inverter.Vector) float64 { return max(math.Abs(v.Alpha), math.Abs(v.Beta)) }
