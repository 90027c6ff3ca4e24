package diagnosis_test

import (
	"encoding/json"
	"fmt"
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
	"pgregory.net/rapid"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor"
	"sextant/motor/drive"
	"sextant/motor/fault/capture"
	"sextant/motor/fault/diagnosis"
)

// fromPhasors returns a capture of turns of three phasors on top of three means.
func fromPhasors(turns float64, f [3]complex128, mean inverter.ABC) capture.Capture {
	var c capture.Capture
	for k := range int(turns * 100) {
		turn := cmplx.Rect(1, 2*math.Pi*float64(k)/100)
		var x inverter.ABC
		for p := range x {
			x[p] = mean[p] + real(f[p]*turn)
		}
		c.Time = append(c.Time, float64(k)/100/50)
		c.Current = append(c.Current, x)
	}
	return c
}

// balanced returns the phasors of a healthy machine, turning backwards if asked to.
func balanced(backwards bool) (f [3]complex128) {
	for _, p := range inverter.Phases {
		f[p] = cmplx.Rect(10, -p.Axis())
		if backwards {
			f[p] = cmplx.Rect(10, p.Axis())
		}
	}
	return f
}

func expect(t rapid.TB, c capture.Capture, fault diagnosis.Fault, at string) diagnosis.Report {
	t.Helper()
	r := diagnosis.Diagnose(&c, nil)
	if r.Verdict != fault || r.At != at {
		t.Errorf("verdict %v %v, want %v %v: %s", r.Verdict, r.At, fault, at, r.Because)
	}
	return r
}

// TestBadJoint: of a balanced star of impedances, with a resistance added to one phase, the phasors follow
// from Kirchhoff's laws; the verdict must name that phase, whatever the impedances and whichever way the
// field turns.
func TestBadJoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		backwards := rapid.Bool().Draw(t, "backwards")
		p := inverter.Phase(rapid.IntRange(0, 2).Draw(t, "phase"))
		z := cmplx.Rect(1, rapid.Float64Range(0.05, 1.5).Draw(t, "angle"))
		added := rapid.Float64Range(0.3, 5).Draw(t, "resistance")
		// Millman: the star point lies at the sum of v y over the sum of y.
		v := balanced(backwards)
		y := [3]complex128{1 / z, 1 / z, 1 / z}
		y[p] = 1 / (z + complex(added, 0))
		star := (v[0]*y[0] + v[1]*y[1] + v[2]*y[2]) / (y[0] + y[1] + y[2])
		for k := range v {
			v[k] = (v[k] - star) * y[k]
		}
		r := expect(t, fromPhasors(3.4, v, inverter.ABC{}), diagnosis.PhaseResistance, p.String())
		if want := map[bool]string{false: "U V W", true: "U W V"}[backwards]; r.Sequence != want {
			t.Errorf("sequence %s, want %s", r.Sequence, want)
		}
	})
}

// TestClamps: what no three wires can carry is a clamp's error, and its size is told.
func TestClamps(t *testing.T) {
	for _, p := range inverter.Phases {
		for _, by := range []float64{-0.9, -0.4, -0.15, 0.15, 0.5} {
			r := expect(t, fromPhasors(4, balanced(false), only(p, 10*by)), diagnosis.SensorOffset, p.String())
			if !scalar.EqualWithinRel(r.Signs.SumMean, 100*by, 0.01) {
				t.Errorf("offset %g: sum %g %%", by, r.Signs.SumMean)
			}
			f := balanced(false)
			f[p] *= complex(1+by, 0)
			r = expect(t, fromPhasors(4, f, inverter.ABC{}), diagnosis.SensorGain, p.String())
			if want := fmt.Sprintf("reads %.2f of the true current", 1+by); !strings.Contains(r.Because, want) {
				t.Errorf("%s does not say that it %s", r.Because, want)
			}
		}
	}
}

func only(p inverter.Phase, x float64) (y inverter.ABC) {
	y[p] = x
	return y
}

// TestOpenPhase: the other two mirror each other. A dead clamp does not make them.
func TestOpenPhase(t *testing.T) {
	for _, p := range inverter.Phases {
		var f [3]complex128
		f[p.Next()], f[p.Next().Next()] = 10, -10
		r := expect(t, fromPhasors(4, f, inverter.ABC{}), diagnosis.PhaseOpen, p.String())
		// Mendes and Cardoso, IEMDC 1999: negative and positive sequence are alike.
		if !scalar.EqualWithinRel(r.Signs.Negative, 100, 0.01) {
			t.Errorf("negative sequence %g %%", r.Signs.Negative)
		}
		f = balanced(false)
		f[p] = 0
		expect(t, fromPhasors(4, f, inverter.ABC{}), diagnosis.SensorGain, p.String())
	}
}

