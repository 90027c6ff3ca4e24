package drive

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor"
)

// machineA is a 60 kW traction machine with the magnet on the surface; machineB the same with its q axis
// 2.5 times as inductive.
var (
	machineA = motor.Machine{PolePairs: 4, Resistance: 20e-3, InductanceD: 0.2e-3, InductanceQ: 0.2e-3, FluxLinkage: 0.08}
	machineB = motor.Machine{PolePairs: 4, Resistance: 20e-3, InductanceD: 0.2e-3, InductanceQ: 0.5e-3, FluxLinkage: 0.08}
)

func rpm(n float64) float64 { return n * math.Pi / 30 }

// passive returns a six-step scenario on a star of r (Ω) and l (H), measured over one turn after so many.
func passive(kind pattern.Kind, v, r, l, f float64, settle int) Scenario {
	return Scenario{
		Supply:  Supply{Voltage: v},
		Gating:  Gating{Settings: pattern.Settings{Kind: kind, Frequency: f}, Chop: 1},
		Machine: motor.Machine{Kind: motor.Passive, Resistance: r, InductanceD: l, InductanceQ: l},
		Run:     Window{Settle: float64(settle) / f, Measure: 1 / f},
	}
}

// turning returns a scenario of machine m at a held speed in rpm.
func turning(m motor.Machine, kind pattern.Kind, v, n float64, settle, measure float64) Scenario {
	return Scenario{
		Supply:  Supply{Voltage: v},
		Gating:  Gating{Settings: pattern.Settings{Kind: kind}, Chop: 1},
		Machine: m,
		Shaft:   Shaft{Speed: rpm(n)},
		Run:     Window{Settle: settle, Measure: measure},
	}
}

// simulate runs s under the eyes of a law and checks its energy account.
func simulate(t *testing.T, s Scenario, observers ...Observer) Summary {
	t.Helper()
	l := NewLaw(&s)
	sum, err := Simulation{Scenario: s, Settling: []Observer{l}, Window: append(observers, l)}.Run()
	if err != nil {
		t.Fatal(err)
	}
	l.Sums(&sum)
	kept(t.Errorf, l)
	return sum
}

func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !scalar.EqualWithinRel(got, want, rel) {
		t.Errorf("%s: %.8g, want %.8g within %g of it (off by %.2g of it)", what, got, want, rel, got/want-1)
	}
}

func told(t *testing.T, sum *Summary, what string) {
	t.Helper()
	for _, n := range sum.Notices {
		if strings.Contains(n.Text, what) {
			return
		}
	}
	t.Errorf("nothing is told that %s: %v", what, sum.Notices)
}

// Rashid, Power Electronics, 3rd/4th ed., ch. 6, three-phase bridge on an R-L star: 220 V, 5 Ω, 23 mH,
// 60 Hz, recomputed from the exact exponentials.
func TestSixStepOnCoilsRashid(t *testing.T) {
	s := simulate(t, passive(pattern.SixStep180, 220, 5, 23e-3, 60, 20))
	for _, p := range s.Phases {
		near(t, "rms of "+p.Phase.String(), p.CurrentRMS, 9.90846, 1e-6)
		near(t, "fundamental of "+p.Phase.String(), p.FundamentalPeak, 13.9929, 1e-5)
		near(t, "peak of "+p.Phase.String(), p.CurrentPeak, 13.67114, 1e-6)
	}
	near(t, "supply mean", s.Supply.CurrentMean, 6.69392, 1e-6)
	near(t, "load power", s.Machine.CopperLoss, 1472.66, 1e-5)
}

// Same example: the machine current in an upper switch less that in its diode is a third of the supply's.
// An ideal gated switch carries both, so drops of no account tell them apart here.
func TestSwitchAndDiodeShares(t *testing.T) {
	sc := passive(pattern.SixStep180, 220, 5, 23e-3, 60, 20)
	sc.Switches = Switches{ChannelResistance: 1e-9, DiodeResistance: 2e-9}
	s := simulate(t, sc)
	u := s.Switches[inverter.UHigh]
	near(t, "switch mean", u.ChannelMean, 3.33542, 1e-5)
	near(t, "switch rms", u.ChannelRMS, 6.28779, 1e-5)
	near(t, "diode mean", u.DiodeMean, 1.10411, 1e-5)
	near(t, "difference", u.ChannelMean-u.DiodeMean, s.Supply.CurrentMean/3, 1e-6)
}

