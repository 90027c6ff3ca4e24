package drive

import (
	"math"
	"strings"
	"testing"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// faulted runs machine A at 3000 rpm with all gates off, but for fault f, and returns the sum.
func faulted(t *testing.T, s Scenario, f ...Fault) Summary {
	t.Helper()
	s.Faults = f
	return simulate(t, s)
}

// A switch that has shorted, or whose gate is stuck on, does what one held closed by hand does (figures as
// in TestOneSwitchClosed).
func TestShortedSwitchBrakes(t *testing.T) {
	for _, kind := range []FaultKind{SwitchShort, GateStuckOn} {
		s := faulted(t, turning(machineA, pattern.AllOff, 350, 3000, 0.3, 0.05), Fault{Kind: kind, Switch: inverter.ULow})
		near(t, "mean of U", s.Phases[0].CurrentMean, -546.75, 2e-3)
		near(t, "torque", s.Machine.TorqueMean, -40.205, 2e-3)
	}
}

// A short under gating meets its partner: the protection blocks the gates, and the shorted switch goes on
// braking alone.
func TestShortTrips(t *testing.T) {
	sc := controlled(machineA, 3000, 0, 50)
	sc.Run = Window{Settle: 0.3, Measure: 0.05}
	s := faulted(t, sc, Fault{Kind: SwitchShort, Switch: inverter.ULow, Time: 10e-3})
	near(t, "torque", s.Machine.TorqueMean, -40.205, 2e-3)
	if len(s.Notices) != 1 || !strings.Contains(s.Notices[0].Text, "U+ and U-") {
		t.Errorf("notices: %v", s.Notices)
	}
	// What feeds the surge is C v²/2: 73.5 J of 1.2 mF at 350 V, which shorts from the start.
	sc.Supply.Resistance, sc.Supply.Capacitance = 10e-3, 1.2e-3
	s = faulted(t, sc, Fault{Kind: SwitchShort, Switch: inverter.ULow})
	if len(s.Notices) != 1 || !strings.Contains(s.Notices[0].Text, "the 73.5 J that the link's capacitor holds") {
		t.Errorf("notices: %v", s.Notices)
	}
}

// An open channel and a gate that stays off are one thing to the circuit; so is a diode's loss where no
// diode ever conducts, and nothing where there is no switch to lose it.
func TestFaultsThatAgree(t *testing.T) {
	sc := passive(pattern.SixStep180, 350, 0.5, 2e-3, 100, 20)
	open := faulted(t, sc, Fault{Kind: SwitchOpen, Switch: inverter.VLow})
	off := faulted(t, sc, Fault{Kind: GateStuckOff, Switch: inverter.VLow})
	near(t, "mean", off.Phases[1].CurrentMean, open.Phases[1].CurrentMean, 1e-12)
}

// Without its diode an off leg has no way for the current: it breaks, and the energy shows as broken.
func TestOpenDiodeSparks(t *testing.T) {
	sc := passive(pattern.SixStep180, 350, 0.5, 2e-3, 100, 20)
	sc.Gating.DeadTime = 10e-6
	s := faulted(t, sc, Fault{Kind: DiodeOpen, Switch: inverter.ULow})
	if s.Energy.Broken <= 0 {
		t.Errorf("%g J broken", s.Energy.Broken)
	}
}

// A fault that is mended leaves no trace once the transient is over.
func TestMended(t *testing.T) {
	sc := controlled(machineA, 3000, 0, 80)
	sc.Run.Settle = 0.2
	healthy := simulate(t, sc)
	for _, f := range []Fault{
		{Kind: PhaseResistance, Phase: inverter.V, Value: 0.5},
		{Kind: SwitchOpen, Switch: inverter.WHigh},
		{Kind: PhaseOpen, Phase: inverter.U},
		{Kind: CurrentSensorGain, Phase: inverter.U, Value: 0.5},
		{Kind: PositionSensorOffset, Value: 0.3},
		{Kind: Demagnetised, Value: 0.7},
		{Kind: SupplySag, Value: 200},
		{Kind: TurnsShorted, Phase: inverter.V, Value: 0.05},
	} {
		f.Time, f.Until = 20e-3, 60e-3
		s := faulted(t, sc, f)
		near(t, f.Kind.String()+", torque", s.Machine.TorqueMean, healthy.Machine.TorqueMean, 1e-4)
		near(t, f.Kind.String()+", rms", s.Phases[0].CurrentRMS, healthy.Phases[0].CurrentRMS, 1e-4)
	}
}

// What the control is told wrong it does wrong, by algebra: a position told δ ahead turns the current by δ
// in the true frame; an offset of I in one phase's sensor leaves a vector of 2/3 I standing still.
func TestSensorFaults(t *testing.T) {
	sc := controlled(machineA, 3000, 0, 100)
	sc.Run.Settle = 0.1
	s := faulted(t, sc, Fault{Kind: PositionSensorOffset, Value: 0.2})
	near(t, "iq", s.Machine.IQMean, 100*math.Cos(0.2), 3e-3)
	near(t, "id", s.Machine.IDMean, -100*math.Sin(0.2), 1e-2)
	s = faulted(t, sc, Fault{Kind: CurrentSensorOffset, Phase: inverter.U, Value: 15})
	// The control's measure of the standing vector is 2/3 of the offset along U; it drives the true current
	// the other way. Its bandwidth (800 Hz) is above the 200 Hz at which that turns in its frame.
	if m := s.Phases[0].CurrentMean; m > -5 || m < -12 {
		t.Errorf("mean of U %g A", m)
	}
}

// Half the magnet, half the torque (T = 3/2 p ψ iq, Krishnan, CRC 2010, ch. 3); a blocked shaft stands.
func TestMagnetAndShaftFaults(t *testing.T) {
	sc := controlled(machineA, 3000, 0, 100)
	s := faulted(t, sc, Fault{Kind: Demagnetised, Value: 0.5})
	near(t, "torque", s.Machine.TorqueMean, 24, 5e-3)
	s = faulted(t, sc, Fault{Kind: ShaftBlocked, Time: 1e-3})
	if s.Machine.SpeedMean != 0 {
		t.Errorf("a blocked shaft turns at %g rpm", s.Machine.SpeedMean)
	}
}

// Crossed sensors: four of the six codes are another sector's, two stay, so the machine does not follow.
func TestCrossedSensors(t *testing.T) {
	sc := turning(machineA, pattern.SixStep120, 350, 600, 0, 1)
	sc.Gating.Follow = Rotor
	d, err := New(sc)
	if err != nil {
		t.Fatal(err)
	}
	sc.Faults = []Fault{{Kind: PositionSensorSwapped, Phase: inverter.U}}
	crossed, err := New(sc)
	if err != nil {
		t.Fatal(err)
	}
	same, all := 0, 720
	for range all {
		for _, x := range []*Drive{d, crossed} {
			if err := x.Advance(60 / 600. / 4 / 360); err != nil {
				t.Fatal(err)
			}
		}
		if d.Now().Gates == crossed.Now().Gates {
			same++
		}
	}
	if share := float64(same) / float64(all); math.Abs(share-1./3) > 0.02 {
		t.Errorf("right for %.3f of the turn, want a third", share)
	}
}