// open is the currents of a passive load with a switch that opens at a time.
func open(t *testing.T, s inverter.Switch, at, measure float64) capture.Capture {
	t.Helper()
	sc := drive.Scenario{
		Supply:  drive.Supply{Voltage: 350},
		Machine: motor.Machine{Kind: motor.Passive, Resistance: 0.5, InductanceD: 2e-3, InductanceQ: 2e-3},
		Faults:  []drive.Fault{{Kind: drive.SwitchOpen, Switch: s, Time: at}},
		Run:     drive.Window{Settle: 0.02, Measure: measure},
	}
	sc.Gating.Settings = pattern.Settings{Kind: pattern.SixStep180, Frequency: 100}
	x := &sampling{next: sc.Run.Settle, step: 1e-4}
	if _, err := drive.Simulate(sc, x); err != nil {
		t.Fatal(err)
	}
	c := capture.Capture{Current: x.x}
	for i := range x.x {
		c.Time = append(c.Time, 0.02+float64(i)*x.step)
	}
	return c
}

// TestOpenSwitchAngles: the angle of the mean-current vector for each switch, after Mendes and Cardoso,
// IEMDC 1999, and Rothenhagen and Fuchs, PESC 2004.
func TestOpenSwitchAngles(t *testing.T) {
	for s, want := range map[string]float64{"U+": 180, "V+": 300, "W+": 60, "U-": 0, "V-": 120, "W-": 240} {
		var x inverter.Switch
		must(x.UnmarshalText([]byte(s)))
		r := expect(t, open(t, x, 0, 0.1), diagnosis.SwitchOpen, s)
		if off := math.Remainder(r.Signs.MeanAngle-want, 360); math.Abs(off) > 15 {
			t.Errorf("%s: mean vector at %g deg, want %g", s, r.Signs.MeanAngle, want)
		}
		if len(r.Cautions) == 0 || len(r.Next) < 3 || !strings.Contains(r.Because, "mean-current vector") {
			t.Errorf("%s: %q, %q", s, r.Because, r.Next)
		}
	}
}

// TestOnset: a fault that begins within a capture, short or long, is called, and when it began is said.
func TestOnset(t *testing.T) {
	for _, span := range []float64{0.12, 0.6} {
		r := expect(t, open(t, inverter.VLow, 0.02+span/2, span), diagnosis.SwitchOpen, "V-")
		if notes := strings.Join(r.Notes, "\n"); !strings.Contains(notes, "the currents are healthy until about") {
			t.Errorf("%g s: %s", span, notes)
		}
		if r.From < 0.01+span/2 {
			t.Errorf("%g s: the signs are from %g s on", span, r.From)
		}
	}
}

// TestTwoCurrents: with two clamps a bad joint in a resistive circuit and a clamp that reads too little look
// the same, and the verdict says so; the drive's own scenario decides.
func TestTwoCurrents(t *testing.T) {
	s := drive.Scenario{
		Supply:  drive.Supply{Voltage: 350},
		Machine: motor.Machine{Kind: motor.Passive, Resistance: 0.5, InductanceD: 0.3e-3, InductanceQ: 0.3e-3},
		Run:     drive.Window{Settle: 0.02, Measure: 0.05},
	}
	s.Gating.Settings = pattern.Settings{Kind: pattern.SpaceVector, Frequency: 100, Modulation: 0.8, Carrier: 8000}
	expected, err := diagnosis.Expect(s)
	if err != nil {
		t.Fatal(err)
	}
	s.Faults = []drive.Fault{{Kind: drive.PhaseResistance, Phase: inverter.U, Value: 0.4}}
	x := &sampling{next: s.Run.Settle, step: 1e-4}
	if _, err := drive.Simulate(s, x); err != nil {
		t.Fatal(err)
	}
	c := capture.Capture{Current: x.x, Derived: true, Third: inverter.W}
	for i := range c.Current {
		c.Time = append(c.Time, float64(i)*x.step)
	}
	r := expect(t, c, diagnosis.Unclear, "")
	if !strings.Contains(r.Because, "record the third") || len(r.Ranked) < 2 {
		t.Errorf("%s, %v", r.Because, r.Ranked)
	}
	r = diagnosis.Diagnose(&c, expected)
	if r.Verdict != diagnosis.PhaseResistance || r.At != "U" {
		t.Errorf("with the scenario: %v %v, %s", r.Verdict, r.At, r.Because)
	}
	// A scenario of another speed must not be listened to.
	s.Faults, s.Gating.Frequency = nil, 60
	if expected, err = diagnosis.Expect(s); err != nil {
		t.Fatal(err)
	}
	r = diagnosis.Diagnose(&c, expected)
	if r.Verdict != diagnosis.Unclear || !strings.Contains(strings.Join(r.Notes, "\n"), "so the scenario is not used") {
		t.Errorf("with another scenario: %v, %q", r.Verdict, r.Notes)
	}
}

