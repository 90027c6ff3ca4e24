package drive

import (
	"math"
	"strings"
	"testing"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor"
)

// With no current in the leads the shorted turns are a coil of their own in the magnet's field: the EMF of its
// turns drives their current against their resistance and inductance, and the shaft pays for its heat. A coil of a
// share μ of a phase's turns has μ² of the inductance that the phase has by the air gap's field, 2/3 (L - L_l), and
// μ of its leakage. Its torque is its EMF times its current over the speed: with its mean it swings at
// twice the frequency by E I/Ω from least to most.
func TestShortedTurnsAlone(t *testing.T) {
	const mu, n = 0.15, 1200.
	omega := 4 * rpm(n)
	leak := 0.1 * machineA.InductanceD
	l := mu*mu*2/3*(machineA.InductanceD-leak) + mu*leak
	r := mu * machineA.Resistance
	e := mu * omega * machineA.FluxLinkage
	peak := e / math.Hypot(r, omega*l)
	turn := 2 * math.Pi / omega
	s := faulted(t, turning(machineA, pattern.AllOff, 350, n, 40*turn, 2*turn), Fault{Kind: TurnsShorted, Phase: inverter.W, Value: mu})
	x := s.Turns
	if x == nil || x.Phase != inverter.W || x.Share != mu {
		t.Fatalf("shorted turns: %+v", x)
	}
	near(t, "peak", x.CurrentPeak, peak, 1e-6)
	near(t, "rms", x.CurrentRMS, peak/math.Sqrt2, 1e-6)
	near(t, "heat", x.Loss, r*peak*peak/2, 1e-6)
	near(t, "copper loss", s.Machine.CopperLoss, r*peak*peak/2, 1e-6)
	near(t, "torque", s.Machine.TorqueMean, -r*peak*peak/2/rpm(n), 1e-6)
	near(t, "swing", s.Machine.TorqueRipple, e*peak/rpm(n), 1e-4)
	if s.Phases[2].CurrentRMS != 0 || s.Supply.CurrentRMS != 0 {
		t.Errorf("currents in the leads: %+v", s.Phases)
	}
}

// At standstill direct current does not flow in turns that are closed on themselves: two phases in series measure
// 2R - μR, which is what an ohmmeter reads.
func TestShortedTurnsByOhmmeter(t *testing.T) {
	sc := turning(machineB, pattern.ByHand, 1, 0, 1, 0.01)
	sc.Gating.Hand = inverter.Gates(0).With(inverter.UHigh).With(inverter.VLow)
	const mu = 0.3
	s := faulted(t, sc, Fault{Kind: TurnsShorted, Phase: inverter.U, Value: mu})
	near(t, "U", s.Phases[0].CurrentMean, 1/((2-mu)*20e-3), 1e-6)
	if x := s.Turns.CurrentRMS; x > 1e-6 {
		t.Errorf("the shorted turns carry %g A", x)
	}
}

// A winding shorted from end to end leaves no voltage between its terminal and the star point, whatever the
// other two do.
func TestShortedWinding(t *testing.T) {
	sc := traction(10e3)
	sc.Faults = []Fault{{Kind: TurnsShorted, Phase: inverter.V, Value: 1}}
	d, law := watched(t, sc)
	other := 0.0
	for range 200 {
		if err := d.Advance(37e-6); err != nil {
			t.Fatal(err)
		}
		x := d.Now()
		if other = max(other, math.Abs(x.Phase[0])); math.Abs(x.Phase[1]) > 1e-6 {
			t.Fatalf("phase voltages %v at %g s", x.Phase, x.Time)
		}
	}
	if other < 100 {
		t.Errorf("no more than %g V across another winding", other)
	}
	kept(t.Errorf, law)
}

// The fewer turns are shorted, the nearer is the machine to the healthy one.
func TestFewTurnsShorted(t *testing.T) {
	sc := controlled(machineB, 3000, -20, 80)
	sc.Run = Window{Settle: 0.05, Measure: 0.02}
	healthy := simulate(t, sc)
	before := math.Inf(1)
	for _, mu := range []float64{0.1, 0.01, 1e-3, 1e-6} {
		s := faulted(t, sc, Fault{Kind: TurnsShorted, Phase: inverter.U, Value: mu})
		off := math.Abs(s.Machine.TorqueMean - healthy.Machine.TorqueMean)
		if !(off < before/2) {
			t.Errorf("with %g of the turns shorted the torque is off by %g N m, before by %g", mu, off, before)
		}
		before = off
	}
	if before > 1e-4*healthy.Machine.TorqueMean {
		t.Errorf("off by %g N m in the end", before)
	}
}

