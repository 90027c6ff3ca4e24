package drive

import (
	"math"
	"testing"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor"
)

// controlled returns machine m at a held speed in rpm under field-oriented control.
func controlled(m motor.Machine, rpm, id, iq float64) Scenario {
	s := turning(m, pattern.SpaceVector, 350, rpm, 50e-3, 60/rpm/4*5)
	s.Gating.Follow, s.Gating.Carrier, s.Gating.ID, s.Gating.IQ = Current, 16e3, id, iq
	return s
}

// Krishnan, Permanent Magnet Synchronous and Brushless DC Motor Drives (CRC, 2010), ch. 3: machine A at
// 3000 rpm, id = 0, iq = 120 A and -120 A, in the steady dq equations. The ripple of the carrier adds its
// own copper loss, a few per mille.
func TestCurrentControl(t *testing.T) {
	for _, tt := range []struct{ iq, torque, supply float64 }{{120, 57.6, 18527.57 / 350}, {-120, -57.6, -17663.57 / 350}} {
		s := simulate(t, controlled(machineA, 3000, 0, tt.iq))
		near(t, "iq", s.Machine.IQMean, tt.iq, 2e-3)
		near(t, "torque", s.Machine.TorqueMean, tt.torque, 2e-3)
		near(t, "supply", s.Supply.CurrentMean, tt.supply, 5e-3)
		if math.Abs(s.Machine.IDMean) > 0.5 {
			t.Errorf("id %g A, want 0", s.Machine.IDMean)
		}
		near(t, "fundamental", s.Phases[0].FundamentalPeak, 120, 2e-3)
	}
}

// Most torque per ampere of the salient machine B at 200 A (Morimoto et al., IEEE Trans. IA-26 (1990) 866).
func TestCurrentControlSalient(t *testing.T) {
	s := simulate(t, controlled(machineB, 2000, -89.6805, 178.7663))
	near(t, "torque", s.Machine.TorqueMean, 114.6652, 3e-3)
}

// A step of the command closes like a first-order lag of the chosen bandwidth once the delay of a sample
// and a half is counted: after five time constants it is within a few per cent and does not ring.
func TestCurrentControlStep(t *testing.T) {
	sc := controlled(machineA, 1000, 0, 100)
	sc.Gating.Bandwidth = 500
	d, err := New(sc)
	if err != nil {
		t.Fatal(err)
	}
	lag := 1 / (2 * math.Pi * 500)
	most := 0.0
	for range 400 {
		if err := d.Advance(lag / 20); err != nil {
			t.Fatal(err)
		}
		most = max(most, d.Now().IQ)
		if x := d.Now(); x.Time > 5*lag && math.Abs(x.IQ-100) > 12 { // carrier ripple is about 8 A
			t.Fatalf("iq %g A at %g s", x.IQ, x.Time)
		}
	}
	if most > 125 {
		t.Errorf("iq overshoots to %g A", most)
	}
}

// Where the voltage does not suffice the current falls short, stays finite, and comes back without a long
// tail when the speed's voltage does suffice: the integrals have not wound up.
func TestCurrentControlAtTheLimit(t *testing.T) {
	sc := controlled(machineA, 9000, 0, 200)
	d, err := New(sc)
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Advance(0.1); err != nil {
		t.Fatal(err)
	}
	if iq := d.Now().IQ; iq > 190 {
		t.Errorf("iq reaches %g A without the voltage for it", iq)
	}
	sc.Shaft.Speed = rpm(1000)
	if err := d.Change(sc); err != nil {
		t.Fatal(err)
	}
	if err := d.Advance(10e-3); err != nil {
		t.Fatal(err)
	}
	if iq := d.Now().IQ; math.Abs(iq-200) > 15 {
		t.Errorf("10 ms after the limit iq is %g A, want 200 A", iq)
	}
}

// A speed loop carries a loaded shaft from rest to its command.
func TestSpeedLoop(t *testing.T) {
	sc := controlled(machineA, 1, 0, 0)
	sc.Shaft = Shaft{Free: true, Inertia: 0.05, LoadTorque: 20}
	sc.Gating.SpeedLoop, sc.Gating.SpeedCommand, sc.Gating.CurrentLimit = true, rpm(1500), 200
	sc.Run = Window{Settle: 0.5, Measure: 0.02}
	s := simulate(t, sc)
	near(t, "speed", s.Machine.SpeedMean, 1500, 1e-3)
	near(t, "torque", s.Machine.TorqueMean, 20, 2e-2)
}

