package symptom

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor"
	"sextant/motor/drive"
	"sextant/motor/scenario"
)

// passive is a star of 0.5 ohm and 2 mH on 350 V in six-step at 100 Hz.
func passive() drive.Scenario {
	return drive.Scenario{
		Supply:  drive.Supply{Voltage: 350},
		Gating:  drive.Gating{Settings: pattern.Settings{Kind: pattern.SixStep180, Frequency: 100}},
		Machine: motor.Machine{Kind: motor.Passive, Resistance: 0.5, InductanceD: 2e-3, InductanceQ: 2e-3},
		Run:     drive.Window{Settle: 0.1, Measure: 0.02},
	}
}

func symptomsOf(t *testing.T, s drive.Scenario, name string) *Symptoms {
	t.Helper()
	f, err := Parse(name)
	if err != nil {
		t.Fatal(err)
	}
	x, err := Of(s, f)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// The mean currents of an open switch, from a circuit of ideal switches and diodes stepped 40 000 to 400 000 times a
// turn: -92.396, 46.198, 46.198 A for U+. The angle of their vector tells the switch: A. M. S. Mendes, A. J. Marques
// Cardoso, IEMDC 1999; K. Rothenhagen, F. W. Fuchs, PESC 2004 (from memory); 15 degrees is a quarter of what sets two
// switches apart.
func TestOpenSwitchMean(t *testing.T) {
	for name, want := range map[string]float64{"U+": 180, "V+": 300, "W+": 60, "U-": 0, "V-": 120, "W-": 240} {
		x := symptomsOf(t, passive(), "switch-open:"+name)
		f := x.States[0].Faulty
		if off := math.Abs(math.Remainder(f.MeanAngle-want, 360)); off > 15 {
			t.Errorf("%s: mean vector at %g deg, want %g", name, f.MeanAngle, want)
		}
		if !scalar.EqualWithinRel(f.Mean, 92.396, 0.002) {
			t.Errorf("%s: mean vector of %g A, want 92.396", name, f.Mean)
		}
		if part := f.Mean / f.Phases[inverterPhase(name)].FundamentalPeak; part < 0.45 {
			t.Errorf("%s: mean is %g of the fundamental, below the published threshold of 0.45", name, part)
		}
	}
}

func inverterPhase(name string) int { return int(name[0] - 'U') }

func builtIn(t *testing.T, name string) drive.Scenario {
	t.Helper()
	s, err := scenario.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// With one phase open the same current flows out of one phase into the other: as much of it turns backward as
// forward (Mendes & Cardoso, 1999, from memory), torque and link current swing at twice the electrical frequency.
func TestOpenPhase(t *testing.T) {
	for _, scenario := range []string{"hauler-pwm", "hauler-climb"} {
		for _, at := range inverter.Phases {
			x := symptomsOf(t, builtIn(t, scenario), "phase-open:"+at.String())
			if len(x.States) != 2 || x.States[0].State != Motoring || x.States[1].State != Generating {
				t.Fatalf("%s: not looked at motoring and generating", scenario)
			}
			for _, c := range x.States {
				f := c.Faulty
				if !scalar.EqualWithinRel(f.With, f.Against, 0.01) {
					t.Errorf("%s %v %v: %g A turn forward, %g A backward", scenario, at, c.State, f.With, f.Against)
				}
				if f.Phases[at].CurrentRMS > 1e-3 {
					t.Errorf("%s %v: the open phase carries %g A", scenario, at, f.Phases[at].CurrentRMS)
				}
				if f.Tones[0].Order != 2 || f.LinkTones[0].Order != 2 {
					t.Errorf("%s %v %v: torque swings mostly at order %d, link current at %d, want 2", scenario, at, c.State, f.Tones[0].Order, f.LinkTones[0].Order)
				}
			}
		}
	}
}

// Voltage V across the magnet of a standing machine makes the torque T = 3/2 p ψ V/R. With phase U open the current
// is √3/2 V/R cos θ out of V into W, and by T = √3 p ψ i cos θ the torque is cos² θ of that: none at 90 and 270
// degrees, and less than a tenth within 18.43 degrees of them.
func TestOpenPhaseStart(t *testing.T) {
	x := symptomsOf(t, builtIn(t, "hauler-pwm"), "phase-open:U")
	for k, deg := range x.Start.Angles {
		cos := math.Cos(deg * math.Pi / 180)
		if got := x.Start.Faulty[k] / x.Start.Healthy[k]; !scalar.EqualWithinAbs(got, cos*cos, 0.01) {
			t.Errorf("at %g deg: %.4f of the healthy torque, want cos² = %.4f", deg, got, cos*cos)
		}
	}
	want := []Span{{From: 71.565, To: 108.435}, {From: 251.565, To: 288.435}}
	if len(x.Start.Dead) != 2 {
		t.Fatalf("%d dead spots, want 2", len(x.Start.Dead))
	}
	for k, d := range x.Start.Dead {
		if !scalar.EqualWithinAbs(d.From, want[k].From, 0.5) || !scalar.EqualWithinAbs(d.To, want[k].To, 0.5) {
			t.Errorf("dead from %.2f to %.2f deg, want %.2f to %.2f", d.From, d.To, want[k].From, want[k].To)
		}
	}
}

// Two leads crossed turn a field of given currents the other way round: IEC 60034-8 (from memory).
func TestCrossedLeadsTurnTheFieldBackward(t *testing.T) {
	if x := symptomsOf(t, builtIn(t, "hauler-pwm"), "phase-swap:U"); x.Start.Field != -1 {
		t.Errorf("the field turns %d times, want -1", x.Start.Field)
	}
	if x := symptomsOf(t, builtIn(t, "hauler-pwm"), "phase-open:U"); x.Start.Field != 0 {
		t.Errorf("with a phase open the field turns %d times", x.Start.Field)
	}
	if x := symptomsOf(t, builtIn(t, "hauler-pwm"), "demagnetised"); x.Start.Field != 1 {
		t.Errorf("with a weak magnet the field turns %d times, want 1", x.Start.Field)
	}
}

// Every fault has signs that are whole sentences and figures that are finite, in every way of gating.
func TestEveryFault(t *testing.T) {
	for _, scenario := range []string{"hauler-climb", "trainer-start", "trainer-speed", "passive-rl", "hauler-boost"} {
		b, err := baseOf(builtIn(t, scenario))
		if err != nil {
			t.Fatal(err)
		}
		for _, k := range drive.FaultKinds() {
			f, err := Parse(k.String())
			if err != nil {
				t.Fatal(err)
			}
			x, err := b.symptoms(f, 12)
			if err != nil {
				t.Errorf("%s %v: %v", scenario, k, err)
				continue
			}
			if len(x.Signs) == 0 || len(x.Meter.Says) == 0 || len(x.Cautions) < 3 {
				t.Errorf("%s %v: nothing said", scenario, k)
			}
			for _, s := range append(x.Signs, x.Meter.Says...) {
				if wrongWords.MatchString(s) || s[len(s)-1] != '.' {
					t.Errorf("%s %v: %q", scenario, k, s)
				}
			}
		}
	}
}