// Where a short strikes, its turns carry what their winding does, and nothing jumps. Where it parts, what it
// alone held, L_σ x²/2, sparks away; where legs keep the flux they keep all else.
func TestShortStrikesAndParts(t *testing.T) {
	sc := traction(10e3)
	const mu, strikes, parts = 0.2, 3.03e-3, 7.07e-3
	sc.Faults = []Fault{{Kind: TurnsShorted, Phase: inverter.V, Value: mu, Time: strikes, Until: parts}}
	d, law := watched(t, sc)
	advanceTo := func(to float64) Instant {
		t.Helper()
		if err := d.Advance(to - d.Time()); err != nil {
			t.Fatal(err)
		}
		return d.Now()
	}
	a, b := advanceTo(strikes-1e-9), advanceTo(strikes)
	near(t, "turns", b.Turns, b.Current[1], 1e-9)
	near(t, "V", b.Current[1], a.Current[1], 1e-4)
	near(t, "torque", b.Torque, a.Torque, 1e-4)
	if broken := d.Account().Broken; broken != 0 {
		t.Errorf("%g J broken at the strike", broken)
	}
	a, b = advanceTo(parts-1e-9), advanceTo(parts)
	leakage := mu * (1 - 2*mu/3) * 0.1 * machineB.InductanceD
	short := a.Turns - a.Current[1]
	near(t, "broken", d.Account().Broken, leakage*short*short/2, 1e-4)
	near(t, "torque", b.Torque, a.Torque, 1e-4)
	if b.Turns != 0 {
		t.Errorf("%g A in turns that are not shorted", b.Turns)
	}
	advanceTo(10e-3)
	kept(t.Errorf, law)
}

// A change of another setting leaves the short's current as it is; one that takes the short away leaves the legs what
// makes the same field.
func TestChangeWithShortedTurns(t *testing.T) {
	sc := traction(10e3)
	sc.Faults = []Fault{{Kind: TurnsShorted, Phase: inverter.V, Value: 0.2}}
	d, _ := watched(t, sc)
	if err := d.Advance(5e-3); err != nil {
		t.Fatal(err)
	}
	before := d.Now()
	sc.Gating.Modulation = 0.5
	if err := d.Change(sc); err != nil {
		t.Fatal(err)
	}
	near(t, "turns", d.Now().Turns, before.Turns, 1e-9)
	near(t, "V", d.Now().Current[1], before.Current[1], 1e-9)
	sc.Faults = nil
	if err := d.Change(sc); err != nil {
		t.Fatal(err)
	}
	after := d.Now()
	near(t, "torque", after.Torque, before.Torque, 1e-9)
	near(t, "V", after.Current[1], before.Current[1]+2./3*0.2*(before.Turns-before.Current[1]), 1e-9)
	if after.Turns != 0 || d.Account().Broken <= 0 {
		t.Errorf("%g A in turns that are not shorted, %g J broken", after.Turns, d.Account().Broken)
	}
}

// An average observes the mean of the leads' current in the rotor's frame, by Simpson's rule.
type average struct {
	time float64
	dq   motor.DQ
}

func (a *average) Observe(s *Segment) {
	h := s.T1 - s.T0
	x, y, z := s.At(s.T0), s.At(s.T0+h/2), s.At(s.T1)
	a.time += h
	a.dq.D += h / 6 * (x.ID + 4*y.ID + z.ID)
	a.dq.Q += h / 6 * (x.IQ + 4*y.IQ + z.IQ)
}

// What i_d and i_q tell is of the leads, as the control sees it, and not of what the shorted turns add; Park's
// transformation of the phase currents is the same at every instant.
func TestLeadsInTheRotorsFrame(t *testing.T) {
	sc := controlled(machineB, 3000, -20, 80)
	sc.Run = Window{Settle: 0.05, Measure: 0.02}
	sc.Faults = []Fault{{Kind: TurnsShorted, Phase: inverter.U, Value: 0.2}}
	var a average
	sum := simulate(t, sc, &a)
	near(t, "i_d", sum.Machine.IDMean, a.dq.D/a.time, 1e-5)
	near(t, "i_q", sum.Machine.IQMean, a.dq.Q/a.time, 1e-5)
	d, _ := watched(t, sc)
	if err := d.Advance(0.0123); err != nil {
		t.Fatal(err)
	}
	x := d.Now()
	dq := motor.Park(x.Current, x.Rotor)
	near(t, "i_d now", x.ID, dq.D, 1e-9)
	near(t, "i_q now", x.IQ, dq.Q, 1e-9)
}

