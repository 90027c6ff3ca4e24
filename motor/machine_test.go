package motor_test

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
	"pgregory.net/rapid"

	"sextant/inverter"
	"sextant/motor"
)

// machineA has its magnet on the surface; machineB is the same with its q axis 2.5 times as inductive.
var (
	machineA = motor.Machine{PolePairs: 4, Resistance: 20e-3, InductanceD: 0.2e-3, InductanceQ: 0.2e-3, FluxLinkage: 0.08}
	machineB = motor.Machine{PolePairs: 4, Resistance: 20e-3, InductanceD: 0.2e-3, InductanceQ: 0.5e-3, FluxLinkage: 0.08}
)

const omega = 3000 * math.Pi / 30 * 4 // electrical, at 3000 rpm

func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !scalar.EqualWithinRel(got, want, rel) {
		t.Errorf("%s: %.9g, want %.9g within %g of it", what, got, want, rel)
	}
}

// The dq equations of Krishnan, Permanent Magnet Synchronous and Brushless DC Motor Drives (CRC, 2010), ch. 3,
// worked in double precision: 120 A and -120 A on the q axis at 3000 rpm.
func TestSteadyState(t *testing.T) {
	for _, tt := range []struct{ iq, vd, vq, size, lead, torque, shaft, copper, input float64 }{
		{120, -30.1593, 102.9310, 107.2584, 106.3309, 57.6, 18095.57, 432, 18527.57},
		{-120, 30.1593, 98.1310, 102.6611, 72.9159, -57.6, -18095.57, 432, -17663.57},
	} {
		i := motor.DQ{Q: tt.iq}
		v := machineA.Voltage(i, omega)
		near(t, "v_d", v.D, tt.vd, 1e-5)
		near(t, "v_q", v.Q, tt.vq, 1e-5)
		near(t, "its size", math.Hypot(v.D, v.Q), tt.size, 1e-5)
		near(t, "its lead on the d axis", math.Atan2(v.Q, v.D)*180/math.Pi, tt.lead, 1e-5)
		near(t, "torque", machineA.Torque(i), tt.torque, 1e-12)
		near(t, "shaft power", machineA.Torque(i)*omega/4, tt.shaft, 1e-6)
		near(t, "copper heat", 1.5*machineA.Resistance*tt.iq*tt.iq, tt.copper, 1e-12)
		near(t, "input", 1.5*(v.D*i.D+v.Q*i.Q), tt.input, 1e-6)
	}
}

// EMF and torque constants, same source: what a turned machine shows on a voltmeter.
func TestConstants(t *testing.T) {
	e := machineA.Voltage(motor.DQ{}, omega)
	near(t, "phase EMF", e.Q, 100.531, 1e-5)
	near(t, "line EMF", math.Sqrt(3)*e.Q, 174.125, 1e-5)
	near(t, "line EMF, rms", math.Sqrt(1.5)*e.Q, 123.125, 1e-5)
	perAmpere := machineA.Torque(motor.DQ{Q: 1})
	near(t, "torque per peak ampere", perAmpere, 0.48, 1e-12)
	near(t, "torque per rms ampere", math.Sqrt2*perAmpere, 0.678823, 1e-5)
	perRadian := math.Sqrt(3) * machineA.Voltage(motor.DQ{}, 4).Q
	near(t, "line volts per mechanical rad/s", perRadian, 0.554256, 1e-5)
	near(t, "torque per ampere over volts per rad/s", perAmpere/perRadian, math.Sqrt(3)/2, 1e-12)
}

// The most torque per ampere of a salient machine, by numerical optimisation against the closed form of
// Morimoto et al., IEEE Trans. IA-26 (1990) 866.
func TestTorqueOfSalientMachine(t *testing.T) {
	for _, tt := range []struct{ current, id, iq, torque float64 }{
		{100, -30.5159, 95.2302, 50.9413},
		{200, -89.6805, 178.7663, 114.6652},
		{300, -155.6944, 256.4357, 194.9552},
	} {
		near(t, "torque", machineB.Torque(motor.DQ{D: tt.id, Q: tt.iq}), tt.torque, 1e-5)
		for _, turn := range []float64{-0.01, 0.01} { // a little to either side is less
			s, c := math.Sincos(math.Atan2(tt.iq, tt.id) + turn)
			if x := machineB.Torque(motor.DQ{D: tt.current * c, Q: tt.current * s}); x > tt.torque {
				t.Errorf("%g A: turned by %g rad they give %g N m, more than %g", tt.current, turn, x, tt.torque)
			}
		}
	}
}