// TestUnclear: what cannot be known is not guessed at, and why is said.
func TestUnclear(t *testing.T) {
	f := balanced(false)
	for name, tt := range map[string]struct {
		c       capture.Capture
		because string
	}{
		"part of a turn": {fromPhasors(0.7, f, inverter.ABC{}), "of a turn"},
		"no current":     {fromPhasors(4, [3]complex128{}, inverter.ABC{}), "do not alternate"},
		"direct current": {fromPhasors(4, [3]complex128{}, inverter.ABC{5, -2, -3}), "do not alternate"},
		"in common":      {fromPhasors(4, [3]complex128{10, 10, 10}, inverter.ABC{}), ""},
	} {
		r := expect(t, tt.c, diagnosis.Unclear, "")
		if !strings.Contains(r.Because, tt.because) || len(r.Next) == 0 {
			t.Errorf("%s: %q, %q", name, r.Because, r.Next)
		}
	}
	coarse := fromPhasors(4, f, inverter.ABC{})
	for i := range coarse.Current {
		for k := range coarse.Current[i] {
			coarse.Current[i][k] = 8 * math.Round(coarse.Current[i][k]/8)
		}
	}
	if r := expect(t, coarse, diagnosis.Unclear, ""); !strings.Contains(r.Because, "steps") {
		t.Errorf("coarse: %s", r.Because)
	}
}

// TestAnything: whatever is recorded, the report is whole, and holds numbers that are numbers (JSON has no
// others).
func TestAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 60).Draw(t, "n")
		c := capture.Capture{Derived: rapid.Bool().Draw(t, "derived"), Third: inverter.V}
		at := 0.0
		scale := math.Pow(10, rapid.Float64Range(-12, 12).Draw(t, "decades"))
		for range n {
			at += rapid.SampledFrom([]float64{0, 1e-4, 1e-4, 1e-4, 3}).Draw(t, "step")
			var x inverter.ABC
			for k := range x {
				x[k] = scale * rapid.SampledFrom([]float64{0, 0, 1, -1, 2, 1e6}).Draw(t, "current")
			}
			c.Time, c.Current = append(c.Time, at), append(c.Current, x)
		}
		r := diagnosis.Diagnose(&c, nil)
		if _, err := json.Marshal(r); err != nil {
			t.Fatal(err)
		}
		if r.Because == "" || len(r.Next) == 0 || !(r.Confidence >= 0 && r.Confidence <= 1) {
			t.Errorf("%+v", r)
		}
	})
}

func BenchmarkDiagnose(b *testing.B) {
	c := fromPhasors(6.3, balanced(false), inverter.ABC{})
	b.ReportAllocs()
	for b.Loop() {
		diagnosis.Diagnose(&c, nil)
	}
}

// TestOffsetsThatSumToNone: with two clamps an offset is in the derived current, too; and a control drives the
// current that its own sensor wants, against it by two thirds there and with it by one third in the others.
// Sign and size are told.
func TestOffsetsThatSumToNone(t *testing.T) {
	for _, by := range []float64{-3, 2} {
		for _, p := range inverter.Phases {
			mean := inverter.ABC{by / 3, by / 3, by / 3}
			mean[p] = -2 * by / 3
			r := expect(t, fromPhasors(4, balanced(false), mean), diagnosis.SensorOffset, p.String())
			if want := fmt.Sprintf("is about %.3g A off", by); !strings.Contains(r.Because, "own sensor") || !strings.Contains(r.Because, want) {
				t.Errorf("%s does not say that it %s", r.Because, want)
			}
			if p == inverter.W {
				continue
			}
			c := fromPhasors(4, balanced(false), only(p, by))
			c.Derived, c.Third = true, inverter.W
			for i, x := range c.Current {
				c.Current[i][inverter.W] = -x[inverter.U] - x[inverter.V]
			}
			r = expect(t, c, diagnosis.SensorOffset, p.String())
			if want := fmt.Sprintf("an offset of %.3g A of", by); !strings.Contains(r.Because, want) {
				t.Errorf("%s does not tell %s", r.Because, want)
			}
		}
	}
}
