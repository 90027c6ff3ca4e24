package motor_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/optimize"
	"pgregory.net/rapid"

	"sextant/motor"
)

// limits are those of 350 V with a space vector's greatest circle, and 300 A.
var limits = motor.Limit{Voltage: 350 / math.Sqrt(3), Current: 300}

func ideal(m motor.Machine) motor.Machine {
	m.Resistance = 0
	return m
}

// electrical returns a speed in electrical rad/s from turns a minute, of four pole pairs.
func electrical(rpm float64) float64 { return rpm * math.Pi / 30 * 4 }

// nearby checks a current and its torque.
func nearby(t *testing.T, m motor.Machine, what string, got, want motor.DQ, torque, rel float64) {
	t.Helper()
	size := rel * math.Hypot(want.D, want.Q)
	if math.Abs(got.D-want.D) > size || math.Abs(got.Q-want.Q) > size {
		t.Errorf("%s: %.6f A, want %.6f", what, got, want)
	}
	near(t, what+", torque", m.Torque(got), torque, rel)
}

// Optima of a general-purpose optimiser (scipy.optimize) for the closed form of Morimoto et al., IEEE Trans.
// IA-26 (1990) 866; Krishnan, Permanent Magnet Synchronous and Brushless DC Motor Drives (CRC, 2010).
func TestMostTorquePerAmpere(t *testing.T) {
	for _, tt := range []struct{ size, id, iq, torque float64 }{
		{100, -30.5159, 95.2302, 50.9413},
		{200, -89.6805, 178.7663, 114.6652},
		{300, -155.6944, 256.4357, 194.9552},
	} {
		nearby(t, machineB, "B", machineB.MostTorquePerAmpere(tt.size), motor.DQ{D: tt.id, Q: tt.iq}, tt.torque, 1e-5)
		least, ok := machineB.LeastCurrent(motor.Limit{Voltage: limits.Voltage, Current: 301}, 0, tt.torque)
		if !ok {
			t.Errorf("%g N m are not to be had", tt.torque)
		}
		nearby(t, machineB, "B, by torque", least, motor.DQ{D: tt.id, Q: tt.iq}, tt.torque, 1e-5)
	}
	nearby(t, machineA, "A", machineA.MostTorquePerAmpere(120), motor.DQ{Q: 120}, 57.6, 1e-12)
}

// Same sources.
func TestCornerSpeed(t *testing.T) {
	for _, tt := range []struct {
		name string
		m    motor.Machine
		rpm  float64
	}{
		{"A", machineA, 4708.77}, {"A without R", ideal(machineA), 4824.13},
		{"B", machineB, 3432.83}, {"B without R", ideal(machineB), 3515.81},
	} {
		near(t, tt.name, tt.m.CornerSpeed(limits), electrical(tt.rpm), 1e-5)
	}
	if w := machineA.CornerSpeed(motor.Limit{Voltage: 5, Current: 300}); w != 0 {
		t.Errorf("6 V of resistive drop and 5 V leave a corner at %g rad/s", w)
	}
}

// Field weakening on the circle of 300 A, by scipy.optimize; without resistance the closed forms of the same
// sources.
func TestFieldWeakening(t *testing.T) {
	for _, tt := range []struct {
		name                string
		m                   motor.Machine
		rpm, id, iq, torque float64
	}{
		{"B", machineB, 4000, -202.670, 221.190, 186.862},
		{"B", machineB, 6000, -262.074, 146.004, 138.957},
		{"B", machineB, 8000, -280.348, 106.794, 105.152},
		{"A", machineA, 6000, -121.575, 274.262, 131.646},
		{"A", machineA, 8000, -205.489, 218.573, 104.915},
		{"A without R", ideal(machineA), 6000, -110.4843, 278.9144, 133.8789},
		{"B without R", ideal(machineB), 6000, -259.4294, 150.6532, 142.6645},
	} {
		i, bound, ok := tt.m.MostTorque(limits, electrical(tt.rpm))
		if !ok || bound != motor.FieldWeakening {
			t.Errorf("%s at %g rpm: bound by %v, %t", tt.name, tt.rpm, bound, ok)
		}
		nearby(t, tt.m, tt.name, i, motor.DQ{D: tt.id, Q: tt.iq}, tt.torque, 5e-6)
	}
}