// Shorted terminals: Welchko, Jahns, Soong, Nagashima, IEEE Trans. EC-18 (2003) 291. The braking torque is
// greatest at R/L, in a salient machine at (R/Lq) sqrt((3(k-1) + sqrt(9(k-1)²+4k))/2) with k = Lq/Ld.
func TestShortedTerminals(t *testing.T) {
	for _, tt := range []struct {
		m                   motor.Machine
		id, iq, torque      float64 // at 3000 rpm
		bestRPM, bestTorque float64
	}{
		{machineA, -397.483, -31.631, -15.1827, 238.732, -96},
		{machineB, -398.989, -12.700, -15.2172, 213.529, -114.487},
	} {
		i := tt.m.Current(motor.DQ{}, omega)
		near(t, "i_d", i.D, tt.id, 2e-5)
		near(t, "i_q", i.Q, tt.iq, 2e-5)
		near(t, "torque", tt.m.Torque(i), tt.torque, 1e-5)
		near(t, "shaft power is heat", tt.m.Torque(i)*omega/4, -1.5*tt.m.Resistance*(i.D*i.D+i.Q*i.Q), 1e-9)
		brake := func(rpm float64) float64 {
			w := rpm * math.Pi / 30 * 4
			return tt.m.Torque(tt.m.Current(motor.DQ{}, w))
		}
		near(t, "greatest braking torque", brake(tt.bestRPM), tt.bestTorque, 1e-5)
		for _, f := range []float64{0.98, 1.02} {
			if brake(tt.bestRPM*f) < brake(tt.bestRPM) {
				t.Errorf("the brake is stronger at %g of %g rpm", f, tt.bestRPM)
			}
		}
	}
}

// At a salient machine's R/sqrt(Ld Lq) the brake is not at its strongest (same source).
func TestBrakeOfSalientMachineElsewhere(t *testing.T) {
	w := 150.988 * math.Pi / 30 * 4
	near(t, "torque", machineB.Torque(machineB.Current(motor.DQ{}, w)), -106.253, 1e-5)
}

// Voltage, Current and Slope are one set of equations: a voltage's current needs that voltage, and rests.
func TestEquationsAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := motor.Machine{
			PolePairs:  rapid.IntRange(1, 20).Draw(t, "p"),
			Resistance: rapid.Float64Range(1e-3, 10).Draw(t, "R"), InductanceD: rapid.Float64Range(1e-5, 0.1).Draw(t, "Ld"),
			InductanceQ: rapid.Float64Range(1e-5, 0.1).Draw(t, "Lq"), FluxLinkage: rapid.Float64Range(0, 1).Draw(t, "psi"),
		}
		i := motor.DQ{D: rapid.Float64Range(-500, 500).Draw(t, "id"), Q: rapid.Float64Range(-500, 500).Draw(t, "iq")}
		w := rapid.Float64Range(-5000, 5000).Draw(t, "w")
		v := m.Voltage(i, w)
		back := m.Current(v, w)
		scale := 1 + math.Hypot(i.D, i.Q) + m.FluxLinkage/m.InductanceD + m.FluxLinkage/m.InductanceQ
		if math.Hypot(back.D-i.D, back.Q-i.Q) > 1e-9*scale {
			t.Fatalf("%v A need %v V, which drive %v A", i, v, back)
		}
		// More voltage than that drives the current on as it would one at rest: L di/dt = v.
		more := motor.DQ{D: rapid.Float64Range(-500, 500).Draw(t, "vd"), Q: rapid.Float64Range(-500, 500).Draw(t, "vq")}
		rise := m.Slope(i, motor.DQ{D: v.D + more.D, Q: v.Q + more.Q}, w)
		k := m.Slope(i, v, w)
		size := (math.Hypot(v.D, v.Q) + math.Abs(w)*m.FluxLinkage) * (1/m.InductanceD + 1/m.InductanceQ)
		size += math.Abs(w) * scale * (m.InductanceQ/m.InductanceD + m.InductanceD/m.InductanceQ)
		if math.Hypot(k.D, k.Q) > 1e-12*size {
			t.Fatalf("a steady current changes by %v A/s", k)
		}
		if off := math.Hypot((rise.D-k.D)*m.InductanceD-more.D, (rise.Q-k.Q)*m.InductanceQ-more.Q); off > 1e-12*size*(m.InductanceD+m.InductanceQ)+1e-12*math.Hypot(more.D, more.Q) {
			t.Fatalf("%v V more drive the current on by %v A/s, not %v", more, rise, k)
		}
		// Power in is heat and shaft power when nothing changes.
		in, out := 1.5*(v.D*i.D+v.Q*i.Q), 1.5*m.Resistance*(i.D*i.D+i.Q*i.Q)+m.Torque(i)*w/float64(m.PolePairs)
		if math.Abs(in-out) > 1e-11*(math.Abs(in)+1.5*math.Hypot(v.D, v.Q)*math.Hypot(i.D, i.Q)+1e-300)*(1+scale) {
			t.Fatalf("%g W in, %g W out", in, out)
		}
	})
}