// Krishnan, ch. 9: which switches the three sensors ask for, checked through the whole turn, forward and
// backward; the vector is 60 to 120 degrees ahead of the d axis.
func TestSensorTable(t *testing.T) {
	table := []struct {
		middle float64 // of the rotor's sixth of a turn, deg
		on     inverter.Gates
	}{
		{180, inverter.On(inverter.WHigh, inverter.VLow)},
		{240, inverter.On(inverter.UHigh, inverter.VLow)},
		{300, inverter.On(inverter.UHigh, inverter.WLow)},
		{0, inverter.On(inverter.VHigh, inverter.WLow)},
		{60, inverter.On(inverter.VHigh, inverter.ULow)},
		{120, inverter.On(inverter.WHigh, inverter.ULow)},
	}
	for _, speed := range []float64{600, -600} {
		sc := turning(machineA, pattern.SixStep120, 350, speed, 0, 1)
		sc.Gating.Follow = Rotor
		d, err := New(sc)
		if err != nil {
			t.Fatal(err)
		}
		turn := 60 / 600. / 4
		for range 720 {
			if err := d.Advance(turn / 359.3); err != nil {
				t.Fatal(err)
			}
			x := d.Now()
			for _, row := range table {
				if deg := x.Rotor * 180 / math.Pi; math.Abs(math.Remainder(deg-row.middle, 360)) < 29.9 && x.Gates != row.on {
					t.Fatalf("rotor at %.1f deg: %v on, want %v", deg, x.Gates, row.on)
				}
			}
		}
	}
}

// A rotor that stands exactly where a sensor changes, or a trapezoid bends, is in one part of the turn or
// the other and stays there.
func TestStandingOnABorder(t *testing.T) {
	m := machineA
	m.EMF = motor.Trapezoid
	for deg := 30.0; deg < 360; deg += 60 {
		sc := turning(m, pattern.SixStep120, 48, 0, 0, 10e-3)
		sc.Gating.Follow, sc.Shaft.StartAngle = Rotor, deg*math.Pi/180
		if s := simulate(t, sc); s.Events > 10 {
			t.Errorf("at %g deg a standing rotor makes %d events", deg, s.Events)
		}
	}
}

// Sensor 1 stuck high: one sixth of the turn has an impossible code and no switch on, two have a wrong one.
func TestStuckSensor(t *testing.T) {
	sc := turning(machineA, pattern.SixStep120, 350, 600, 0, 1)
	sc.Gating.Follow = Rotor
	sc.Faults = []Fault{{Kind: PositionSensorStuck, Phase: inverter.U, Value: 1}}
	d, err := New(sc)
	if err != nil {
		t.Fatal(err)
	}
	off, all := 0, 720
	for range all {
		if err := d.Advance(60 / 600. / 4 / 360); err != nil {
			t.Fatal(err)
		}
		if d.Now().Gates == 0 {
			off++
		}
	}
	if share := float64(off) / float64(all); math.Abs(share-1./6) > 0.01 {
		t.Errorf("no switch on for %.3f of the turn, want a sixth", share)
	}
}

// A sensor-driven machine starts from rest, and chopping its switches makes it slower.
func TestRotorFollowing(t *testing.T) {
	speed := func(side ChopSide, chop float64) float64 {
		sc := turning(motor.Machine{PolePairs: 2, Resistance: 0.3, InductanceD: 0.5e-3, InductanceQ: 0.5e-3, FluxLinkage: 0.05, EMF: motor.Trapezoid},
			pattern.SixStep120, 48, 0, 1.5, 0.05)
		sc.Gating.Follow, sc.Gating.Chop, sc.Gating.ChopSide, sc.Gating.Carrier = Rotor, chop, side, 10e3
		sc.Shaft = Shaft{Free: true, Inertia: 1e-3, LoadTorque: 0.5}
		return simulate(t, sc).Machine.SpeedMean
	}
	full := speed(ChopHigh, 1)
	// 48 V less two phases' resistive drop at I = T/(2 p ψ), over 2 p ψ (brushless machines are direct-current
	// machines turned inside out: Krishnan, ch. 9); commutation takes some.
	want := (48 - 2*0.3*0.5/0.2) / 0.2 * 30 / math.Pi
	near(t, "full speed", full, want, 3e-2)
	for _, side := range []ChopSide{ChopHigh, ChopLow, ChopBoth} {
		if half := speed(side, 0.6); half > 0.8*full || half < 0.05*full {
			t.Errorf("chopped by 0.6 on side %v: %g rpm of %g", side, half, full)
		}
	}
}