// 350 V on 0.5 Ω, 2 mH at 100 Hz; figures from a circuit of ideal switches stepped 100 000 times a turn.
func TestSixStepOnCoilsLightDamping(t *testing.T) {
	sc := passive(pattern.SixStep180, 350, 0.5, 2e-3, 100, 30)
	sc.Switches = Switches{ChannelResistance: 1e-9, DiodeResistance: 2e-9}
	s := simulate(t, sc)
	p := s.Phases[0]
	near(t, "rms", p.CurrentRMS, 116.640, 1e-5)
	near(t, "fundamental", p.FundamentalPeak, 164.750, 1e-5)
	near(t, "peak", p.CurrentPeak, 170.150, 1e-5)
	near(t, "switch mean", s.Switches[0].ChannelMean, 35.980, 2e-5)
	near(t, "diode mean", s.Switches[0].DiodeMean, 16.544, 2e-5)
	near(t, "supply mean", s.Supply.CurrentMean, 58.307, 2e-5)
}

// All switches off above the threshold of rectification (Jahns, Caliskan, IEEE Trans. IA-35 (1999) 1347);
// figures of an ideal-diode circuit stepped 100 000 times a turn.
func TestRectification(t *testing.T) {
	for _, tt := range []struct{ rpm, supply, torque, rms float64 }{
		{6500, -16.09, -8.290, 13.345},
		{7000, -60.42, -29.034, 47.600},
		{8000, -148.91, -63.127, 113.053},
		{12000, -299.12, -85.666, 222.133},
	} {
		turn := 60 / tt.rpm / 4
		s := simulate(t, turning(machineA, pattern.AllOff, 350, tt.rpm, 60*turn, 10*turn))
		near(t, "supply", s.Supply.CurrentMean, tt.supply, 2e-3)
		near(t, "torque", s.Machine.TorqueMean, tt.torque, 2e-3)
		near(t, "rms", s.Phases[1].CurrentRMS, tt.rms, 2e-3)
	}
}

// Below the threshold, √3 ω ψ = 350 V at 6030.16 rpm, nothing flows.
func TestNoRectificationBelowThreshold(t *testing.T) {
	s := simulate(t, turning(machineA, pattern.AllOff, 350, 6030, 10e-3, 10e-3))
	if s.Phases[0].CurrentPeak != 0 || s.Supply.CurrentRMS != 0 {
		t.Errorf("current below the threshold: %+v", s.Phases)
	}
	s = simulate(t, turning(machineA, pattern.AllOff, 350, 6031, 10e-3, 10e-3))
	if s.Phases[0].CurrentPeak == 0 {
		t.Error("no current above the threshold")
	}
	sc := turning(machineA, pattern.AllOff, 350, 6059, 10e-3, 10e-3)
	sc.Switches.DiodeThreshold = 0.85 // 6059.45 rpm
	if s = simulate(t, sc); s.Phases[0].CurrentPeak != 0 {
		t.Error("current below the threshold with two diodes' drop")
	}
}

// All low switches on: closed form of Welchko, Jahns, Soong, Nagashima, IEEE Trans. EC-18 (2003) 291.
func TestShortCircuitBraking(t *testing.T) {
	for _, m := range []motor.Machine{machineA, machineB} {
		for _, kind := range []pattern.Kind{pattern.AllLow, pattern.AllHigh} {
			s := simulate(t, turning(m, kind, 350, 3000, 0.3, 5e-3))
			w := rpm(3000) * 4
			det := m.Resistance*m.Resistance + w*w*m.InductanceD*m.InductanceQ
			id, iq := -w*w*m.InductanceQ*m.FluxLinkage/det, -w*m.Resistance*m.FluxLinkage/det
			near(t, "id", s.Machine.IDMean, id, 1e-8)
			near(t, "iq", s.Machine.IQMean, iq, 1e-8)
			near(t, "torque", s.Machine.TorqueMean, m.Torque(motor.DQ{D: id, Q: iq}), 1e-8)
			if s.Supply.CurrentRMS != 0 {
				t.Errorf("a short-circuit brake moves %g A through the supply", s.Supply.CurrentRMS)
			}
		}
	}
}

