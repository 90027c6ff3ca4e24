package nameplate_test

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor"
	"sextant/motor/drive"
	"sextant/motor/nameplate"
)

// machine is invented.
var machine = motor.Machine{PolePairs: 3, Resistance: 0.15, InductanceD: 0.9e-3, InductanceQ: 2.1e-3, FluxLinkage: 0.12}

// emf observes the EMFs of a run.
type emf struct {
	step, next float64
	line       []float64 // V, from U to V
	phase      []float64
}

func (e *emf) Observe(seg *drive.Segment) {
	for ; e.next < seg.T1; e.next += e.step {
		x := seg.At(e.next).EMF
		e.line = append(e.line, x[0]-x[1])
		e.phase = append(e.phase, x[0])
	}
}

func peak(x []float64) (p float64) {
	for _, y := range x {
		p = max(p, math.Abs(y))
	}
	return p
}

func rms(x []float64) float64 {
	sum := 0.0
	for _, y := range x {
		sum += y * y
	}
	return math.Sqrt(sum / float64(len(x)))
}

// TestEMF: a simulated machine is turned with all switches off and its EMF measured as a voltmeter and a scope would;
// from each reading follows the flux linkage that it was simulated with.
func TestEMF(t *testing.T) {
	for _, shape := range []motor.EMF{motor.Sine, motor.Trapezoid} {
		m := machine
		m.EMF, m.InductanceQ = shape, m.InductanceD
		const speed = 20.0 // rad/s
		period := 2 * math.Pi / (speed * float64(m.PolePairs))
		s := drive.Scenario{Supply: drive.Supply{Voltage: 500}, Machine: m, Shaft: drive.Shaft{Speed: speed}}
		s.Gating.Kind, s.Gating.Chop = pattern.AllOff, 1
		s.Run.Measure = period
		e := &emf{step: period / 7200}
		if _, err := drive.Simulate(s, e); err != nil {
			t.Fatal(err)
		}
		for of, volts := range map[nameplate.Voltage]float64{
			nameplate.LineRMS: rms(e.line), nameplate.LinePeak: peak(e.line), nameplate.PhaseRMS: rms(e.phase), nameplate.PhasePeak: peak(e.phase),
		} {
			p := nameplate.Plate{PolePairs: 3, EMF: volts / speed, Of: of, Shape: shape}
			if !scalar.EqualWithinRel(p.Flux(), m.FluxLinkage, 1e-3) {
				t.Errorf("%v, %v: %g Wb, want %g", shape, of, p.Flux(), m.FluxLinkage)
			}
		}
	}
}

// TestTorque: of a sine the machine's own torque, of a trapezoid the power of two EMFs over the speed.
func TestTorque(t *testing.T) {
	m := machine
	const amperes = 10.0
	sine := m.Torque(motor.DQ{Q: amperes})
	flat := 2 * float64(m.PolePairs) * m.FluxLinkage * amperes
	for _, tt := range []struct {
		shape  motor.EMF
		per    nameplate.Current
		torque float64
		amps   float64
	}{
		{motor.Sine, nameplate.Peak, sine, amperes}, {motor.Sine, nameplate.RMS, sine, amperes / math.Sqrt2},
		{motor.Trapezoid, nameplate.Peak, flat, amperes}, {motor.Trapezoid, nameplate.RMS, flat, amperes * math.Sqrt(240.0/360)},
	} {
		p := nameplate.Plate{PolePairs: 3, Torque: tt.torque / tt.amps, Per: tt.per, Shape: tt.shape}
		if !scalar.EqualWithinRel(p.Flux(), m.FluxLinkage, 1e-12) {
			t.Errorf("%v, %v: %g Wb, want %g", tt.shape, tt.per, p.Flux(), m.FluxLinkage)
		}
	}
}

