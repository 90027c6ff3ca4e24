package diagnosis_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"sextant/inverter"
	"sextant/motor/drive"
	"sextant/motor/fault/capture"
	"sextant/motor/fault/diagnosis"
	"sextant/motor/scenario"
)

// faulty is the currents of a built-in drive with a fault from the start, over so many turns.
func faulty(t *testing.T, s drive.Scenario, turns float64, faults ...drive.Fault) capture.Capture {
	t.Helper()
	s.Faults = faults
	s.Run.Measure = turns / s.ElectricalFrequency()
	x := &sampling{next: s.Run.Settle, step: s.Run.Measure / turns / 200}
	if _, err := drive.Simulate(s, x); err != nil {
		t.Fatal(err)
	}
	c := capture.Capture{Current: x.x}
	for i := range x.x {
		c.Time = append(c.Time, s.Run.Settle+float64(i)*x.step)
	}
	return c
}

func builtIn(t *testing.T, name string) drive.Scenario {
	t.Helper()
	s, err := scenario.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestShortedSwitch: diodes let the other two phases' currents through one way only, by Kirchhoff's law all of it
// back through the shorted leg: into the machine there if it is tied to the upper rail, out of it if to the lower.
// A gate stuck on looks the same, and is said to.
func TestShortedSwitch(t *testing.T) {
	s := builtIn(t, "hauler-climb")
	for _, x := range inverter.Switches {
		c := faulty(t, s, 5, drive.Fault{Kind: drive.SwitchShort, Switch: x})
		r := expect(t, c, diagnosis.SwitchShort, x.String())
		if own := r.Signs.Phases[x.Leg()].Mean; (own > 0) != x.High() {
			t.Errorf("%v: mean %g A in its own phase", x, own)
		}
		if !slices.Contains(r.Alike, diagnosis.Suspect{Fault: "gate-stuck-on", At: x.String()}) {
			t.Errorf("%v: alike %v", x, r.Alike)
		}
	}
}

// stepped is the trainer with its shaft held at a speed and its bridge stepped by position sensors, from a supply in V.
func stepped(t *testing.T, supply float64) drive.Scenario {
	s := builtIn(t, "trainer-start")
	s.Shaft = drive.Shaft{Speed: 100}
	s.Gating.Chop, s.Gating.Carrier, s.Supply.Voltage = 1, 0, supply
	s.Run.Settle = 0.1
	return s
}

// sectors is what three position sensors 120 degrees apart tell in the six sectors of a turn, and the angle in
// degrees of the voltage vector that they call for: R. Krishnan, Permanent Magnet Synchronous and Brushless DC
// Motor Drives, ch. 9 (from memory).
var sectors = []struct {
	code  [3]bool
	angle float64
}{
	{[3]bool{false, true, false}, 90}, {[3]bool{false, true, true}, 150}, {[3]bool{false, false, true}, 210},
	{[3]bool{true, false, true}, 270}, {[3]bool{true, false, false}, 330}, {[3]bool{true, true, false}, 30},
}

// TestStuckSensor: the mean-current vector lies along the mean of the voltage vectors that the table calls for
// with one sensor stuck; where the code is none of the table's, all is off.
func TestStuckSensor(t *testing.T) {
	s := stepped(t, 29)
	for p := range 3 {
		for _, high := range []bool{false, true} {
			value, tells := 0.0, "low"
			if high {
				value, tells = 1, "high"
			}
			var x, y float64
			for _, sector := range sectors {
				code := sector.code
				code[p] = high
				for _, led := range sectors {
					if led.code == code {
						x += math.Cos(led.angle * math.Pi / 180)
						y += math.Sin(led.angle * math.Pi / 180)
					}
				}
			}
			c := faulty(t, s, 6, drive.Fault{Kind: drive.PositionSensorStuck, Phase: inverter.Phase(p), Value: value})
			r := expect(t, c, diagnosis.PositionStuck, inverter.Phase(p).String())
			if off := math.Remainder(r.Signs.MeanAngle-math.Atan2(y, x)*180/math.Pi, 360); math.Abs(off) > 20 {
				t.Errorf("sensor %d %s: mean vector at %.0f deg, the table's at %.0f", p, tells, r.Signs.MeanAngle, math.Atan2(y, x)*180/math.Pi)
			}
			if !strings.Contains(r.Because, "telling "+tells) {
				t.Errorf("sensor %d %s: %s", p, tells, r.Because)
			}
		}
	}
}

// TestLookAlikes: by Kirchhoff's law a dead channel and an open diode of the other half leave a leg the same way to
// let current through, and turns shorted within a winding make it unlike the others as a joint does.
func TestLookAlikes(t *testing.T) {
	s := builtIn(t, "hauler-climb")
	for _, tt := range []struct {
		fault drive.Fault
		says  diagnosis.Fault
		alike diagnosis.Suspect
	}{
		{drive.Fault{Kind: drive.GateStuckOff, Switch: inverter.VLow}, diagnosis.SwitchOpen, diagnosis.Suspect{Fault: "gate-stuck-off", At: "V-"}},
		{drive.Fault{Kind: drive.DiodeOpen, Switch: inverter.VLow}, diagnosis.SwitchOpen, diagnosis.Suspect{Fault: diagnosis.DiodeOpen, At: "V-"}},
		{drive.Fault{Kind: drive.TurnsShorted, Phase: inverter.V, Value: 0.1}, diagnosis.PhaseResistance, diagnosis.Suspect{Fault: diagnosis.TurnsShorted}},
	} {
		c := faulty(t, s, 5, tt.fault)
		r := diagnosis.Diagnose(&c, nil)
		if r.Verdict != tt.says || !slices.Contains(r.Alike, tt.alike) {
			t.Errorf("%v: %v at %v, alike %v", tt.fault.Kind, r.Verdict, r.At, r.Alike)
		}
	}
}

// TestScenarioNames: what phase currents alone leave in their group, or call healthy, the drive's own scenario
// names.
func TestScenarioNames(t *testing.T) {
	for name, faults := range map[string][]drive.Fault{
		"hauler-pwm":    {{Kind: drive.TurnsShorted, Phase: inverter.V, Value: 0.07}, {Kind: drive.ShaftBlocked}, {Kind: drive.PhaseResistance, Phase: inverter.W, Value: 0.2}},
		"hauler-climb":  {{Kind: drive.DiodeOpen, Switch: inverter.VLow}, {Kind: drive.CurrentSensorGain, Phase: inverter.V, Value: 0.75}, {Kind: drive.ShaftBlocked}},
		"trainer-start": {{Kind: drive.Demagnetised, Value: 0.8}, {Kind: drive.PositionSensorSwapped, Phase: inverter.U}},
	} {
		s := builtIn(t, name)
		if s.Gating.Follow == drive.Rotor {
			s = stepped(t, 33)
		}
		expected, err := diagnosis.Expect(s)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range faults {
			c := faulty(t, s, 5, f)
			r := diagnosis.Diagnose(&c, expected)
			at := ""
			switch {
			case f.Kind.OfPhase():
				at = f.Phase.String()
			case f.Kind.OfSwitch():
				at = f.Switch.String()
			}
			if string(r.Verdict) != f.Kind.String() || r.At != at {
				t.Errorf("%s, %v at %s: %v at %s, %s, %q", name, f.Kind, at, r.Verdict, r.At, r.Because, r.Notes)
			}
		}
		c := faulty(t, s, 5)
		if r := diagnosis.Diagnose(&c, expected); r.Verdict != diagnosis.Healthy {
			t.Errorf("%s, healthy: %v at %s, %s, %v", name, r.Verdict, r.At, r.Because, r.Ranked)
		}
	}
}

// TestWords: every fault that a report may name is a kind of the drive's, or of a clamp's.
func TestWords(t *testing.T) {
	for _, f := range []diagnosis.Fault{diagnosis.SwitchOpen, diagnosis.SwitchShort, diagnosis.PhaseOpen, diagnosis.PhaseResistance, diagnosis.SensorOffset,
		diagnosis.SensorGain, diagnosis.PositionStuck, diagnosis.TurnsShorted, diagnosis.DiodeOpen, diagnosis.SupplySag, diagnosis.CapacitorAged,
		diagnosis.Demagnetised, diagnosis.PositionOffset, diagnosis.PositionSwapped, diagnosis.ShaftBlocked} {
		if _, ok := kinds[f]; !ok {
			t.Errorf("%s is no fault of a drive", f)
		}
	}
}
