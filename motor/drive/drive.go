// Package drive runs a bridge wired to a machine: scenario in, record out. Between two switching events
// nothing jumps, so the equations are integrated from event to event with controlled error; gate edges come
// exactly from the pattern, and the instants at which a current or a diode ends or starts are solved for.
package drive

import (
	"errors"
	"fmt"
	"math"
	"slices"
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
	left     *int // strides that may be taken, where that is bounded
}

// New returns a drive at t = 0, its dead times long over. It fails as [Scenario.Validate] does, for gates
// that short the supply, and for what no circuit can do.
//
// Junctions whose temperature is to come of their heat are taken to be as cold as their sink: [Simulation]
// finds what it comes to.
func New(s Scenario) (*Drive, error) { return newDrive(s, s.Switches.allUnheated()) }

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

// Tripped reports whether the protection has blocked the gates, because both devices of a leg conducted.
func (d *Drive) Tripped() bool { return d.wiring.tripped }

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
	unheated := s.Switches.allUnheated()
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