// TestInductance: the energy of a current from U to V, by the dq currents that it makes, is half its square times
// the inductance between the leads; its least and its greatest as the rotor turns are what a plate has.
func TestInductance(t *testing.T) {
	least, most := math.Inf(1), 0.0
	for deg := range 360 {
		i := motor.Park(inverter.ABC{1, -1, 0}, float64(deg)*math.Pi/180)
		l := 1.5 * (machine.InductanceD*i.D*i.D + machine.InductanceQ*i.Q*i.Q)
		least, most = min(least, l), max(most, l)
	}
	p := nameplate.Plate{PolePairs: 3, Resistance: 0.3, Least: least, Most: most, EMF: 1}
	m, err := p.Machine()
	if err != nil || !scalar.EqualWithinRel(m.InductanceD, machine.InductanceD, 1e-9) || !scalar.EqualWithinRel(m.InductanceQ, machine.InductanceQ, 1e-9) {
		t.Errorf("%v, %v", m, err)
	}
	if m.Resistance != machine.Resistance {
		t.Errorf("%g ohm", m.Resistance)
	}
}

// TestLeads: a delta's readings lead to the star that its leads cannot tell from it.
func TestLeads(t *testing.T) {
	delta := machine
	delta.Connection, delta.InductanceQ = motor.Delta, delta.InductanceD
	// A winding beside the other two in series, and its own EMF.
	p := nameplate.Plate{PolePairs: 3, Resistance: delta.Resistance * 2 / 3, Least: delta.InductanceD * 2 / 3, Most: delta.InductanceD * 2 / 3,
		EMF: delta.FluxLinkage * 3, Of: nameplate.LinePeak}
	m, err := p.Machine()
	want := delta.Star()
	if err != nil || !scalar.EqualWithinRel(m.Resistance, want.Resistance, 1e-12) || !scalar.EqualWithinRel(m.InductanceD, want.InductanceD, 1e-12) || !scalar.EqualWithinRel(m.FluxLinkage, want.FluxLinkage, 1e-12) {
		t.Errorf("%+v, want %+v, %v", m, want, err)
	}
}

// TestDoubt: figures that belong together are not doubted, and the usual slip is named.
func TestDoubt(t *testing.T) {
	p := nameplate.Plate{PolePairs: 4, EMF: 0.823}
	// T = 3/2 p ψ √2 I and E = √(3/2) p ψ ω: for rms both ways they are in the ratio of √3.
	p.Torque = math.Sqrt(3) * p.EMF
	if text := p.Doubt(); text != "" {
		t.Error(text)
	}
	p.Torque /= math.Sqrt2 // for an ampere of peak
	if text := p.Doubt(); !strings.Contains(text, "0.71 times") || !strings.Contains(text, "the EMF counted as line-peak, or with the current counted as peak") {
		t.Error(text)
	}
	p.Torque *= 10
	if text := p.Doubt(); !strings.Contains(text, "7.07 times") || strings.Contains(text, "agree") {
		t.Error(text)
	}
}

// TestMissing: all that is missing is said at once.
func TestMissing(t *testing.T) {
	_, err := nameplate.Plate{}.Machine()
	if err == nil || strings.Count(err.Error(), "missing") != 4 {
		t.Errorf("%v", err)
	}
}

// TestNames: what prints is read.
func TestNames(t *testing.T) {
	for _, name := range nameplate.Voltages() {
		var v nameplate.Voltage
		if err := v.UnmarshalText([]byte(name)); err != nil || v.String() != name {
			t.Errorf("%s is %v, %v", name, v, err)
		}
	}
	for _, name := range nameplate.Currents() {
		var c nameplate.Current
		if err := c.UnmarshalText([]byte(name)); err != nil || c.String() != name {
			t.Errorf("%s is %v, %v", name, c, err)
		}
	}
	var v nameplate.Voltage
	if err := v.UnmarshalText([]byte("line")); err == nil || !strings.Contains(err.Error(), "line-rms, line-peak, phase-rms, phase-peak") {
		t.Errorf("%v", err)
	}
}