// Soong, Miller, IEE Proc. EPA 141 (1994) 331; a machine of 400 A's characteristic current under 300 A.
func TestTopSpeed(t *testing.T) {
	near(t, "characteristic current", machineA.CharacteristicCurrent(), 400, 1e-12)
	w, ok := ideal(machineA).TopSpeed(limits)
	near(t, "top speed", w, electrical(24120.6), 1e-5)
	if !ok {
		t.Error("there is no top speed")
	}
	for _, m := range []motor.Machine{machineA, ideal(machineA), machineB} {
		w, _ := m.TopSpeed(limits)
		if _, _, ok := m.MostTorque(limits, w*(1-1e-4)); !ok {
			t.Error("there is no torque just below the top speed")
		}
		if _, _, ok := m.MostTorque(limits, w*(1+1e-4)); ok {
			t.Error("there is torque above the top speed")
		}
	}
	large := motor.Limit{Voltage: limits.Voltage, Current: 400}
	if _, ok := machineA.TopSpeed(large); ok {
		t.Error("there is a top speed with the characteristic current")
	}
	if _, _, ok := machineA.MostTorque(large, 1e5); !ok {
		t.Error("there is no torque at great speed with the characteristic current")
	}
	// 3 V do not cover R ψ/L_d = 8 V, be it that less than the whole current weakens the field best, or all of it.
	for _, current := range []float64{400, 65, 57, 56, 30} {
		weak := motor.Limit{Voltage: 3, Current: current}
		w, ok = machineA.TopSpeed(weak)
		if _, _, below := machineA.MostTorque(weak, w*(1-1e-4)); !ok || !below {
			t.Errorf("3 V and %g A have a top speed of %g rad/s, %t", current, w, ok)
		}
		if _, _, above := machineA.MostTorque(weak, w*(1+1e-4)); above {
			t.Errorf("3 V and %g A make torque above %g rad/s", current, w)
		}
	}
}

// The closed form of Morimoto et al. for no resistance and free current, and by scipy.optimize:
// ψ_d = (L_q ψ - √(L_q²ψ² + 8 (L_q - L_d)² F²)) / (4 (L_q - L_d)), F = U/ω.
func TestMostTorquePerVolt(t *testing.T) {
	m := ideal(machineB)
	for _, tt := range []struct{ rpm, id, iq, torque float64 }{
		{12000, -452.375, 77.625, 100.468},
		{20000, -420.551, 47.536, 58.801},
	} {
		want := motor.DQ{D: tt.id, Q: tt.iq}
		nearby(t, m, "B", m.MostTorquePerVolt(limits.Voltage, electrical(tt.rpm)), want, tt.torque, 1e-5)
		i, bound, ok := m.MostTorque(motor.Limit{Voltage: limits.Voltage, Current: 1000}, electrical(tt.rpm))
		if !ok || bound != motor.TorquePerVolt {
			t.Errorf("at %g rpm: bound by %v, %t", tt.rpm, bound, ok)
		}
		nearby(t, m, "B", i, want, tt.torque, 1e-5)
	}
	i := ideal(machineA).MostTorquePerVolt(limits.Voltage, electrical(12000))
	if math.Abs(i.D+400) > 1e-9 {
		t.Errorf("equal inductances want -ψ/L = -400 A, not %g", i.D)
	}
}

// Jahns, Caliskan, IEEE Trans. IA-35 (1999) 1347.
func TestGeneratingSpeed(t *testing.T) {
	near(t, "ideal diodes", machineA.GeneratingSpeed(350, 0), electrical(6030.16), 1e-6)
	near(t, "diodes of 0.85 V", machineA.GeneratingSpeed(350, 0.85), electrical(6059.45), 1e-6)
}

// With resistance, against gonum's Nelder-Mead with the limits as penalties.
func TestMostTorqueAgainstOptimiser(t *testing.T) {
	for _, m := range []motor.Machine{machineA, machineB} {
		for _, rpm := range []float64{-9000, -5000, 2000, 4500, 7000, 12000} {
			w := electrical(rpm)
			i, _, ok := m.MostTorque(limits, w)
			if !ok {
				t.Errorf("nothing at %g rpm", rpm)
				continue
			}
			cost := func(x []float64) float64 {
				j := motor.DQ{D: x[0], Q: x[1]}
				v := m.Voltage(j, w)
				over := max(0, math.Hypot(j.D, j.Q)-limits.Current) + max(0, math.Hypot(v.D, v.Q)-limits.Voltage)
				return -m.Torque(j) + 100*over
			}
			start := []float64{i.D + 10, i.Q - 10}
			best, err := optimize.Minimize(optimize.Problem{Func: cost}, start, nil, &optimize.NelderMead{})
			if err != nil {
				t.Fatal(err)
			}
			// The optimiser stops in the corner of its penalties, short of the best.
			near(t, "most torque", m.Torque(i), -best.F, 0.01)
			if m.Torque(i) < -best.F*(1-1e-5) {
				t.Errorf("at %g rpm: %g N m, and the optimiser finds %g", rpm, m.Torque(i), -best.F)
			}
		}
	}
}