// At constant current through two phases under the flat tops the torque is 2 p ψ I (Krishnan, ch. 9), and
// torque times speed is what the EMFs take up, always.
func TestTrapezoid(t *testing.T) {
	m := machineA
	m.EMF = motor.Trapezoid
	sc := turning(m, pattern.SixStep120, 350, 1000, 0, 1)
	sc.Gating.Follow = Rotor
	d, err := New(sc)
	if err != nil {
		t.Fatal(err)
	}
	for range 500 {
		if err := d.Advance(41e-6); err != nil {
			t.Fatal(err)
		}
		x := d.Now()
		power := 0.0
		for k := range x.Current {
			power += x.EMF[k] * x.Current[k]
		}
		if math.Abs(power-x.Power.Shaft) > 1e-9*(1+math.Abs(power)) {
			t.Fatalf("at %g s the EMFs take %g W, the shaft %g W", x.Time, power, x.Power.Shaft)
		}
		if i := math.Abs(x.Current[0]); x.Ways[2] == inverter.Idle && math.Abs(off(x.Rotor, 240*math.Pi/180)) < 29*math.Pi/180 {
			if want := 2 * 4 * 0.08 * i; math.Abs(math.Abs(x.Torque)-want) > 1e-9*(1+want) {
				t.Fatalf("torque %g N m at %g A, want %g", x.Torque, i, want)
			}
		}
	}
	sc.Run = Window{Settle: 0.02, Measure: 0.015}
	simulate(t, sc)
}

// A voltage that goes with the frequency, and rises slowly, takes the rotor along; switched on at once it
// does not, and the drive says so.
func TestRampKeepsStep(t *testing.T) {
	m := motor.Machine{PolePairs: 2, Resistance: 0.5, InductanceD: 0.5e-3, InductanceQ: 0.5e-3, FluxLinkage: 0.05}
	sc := turning(m, pattern.SpaceVector, 48, 0, 2.5, 0.1)
	sc.Gating.Frequency, sc.Gating.Modulation, sc.Gating.Carrier = 25, 0.5, 5e3
	sc.Gating.Ramp, sc.Gating.Boost, sc.Gating.Phase = 15, 0.1, math.Pi/2
	sc.Shaft = Shaft{Free: true, Inertia: 2e-3, Friction: 2e-3}
	s := simulate(t, sc)
	near(t, "speed", s.Machine.SpeedMean, 60*25/2., 1e-2)
	if len(s.Notices) != 0 {
		t.Errorf("told of a rotor that kept step: %v", s.Notices)
	}
	sc.Gating.Ramp, sc.Gating.Boost = 0, 0
	sc.Gating.Frequency, sc.Run.Settle = 100, 0.5
	s = simulate(t, sc)
	if len(s.Notices) != 1 {
		t.Fatalf("a rotor left behind makes %d notices", len(s.Notices))
	}
	if s.Machine.SpeedMean > 600 {
		t.Errorf("a rotor left behind turns at %g rpm", s.Machine.SpeedMean)
	}
}