func TestShortedTurnsRefused(t *testing.T) {
	delta := machineA
	delta.Connection = motor.Delta
	one := func(phase inverter.Phase, share, from, until float64) Fault {
		return Fault{Kind: TurnsShorted, Phase: phase, Value: share, Time: from, Until: until}
	}
	for _, tt := range []struct {
		machine motor.Machine
		faults  []Fault
		want    string // or nothing
	}{
		{machineA, []Fault{one(inverter.U, 0.1, 0, 0)}, ""},
		{machineA, []Fault{one(inverter.U, 0.1, 0, 1), one(inverter.V, 0.1, 1, 0)}, ""},
		{machineA, []Fault{one(inverter.U, 0.1, 0, 0), one(inverter.V, 0.1, 1, 0)}, "fault.1.kind: turns are shorted already"},
		{machineA, []Fault{one(inverter.U, 0.1, 2, 3), one(inverter.V, 0.1, 1, 0)}, "fault.1.kind: turns are shorted already"},
		{machineA, []Fault{one(inverter.U, 0, 0, 0)}, "fault.0.value: 0 is out of range; give 1e-06 to 1"},
		{machineA, []Fault{one(inverter.U, 1.1, 0, 0)}, "fault.0.value: 1.1 is out of range"},
		{delta, []Fault{one(inverter.U, 0.1, 0, 0)}, "fault.0.kind: shorted turns drive a current round a delta"},
	} {
		s := turning(tt.machine, pattern.AllOff, 350, 1000, 0, 0.01)
		s.Faults = tt.faults
		switch err := s.Validate(); {
		case tt.want == "" && err != nil:
			t.Error(err)
		case tt.want != "" && (err == nil || !strings.Contains(err.Error(), tt.want)):
			t.Errorf("%v, want %q", err, tt.want)
		}
	}
}

// What makes the field of a round rotor makes its torque, T = 3/2 p ψ i_q (Krishnan, CRC 2010, ch. 3), whether it flows
// in the leads or in shorted turns.
func TestFieldWithShortedTurns(t *testing.T) {
	sc := controlled(machineA, 3000, 0, 80)
	sc.Faults = []Fault{{Kind: TurnsShorted, Phase: inverter.W, Value: 0.15}}
	d, _ := watched(t, sc)
	for range 20 {
		if err := d.Advance(713e-6); err != nil {
			t.Fatal(err)
		}
		x := d.Now()
		near(t, "torque", x.Torque, 1.5*4*0.08*x.FieldVector().Turn(x.Rotor).Beta, 1e-9)
		if x.FieldVector() == x.CurrentVector() {
			t.Fatalf("the shorted turns add nothing at %g s", x.Time)
		}
	}
}

// One group of turns follows another at one instant: what the short of the first held sparks away, and the turns of the second
// carry what their winding does, whether it is a group of another winding or another group of the same.
func TestOneShortBehindAnother(t *testing.T) {
	const at = 4.04e-3
	for _, second := range []Fault{
		{Kind: TurnsShorted, Phase: inverter.W, Value: 0.2, Time: at},
		{Kind: TurnsShorted, Phase: inverter.V, Value: 0.1, Time: at},
	} {
		sc := traction(10e3)
		sc.Faults = []Fault{{Kind: TurnsShorted, Phase: inverter.V, Value: 0.2, Until: at}, second}
		d, _ := watched(t, sc)
		if err := d.Advance(at - 1e-9); err != nil {
			t.Fatal(err)
		}
		before := d.Now()
		if err := d.Advance(at - d.Time()); err != nil {
			t.Fatal(err)
		}
		short := before.Turns - before.Current[inverter.V]
		near(t, "broken", d.Account().Broken, 0.2*(1-2*0.2/3)*0.1*machineB.InductanceD*short*short/2, 1e-4)
		near(t, "turns", d.Now().Turns, d.Now().Current[second.Phase], 1e-9)
		if err := d.Advance(3e-3); err != nil {
			t.Fatal(err)
		}
		balance(t, d)
	}
}
