package drive

import (
	"errors"
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"sextant/inverter/pattern"
)

// Of a steady current the harmonics are the same whenever the window begins and however much of a turn it has beyond whole ones:
// angles count from the start of the run, and the rest of a turn is left out of them, though not out of the means.
func TestHarmonicsOfWholeTurns(t *testing.T) {
	const f, orders = 60, 7
	harmonics := func(settle, measure float64) Summary {
		s := passive(pattern.SixStep180, 220, 5, 23e-3, f, 0)
		s.Run = Window{Settle: settle / f, Measure: measure / f}
		sum, err := Simulation{Scenario: s, Orders: orders}.Run()
		if err != nil {
			t.Fatal(err)
		}
		near(t, "end", sum.To, (settle+measure)/f, 1e-12)
		near(t, "fundamental", sum.Fundamental, f, 1e-12)
		return sum
	}
	want := harmonics(20, 1)
	if len(want.Harmonics) != orders {
		t.Fatalf("%d orders", len(want.Harmonics))
	}
	for _, tt := range [][2]float64{{20, 2}, {20, 2.7}, {20.3, 1}, {21.9, 1.99}, {20.15, 3}} {
		got := harmonics(tt[0], tt[1])
		for n, h := range got.Harmonics {
			w := want.Harmonics[n]
			for _, x := range [][4]float64{
				{h.U, h.UAngle, w.U, w.UAngle}, {h.V, h.VAngle, w.V, w.VAngle}, {h.W, h.WAngle, w.W, w.WAngle}, {h.Supply, h.SupplyAngle, w.Supply, w.SupplyAngle},
			} {
				if off := cmplx.Abs(cmplx.Rect(x[0], x[1]*math.Pi/180) - cmplx.Rect(x[2], x[3]*math.Pi/180)); off > 1e-6 {
					t.Errorf("%g turns from the %gth on, order %d: %g A at %g deg, want %g at %g", tt[1], tt[0], h.Order, x[0], x[1], x[2], x[3])
				}
			}
		}
	}
	for measure, says := range map[float64]string{0.99: "is shorter than a turn at 60 Hz, and harmonics need one; measure 0.0166667 s or more"} {
		s := passive(pattern.SixStep180, 220, 5, 23e-3, f, 0)
		s.Run.Measure = measure / f
		var wrong *KeyError
		if _, err := (Simulation{Scenario: s, Orders: 1}).Run(); !errors.As(err, &wrong) || wrong.Key != "run.measure" || !strings.Contains(err.Error(), says) {
			t.Errorf("%v, want %s", err, says)
		}
	}
	still := turning(machineA, pattern.AllLow, 48, 0, 0, 0.01)
	if _, err := (Simulation{Scenario: still, Orders: 1}).Run(); err == nil || !strings.Contains(err.Error(), "nothing turns") {
		t.Errorf("%v", err)
	}
	if sum, err := Simulate(still); err != nil || sum.Harmonics != nil || sum.Fundamental != 0 {
		t.Errorf("%v, %+v", err, sum.Harmonics)
	}
}

// The fundamental of what follows a free rotor is that of its mean speed, whichever way it turns.
func TestFundamentalOfAFreeRotor(t *testing.T) {
	for _, sign := range []float64{1, -1} {
		s := turning(machineA, pattern.AllLow, 48, 0, 0, 0.05)
		s.Shaft = Shaft{Free: true, Inertia: 0.1, StartSpeed: sign * rpm(900), Friction: 0.01}
		sum := simulate(t, s)
		near(t, "fundamental", sum.Fundamental, 4*math.Abs(sum.Machine.SpeedMean)/60, 1e-12)
		if sum.Machine.SpeedMean*sign > 890 {
			t.Errorf("%g rpm", sum.Machine.SpeedMean)
		}
	}
}