// A full battery: the source takes nothing back, so what the machine sends raises the link.
func TestSupplyRefusesCharge(t *testing.T) {
	sc := controlled(machineA, 3000, 0, -60)
	sc.Supply = Supply{Voltage: 350, Resistance: 0.02, Capacitance: 5e-3, Refuses: true}
	sc.Run = Window{Settle: 10e-3, Measure: 20e-3}
	s := simulate(t, sc)
	if len(s.Notices) != 1 {
		t.Errorf("notices: %v", s.Notices)
	}
	if s.Supply.CurrentMean != 0 || s.Energy.Supplied != 0 {
		t.Errorf("a supply that refuses takes %g A", s.Supply.CurrentMean)
	}
	// Power in, less copper, charges the capacitor: C (v1² - v0²)/2.
	near(t, "stored", s.Energy.StoredChange, -s.Energy.ToShaft-s.Energy.Copper, 1e-9)
	if s.Energy.StoredChange < 50 {
		t.Errorf("only %g J went into the link", s.Energy.StoredChange)
	}
	for _, limit := range []float64{10, 0.5} {
		sc.Supply.Refuses, sc.Supply.ChargeLimit = false, limit
		near(t, "charge", simulate(t, sc).Supply.CurrentMean, -limit, 1e-6)
	}
}

// Dry friction holds a shaft until the torque exceeds it, and stops it for good.
func TestDryFriction(t *testing.T) {
	sc := turning(machineA, pattern.AllOff, 350, 0, 0, 1)
	sc.Shaft = Shaft{Free: true, Inertia: 0.01, StartSpeed: rpm(100), Coulomb: 2}
	d, err := New(sc)
	if err != nil {
		t.Fatal(err)
	}
	// Ω J / T = 52.36 ms to rest.
	if err := d.Advance(0.052); err != nil {
		t.Fatal(err)
	}
	near(t, "speed", d.Now().Speed, rpm(100)-2/0.01*0.052, 1e-6)
	if err := d.Advance(0.5); err != nil {
		t.Fatal(err)
	}
	if x := d.Now(); x.Speed != 0 {
		t.Errorf("still turns at %g rad/s", x.Speed)
	}
	sc.Shaft = Shaft{Free: true, Inertia: 0.01, Coulomb: 2, LoadTorque: 1.9}
	if d, err = New(sc); err != nil {
		t.Fatal(err)
	}
	if err := d.Advance(0.1); err != nil {
		t.Fatal(err)
	}
	if x := d.Now(); x.Speed != 0 {
		t.Errorf("a load below the friction turns the shaft at %g rad/s", x.Speed)
	}
	sc.Shaft.LoadTorque = 2.5
	if d, err = New(sc); err != nil {
		t.Fatal(err)
	}
	if err := d.Advance(0.1); err != nil {
		t.Fatal(err)
	}
	near(t, "speed under load", d.Now().Speed, -0.5/0.01*0.1, 1e-6)
}

// Two leads crossed: the field turns backward with respect to the winding (trade, common practice), so the
// currents of a passive load merely change names, and a held magnet sees slip.
func TestPhaseSwap(t *testing.T) {
	sc := turning(machineA, pattern.SixStep180, 60, 1500, 0.2, 0.02)
	sc.Gating.Frequency, sc.Gating.Phase = 100, math.Pi/2
	healthy := simulate(t, sc)
	sc.Faults = []Fault{{Kind: PhaseSwap, Phase: inverter.U}}
	swapped := simulate(t, sc)
	if swapped.Phases[1].CurrentRMS < 2*healthy.Phases[1].CurrentRMS {
		t.Errorf("crossed leads: %g A, healthy %g A", swapped.Phases[1].CurrentRMS, healthy.Phases[1].CurrentRMS)
	}
	// A shaft that turns the other way finds them right.
	sc.Shaft.Speed = -sc.Shaft.Speed
	back := simulate(t, sc)
	near(t, "backward", back.Phases[1].CurrentRMS, healthy.Phases[1].CurrentRMS, 1e-6)
	near(t, "torque backward", back.Machine.TorqueMean, -healthy.Machine.TorqueMean, 1e-6)
}

// A delta of windings is a star of a third of their impedance (any machines text).
func TestDeltaIsItsStar(t *testing.T) {
	delta := motor.Machine{Connection: motor.Delta, PolePairs: 4, Resistance: 60e-3, InductanceD: 0.6e-3, InductanceQ: 1.5e-3, FluxLinkage: 0.08 * math.Sqrt(3)}
	a := simulate(t, controlled(delta, 2000, -50, 100))
	b := simulate(t, controlled(machineB, 2000, -50, 100))
	near(t, "torque", a.Machine.TorqueMean, b.Machine.TorqueMean, 1e-9)
	near(t, "rms", a.Phases[0].CurrentRMS, b.Phases[0].CurrentRMS, 1e-9)
}