// Park's frame: a cosine in phase with the d axis is all d, its sine all q (Krishnan, ch. 3).
func TestPark(t *testing.T) {
	for deg := -400.0; deg < 400; deg += 23 {
		th := deg * math.Pi / 180
		var x, y inverter.ABC
		for k := range x {
			x[k] = 7 * math.Cos(th-2*math.Pi/3*float64(k))
			y[k] = -7*math.Sin(th-2*math.Pi/3*float64(k)) + 5 // and something common, which is lost
		}
		if d := motor.Park(x, th); math.Abs(d.D-7) > 1e-12 || math.Abs(d.Q) > 1e-12 {
			t.Errorf("at %g deg: %+v, want 7 on d", deg, d)
		}
		if q := motor.Park(y, th); math.Abs(q.Q-7) > 1e-12 || math.Abs(q.D) > 1e-12 {
			t.Errorf("at %g deg: %+v, want 7 on q", deg, q)
		}
	}
}

// A delta's star has a third of its resistance and inductance and 1/√3 of its flux (circuit law).
func TestDeltaToStar(t *testing.T) {
	d := machineB
	d.Connection = motor.Delta
	s := d.Star()
	near(t, "R", s.Resistance, 20e-3/3, 1e-15)
	near(t, "Ld", s.InductanceD, 0.2e-3/3, 1e-15)
	near(t, "Lq", s.InductanceQ, 0.5e-3/3, 1e-15)
	near(t, "psi", s.FluxLinkage, 0.08/math.Sqrt(3), 1e-15)
	if s.Connection != motor.Star || machineB.Star() != machineB {
		t.Errorf("a star stays as it is; a delta becomes one: %+v", s)
	}
}

// TestWords: kinds print as files have them, and what has no name says so.
func TestWords(t *testing.T) {
	for want, got := range map[string]fmt.Stringer{
		"permanent-magnet": motor.PermanentMagnet, "passive": motor.Passive,
		"star": motor.Star, "delta": motor.Delta,
		"sine": motor.Sine, "trapezoid": motor.Trapezoid,
		"torque-per-ampere": motor.TorquePerAmpere, "field-weakening": motor.FieldWeakening, "torque-per-volt": motor.TorquePerVolt,
		// The first behind the last of each has no name.
		"EMF(2)": motor.EMF(2), "Region(3)": motor.Region(3), "Kind(2)": motor.Kind(2), "Connection(2)": motor.Connection(2),
	} {
		if got.String() != want {
			t.Errorf("a value prints as %q, want %q", got, want)
		}
	}
	if text, err := motor.FieldWeakening.MarshalText(); string(text) != "field-weakening" || err != nil {
		t.Errorf("a region is written %q, %v", text, err)
	}
}
