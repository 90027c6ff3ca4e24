package drive

import (
	"math"
	"testing"
)

// watched returns a drive of s with a law watching it, which is asked when the test ends.
func watched(t *testing.T, s Scenario) (*Drive, *Law) {
	t.Helper()
	d, err := New(s)
	if err != nil {
		t.Fatal(err)
	}
	l := NewLaw(&s)
	d.Watch(l)
	t.Cleanup(func() { kept(t.Errorf, l) })
	return d, l
}

// kept fails for each breach.
func kept(fail func(string, ...any), l *Law) {
	for _, text := range l.Broken() {
		fail("%s", text)
	}
}

// balance checks the energy account of the whole run so far, to 1e-9 of what passed.
func balance(t *testing.T, d *Drive) {
	t.Helper()
	if a := d.Account(); !(math.Abs(a.Residual()) <= 1e-9*a.Passed) {
		t.Errorf("energy: %g J missing of %g J that passed: %+v", a.Residual(), a.Passed, a)
	}
}

// A law that could not be broken would be no law: runs that are told of wrongly break it.
func TestLawBreaks(t *testing.T) {
	s := turning(machineA, 0, 350, 3000, 0, 0.01)
	s.Gating.Frequency = 200
	for name, spoil := range map[string]func(*Instant){
		"currents":  func(x *Instant) { x.Current[0] += 1e-3 },
		"rails":     func(x *Instant) { x.Pole[1] = -1 },
		"link":      func(x *Instant) { x.LinkCurrent += 1 },
		"diode":     func(x *Instant) { x.Ways[2] = 0 },
		"bridge":    func(x *Instant) { x.Power.Bridge += 1 },
		"store":     func(x *Instant) { x.Power.Store += 1 },
		"numbers":   func(x *Instant) { x.Torque = math.NaN() },
		"phases":    func(x *Instant) { x.Phase[0] += 1 },
		"no number": func(x *Instant) { x.Speed = math.Inf(1) },
	} {
		l := NewLaw(&s)
		d, err := New(s)
		if err != nil {
			t.Fatal(err)
		}
		if err := d.Advance(1.1e-3); err != nil {
			t.Fatal(err)
		}
		x := d.Now()
		l.instant(x)
		if l.Broken() != nil || l.Instants() != 1 {
			t.Fatalf("%v", l.Broken())
		}
		spoil(&x)
		if l.instant(x); l.Broken() == nil {
			t.Errorf("%s: nobody minds %+v", name, x)
		}
	}
	sum := simulate(t, s)
	for name, spoil := range map[string]func(*Summary){
		"account":    func(s *Summary) { s.Energy.Residual = 1e-3 },
		"heat":       func(s *Summary) { s.Energy.Copper = -1 },
		"efficiency": func(s *Summary) { s.Energy.Supplied, s.Energy.StoredChange, s.Energy.ToShaft = 10, 0, 11 },
		"numbers":    func(s *Summary) { s.Phases[0].CurrentMean = math.NaN() },
	} {
		l, spoilt := NewLaw(&s), sum
		spoilt.Phases = append([]PhaseSummary(nil), sum.Phases...)
		spoil(&spoilt)
		if l.Sums(&spoilt); l.Broken() == nil {
			t.Errorf("%s: nobody minds %+v", name, spoilt.Energy)
		}
	}
}
