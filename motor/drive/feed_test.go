package drive

import (
	"errors"
	"math"
	"testing"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor"
)

// A steady current I that two legs start to draw from a charged link: at first source and capacitor share it by their
// resistances, R_s and r; then the capacitor follows by e^(-t/((R_s + r) C)) until the source carries all. By Kirchhoff,
//
//	v_link = V - R_s I + R_s² I/(R_s + r) e^(-t/((R_s + r) C))
//
// The coils are so large that their current stays what it is.
func TestLinkWithSeriesResistance(t *testing.T) {
	const v, rs, r, c, i = 100, 0.3, 0.2, 1e-3, 10
	for _, asFault := range []bool{false, true} {
		s := Scenario{
			Supply:  Supply{Voltage: v, Resistance: rs, Capacitance: c, CapacitorResistance: r},
			Gating:  Gating{Settings: pattern.Settings{Kind: pattern.ByHand}, Chop: 1},
			Machine: motor.Machine{Kind: motor.Passive, InductanceD: 1e6, InductanceQ: 1e6},
			Run:     Window{Measure: 2e-3, InitialCurrents: inverter.ABC{i, -i, 0}},
		}
		s.Gating.Hand = inverter.Gates(0).With(inverter.UHigh).With(inverter.VLow)
		if asFault {
			s.Supply.CapacitorResistance = r / 4
			s.Faults = []Fault{{Kind: CapacitorResistance, Value: 3 * r / 4}}
		}
		d, _ := watched(t, s)
		for _, to := range []float64{0, 1e-5, 1e-4, 4e-4, 1e-3, 2e-3} {
			if err := d.Advance(to - d.Time()); err != nil {
				t.Fatal(err)
			}
			x := d.Now()
			die := math.Exp(-to / ((rs + r) * c))
			near(t, "link", x.Link, v-rs*i+rs*rs*i/(rs+r)*die, 1e-9)
			near(t, "supply", x.Supply, i-rs*i/(rs+r)*die, 1e-7)
			charge := rs * i / (rs + r) * die
			near(t, "heat", x.Power.Capacitor, r*charge*charge, 2e-6) // a current from the difference of two voltages
		}
		// ∫ r i_c² dt = r (R_s I/(R_s + r))² (R_s + r) C/2 (1 - e^(-2t/((R_s + r) C)))
		heat := r * rs * rs * i * i / (rs + r) * c / 2 * (1 - math.Exp(-2*2e-3/((rs+r)*c)))
		sum, err := Simulate(s)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "heat of the window", sum.Energy.Capacitor, heat, 1e-6)
		near(t, "ripple", sum.Supply.LinkRipple, rs*rs*i/(rs+r)*(1-math.Exp(-2e-3/((rs+r)*c))), 1e-6)
		near(t, "capacitor", sum.Supply.Capacitor, math.Sqrt(heat/r/2e-3), 1e-6)
	}
}

// The capacitor's heat is its resistance times its mean square current, by two ways of summing.
func TestCapacitorHeat(t *testing.T) {
	s := traction(8e3)
	s.Supply = Supply{Voltage: 350, Resistance: 50e-3, Capacitance: 500e-6, CapacitorResistance: 20e-3}
	s.Run = Window{Settle: 0.05, Measure: 0.02}
	sum := simulate(t, s)
	near(t, "heat", sum.Energy.Capacitor/0.02, 20e-3*sum.Supply.Capacitor*sum.Supply.Capacitor, 1e-6)
	if sum.Energy.Capacitor <= 0 {
		t.Error("no heat in the capacitor")
	}
}

func TestSeriesResistanceRefused(t *testing.T) {
	for _, tt := range []struct {
		supply Supply
		faults []Fault
		key    string
	}{
		{Supply{Voltage: 350, CapacitorResistance: 0.1}, nil, "supply.capacitor_resistance"},
		{Supply{Voltage: 350, Resistance: 0.1, Capacitance: 1e-3, CapacitorResistance: -0.1}, nil, "supply.capacitor_resistance"},
		{Supply{Voltage: 350, Resistance: 0.1, Capacitance: 1e-3, CapacitorResistance: 0.1, Refuses: true}, nil, "supply.capacitor_resistance"},
		{Supply{Voltage: 350, Resistance: 0.1, Capacitance: 1e-3, ChargeLimit: 10}, []Fault{{Kind: CapacitorResistance, Value: 0.1}}, "fault.0.kind"},
		{Supply{Voltage: 350, Resistance: 0.1, Capacitance: 1e-3}, []Fault{{Kind: CapacitorResistance}}, "fault.0.value"},
	} {
		s := turning(machineA, pattern.AllOff, 350, 1000, 0, 0.01)
		s.Supply, s.Faults = tt.supply, tt.faults
		var found *KeyError
		if err := s.Validate(); !errors.As(err, &found) || found.Key != tt.key {
			t.Errorf("%v, want a finding on %s", err, tt.key)
		}
	}
}
