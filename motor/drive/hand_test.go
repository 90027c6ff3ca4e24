package drive_test

import (
	"math"
	"testing"

	"sextant/inverter"
	"sextant/motor/drive"
)

// fieldEnergy is what the textbook has in the inductances, 3/4 (L_d i_d² + L_q i_q²), in J (Krishnan, Permanent Magnet
// Synchronous and Brushless DC Motor Drives, CRC 2010, ch. 3: dq transformation that keeps lengths).
func fieldEnergy(s *drive.Scenario, i drive.Instant) float64 {
	m := s.Machine
	return 0.75 * (m.InductanceD*i.ID*i.ID + m.InductanceQ*i.IQ*i.IQ)
}

// A hand that turns a salient rotor while currents flow moves energy, and the account has all of it: what is stored grows
// by what the hand gave and the rest left.
func TestAccountOfAHand(t *testing.T) {
	s := open(t, "trainer-pwm")
	s.Machine.InductanceQ = 2.5 * s.Machine.InductanceD
	d := start(t, s)
	start := fieldEnergy(&s, d.Now())
	for k := range 5 {
		advance(t, d, 0.0037)
		before, booked := fieldEnergy(&s, d.Now()), d.Account().Hand
		if err := d.Turn(0.4 + 0.3*float64(k)); err != nil {
			t.Fatal(err)
		}
		after := fieldEnergy(&s, d.Now())
		a := d.Account()
		if math.Abs(after-before) < 1e-6 {
			t.Fatalf("turn %d moves %g J, too little to see", k, after-before)
		}
		if off := a.Hand - booked - (after - before); math.Abs(off) > 1e-9*a.Passed {
			t.Errorf("turn %d: booked %g J, the field gained %g J", k, a.Hand-booked, after-before)
		}
		if off := a.Stored - (after - start); math.Abs(off) > 1e-9*a.Passed {
			t.Errorf("turn %d: stored grew by %g J, the field by %g J", k, a.Stored, after-start)
		}
		if math.Abs(a.Residual()) > 1e-9*a.Passed {
			t.Errorf("turn %d: %g J are missing of %g J", k, a.Residual(), a.Passed)
		}
	}
}

// A capacitor that a change puts in comes charged, and one that it takes out is gone with its charge.
func TestAccountOfACapacitor(t *testing.T) {
	s := open(t, "trainer-pwm")
	d := start(t, s)
	advance(t, d, 0.01)
	with := s
	with.Supply.Resistance, with.Supply.Capacitance = 0.1, 1e-3
	if err := d.Change(with); err != nil {
		t.Fatal(err)
	}
	charge := with.Supply.Capacitance * with.Supply.Voltage * with.Supply.Voltage / 2
	if got := d.Account().Hand; math.Abs(got-charge) > 1e-9*charge {
		t.Errorf("a capacitor of %g J was booked as %g J", charge, got)
	}
	if err := d.Change(s); err != nil {
		t.Fatal(err)
	}
	if a := d.Account(); math.Abs(a.Hand) > 1e-9*charge || math.Abs(a.Residual()) > 1e-9*a.Passed {
		t.Errorf("put in and taken out at once: %+v", a)
	}
}

// A clone runs on exactly as its original, and neither knows of the other.
func TestClone(t *testing.T) {
	for _, name := range []string{"trainer-pwm", "trainer-120", "hauler-climb", "trainer-speed", "passive-rl"} {
		s := open(t, name)
		d := start(t, s)
		advance(t, d, 0.0123)
		other, alone := d.Clone(), d.Clone()
		broken := s
		broken.Faults = append(broken.Faults, drive.Fault{Kind: drive.PhaseOpen, Phase: inverter.V, Time: other.Time()})
		if err := other.Change(broken); err != nil {
			t.Fatal(err)
		}
		advance(t, other, 0.02)
		for _, dt := range []float64{0.001, 0.0005, 0.01} {
			advance(t, d, dt)
			advance(t, alone, dt)
			if d.Now() != alone.Now() || d.Account() != alone.Account() {
				t.Errorf("%s: the clone is at %+v, the original at %+v", name, alone.Now(), d.Now())
			}
		}
		if other.Now().Current == d.Now().Current {
			t.Errorf("%s: a change of a clone changes the original", name)
		}
		early, late := d.Clone(), d.Clone()
		advance(t, early, 0.002)
		want := early.Now()
		hotter := s
		hotter.Machine.Resistance *= 20
		if err := d.Change(hotter); err != nil {
			t.Fatal(err)
		}
		advance(t, late, 0.002)
		if late.Now() != want {
			t.Errorf("%s: a change of the original changes its clone", name)
		}
	}
}