// The onset of the short at 3000 rpm from no current, by an independent integrator (relative tolerance 1e-10).
func TestShortCircuitOnset(t *testing.T) {
	for _, tt := range []struct {
		m                      motor.Machine
		most, least, low, high float64
	}{
		{machineA, 711.04, -707.04, -183.56, 115.95},
		{machineB, 734.31, -733.91, -210.74, 144.15},
	} {
		d, err := New(turning(tt.m, pattern.AllLow, 350, 3000, 0, 1))
		if err != nil {
			t.Fatal(err)
		}
		var most, least, low, high float64
		for range 50000 {
			if err := d.Advance(1e-6); err != nil {
				t.Fatal(err)
			}
			x := d.Now()
			most = max(most, math.Hypot(x.ID, x.IQ))
			least = min(least, x.ID)
			low, high = min(low, x.Torque), max(high, x.Torque)
		}
		near(t, "largest current", most, tt.most, 1e-4)
		near(t, "least id", least, tt.least, 1e-4)
		near(t, "least torque", low, tt.low, 1e-4)
		near(t, "greatest torque", high, tt.high, 1e-4)
	}
}

// All low switches pulsed together at 1500 rpm, 8 kHz: figures of an ideal-diode circuit, agreeing to 0.5 %
// when stepped finer.
func TestPulsedLowBoosts(t *testing.T) {
	for _, tt := range []struct{ duty, supply, torque, rms float64 }{
		{0.3, -0.3951, -0.8825, 2.401},
		{0.5, -1.0940, -2.4477, 5.160},
		{0.8, -18.871, -44.053, 72.47},
	} {
		sc := turning(machineA, pattern.PulsedLow, 350, 1500, 0.3, 0.01)
		sc.Gating.Carrier, sc.Gating.Duty = 8000, tt.duty
		s := simulate(t, sc)
		near(t, "supply", s.Supply.CurrentMean, tt.supply, 5e-3)
		near(t, "torque", s.Machine.TorqueMean, tt.torque, 5e-3)
		near(t, "rms", s.Phases[0].CurrentRMS, tt.rms, 5e-3)
	}
}

// One lower switch stays closed, all else off, 3000 rpm.
func TestOneSwitchClosed(t *testing.T) {
	sc := turning(machineA, pattern.ByHand, 350, 3000, 0.3, 0.05)
	sc.Gating.Hand = inverter.On(inverter.ULow)
	s := simulate(t, sc)
	for k, want := range []struct{ mean, rms float64 }{{-546.75, 606.56}, {253.53, 334.01}, {293.22, 389.95}} {
		near(t, "mean", s.Phases[k].CurrentMean, want.mean, 2e-3)
		near(t, "rms", s.Phases[k].CurrentRMS, want.rms, 2e-3)
	}
	near(t, "torque", s.Machine.TorqueMean, -40.205, 2e-3)
	near(t, "peak of U", s.Phases[0].CurrentPeak, 914.3, 2e-3)
	if s.Supply.CurrentRMS > 1e-9 {
		t.Errorf("supply carries %g A", s.Supply.CurrentRMS)
	}
}

// One phase open under six-step: fundamental √3/2 of healthy (circuit law).
func TestPhaseOpen(t *testing.T) {
	sc := passive(pattern.SixStep180, 350, 0.5, 2e-3, 100, 30)
	sc.Faults = []Fault{{Kind: PhaseOpen, Phase: inverter.W}}
	s := simulate(t, sc)
	near(t, "fundamental", s.Phases[0].FundamentalPeak, 142.678, 1e-5)
	near(t, "rms", s.Phases[0].CurrentRMS, 101.013, 1e-5)
	if s.Phases[2].CurrentPeak != 0 {
		t.Errorf("an open phase carries %g A", s.Phases[2].CurrentPeak)
	}
}

// U+ open under six-step on 0.5 Ω, 2 mH, 100 Hz, by an ideal-diode circuit stepped 100 000 times a turn.
// The sign of the mean is that of Mendes, Cardoso (IEMDC 1999): negative for an open upper switch.
func TestSwitchOpen(t *testing.T) {
	sc := passive(pattern.SixStep180, 350, 0.5, 2e-3, 100, 30)
	sc.Faults = []Fault{{Kind: SwitchOpen, Switch: inverter.UHigh}}
	s := simulate(t, sc)
	for k, want := range []struct{ mean, rms, peak float64 }{
		{-92.396, 124.99, 116.76}, {46.198, 127.46, 167.50}, {46.198, 109.42, 139.55},
	} {
		near(t, "mean", s.Phases[k].CurrentMean, want.mean, 2e-3)
		near(t, "rms", s.Phases[k].CurrentRMS, want.rms, 2e-3)
		near(t, "fundamental", s.Phases[k].FundamentalPeak, want.peak, 2e-3)
	}
	near(t, "supply", s.Supply.CurrentMean, 62.63, 2e-3)
}