// A randomMachine and its limits are of any sense that saliency may have.
func randomMachine(t *rapid.T) (motor.Machine, motor.Limit, float64) {
	m := motor.Machine{
		PolePairs: 3, Resistance: rapid.Float64Range(0, 0.2).Draw(t, "R"),
		InductanceD: rapid.Float64Range(1e-4, 2e-3).Draw(t, "Ld"), InductanceQ: rapid.Float64Range(1e-4, 2e-3).Draw(t, "Lq"),
		FluxLinkage: rapid.Float64Range(0.01, 0.3).Draw(t, "psi"),
	}
	l := motor.Limit{Voltage: rapid.Float64Range(50, 400).Draw(t, "U"), Current: rapid.Float64Range(10, 400).Draw(t, "I")}
	return m, l, rapid.Float64Range(-6000, 6000).Draw(t, "w")
}

func within(m motor.Machine, l motor.Limit, i motor.DQ, w, slack float64) bool {
	v := m.Voltage(i, w)
	return math.Hypot(i.D, i.Q) <= l.Current*(1+slack) && math.Hypot(v.D, v.Q) <= l.Voltage*(1+slack)
}

// No current on a polar grid within the limits makes more torque, and the answer is within them.
func TestNothingBeatsMostTorque(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, l, w := randomMachine(t)
		i, bound, ok := m.MostTorque(l, w)
		most := 0.0
		if ok {
			most = m.Torque(i)
			if !within(m, l, i, w, 1e-8) {
				t.Fatalf("%v A is out of the limits (%v)", i, bound)
			}
		}
		for k := range 60 {
			for n := range 90 {
				s, c := math.Sincos(float64(n) * math.Pi / 90)
				r := l.Current * float64(k+1) / 60
				j := motor.DQ{D: r * c, Q: r * s}
				if within(m, l, j, w, 0) && m.Torque(j) > most*(1+1e-9) {
					t.Fatalf("%v A makes %g N m, more than %g of %v A (%v)", j, m.Torque(j), most, i, bound)
				}
			}
		}
	})
}

// The least current makes its torque within the limits, in both senses, and no current on the curve of that
// torque is smaller.
func TestNothingBeatsLeastCurrent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, l, w := randomMachine(t)
		top, _, ok := m.MostTorque(l, w)
		if !ok {
			return
		}
		torque := m.Torque(top) * rapid.Float64Range(0.01, 1).Draw(t, "share")
		if i, ok := m.LeastCurrent(l, w, 1.001*m.Torque(top)); ok {
			t.Fatalf("%v A makes more than the most torque", i)
		}
		i, ok := m.LeastCurrent(l, w, torque)
		size := l.Current
		if ok {
			size = math.Hypot(i.D, i.Q)
			if math.Abs(m.Torque(i)-torque) > 1e-9*torque || !within(m, l, i, w, 1e-8) {
				t.Fatalf("%v A makes %g N m, not %g", i, m.Torque(i), torque)
			}
		}
		for k := -200; k <= 200; k++ {
			d := l.Current * float64(k) / 200
			f := m.FluxLinkage + (m.InductanceD-m.InductanceQ)*d
			if f <= 0 {
				continue
			}
			j := motor.DQ{D: d, Q: torque / (4.5 * f)}
			if within(m, l, j, w, 0) && math.Hypot(j.D, j.Q) < size*(1-1e-9) {
				t.Fatalf("%v A is smaller than %v (%t)", j, i, ok)
			}
		}
		back, ok2 := m.LeastCurrent(l, -w, -torque)
		if ok2 != ok || ok && (back.D != i.D || back.Q != -i.Q) {
			t.Fatalf("turning back: %v, not the mirror of %v", back, i)
		}
	})
}

func BenchmarkMostTorque(b *testing.B) {
	b.ReportAllocs()
	for range b.N {
		machineB.MostTorque(limits, electrical(6000))
	}
}

func BenchmarkLeastCurrent(b *testing.B) {
	b.ReportAllocs()
	for range b.N {
		machineB.LeastCurrent(limits, electrical(6000), 100)
	}
}

// TestNothingToTurnWith: without magnet and saliency no current makes torque, and of those that make none the least is none.
func TestNothingToTurnWith(t *testing.T) {
	m := motor.Machine{PolePairs: 4, Resistance: 20e-3, InductanceD: 0.2e-3, InductanceQ: 0.2e-3}
	l := motor.Limit{Voltage: 200, Current: 300}
	if i := m.MostTorquePerAmpere(300); i != (motor.DQ{Q: 300}) {
		t.Errorf("with equal inductances all current is q's, not %v", i)
	}
	if i, bound, ok := m.MostTorque(l, 1000); ok {
		t.Errorf("%v makes torque, bound by %v", i, bound)
	}
	if i, ok := m.LeastCurrent(l, 1000, 10); ok {
		t.Errorf("%v makes 10 N m", i)
	}
	if i, ok := m.LeastCurrent(l, 1000, 0); !ok || i != (motor.DQ{}) {
		t.Errorf("%v makes no torque, %v", i, ok)
	}
}
