package pair_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sextant/inverter/pattern"
	"sextant/motor"
	"sextant/motor/pair"
)

const rpm = math.Pi / 30

// hauler is the machine of published worked examples (Krishnan, Permanent Magnet Synchronous and Brushless DC Motor Drives,
// CRC 2010, ch. 3) on 350 V with 300 A.
func hauler() pair.Pair {
	return pair.Pair{
		Machine: motor.Machine{PolePairs: 4, Resistance: 20e-3, InductanceD: 0.2e-3, InductanceQ: 0.2e-3, FluxLinkage: 0.08},
		Supply:  350, Current: 300, Modulation: pattern.SpaceVector.Linear(), Pattern: pattern.SpaceVector, Carrier: 10e3, DeadTime: 2e-6,
	}
}

// TestMost: below the corner 3/2 p λ I = 144 N m both ways; at 6000 rpm 131.646 N m on the voltage's limit (Krishnan, ch. 3).
func TestMost(t *testing.T) {
	p := hauler()
	for _, tt := range []struct {
		speed, most float64
		bound       motor.Region
	}{{0, 144, motor.TorquePerAmpere}, {3000, 144, motor.TorquePerAmpere}, {6000, 131.646, motor.FieldWeakening}} {
		s, bound, ok := p.Most(tt.speed * rpm)
		if !ok || bound != tt.bound || !scalar.EqualWithinRel(s.Torque, tt.most, 1e-5) {
			t.Errorf("at %g rpm: %g N m, %v, %v", tt.speed, s.Torque, bound, ok)
		}
		// Backwards, all is seen in a mirror.
		back, bound, ok := p.Least(-tt.speed * rpm)
		if !ok || bound != tt.bound || back.Torque != -s.Torque || back.Current != (motor.DQ{D: s.Current.D, Q: -s.Current.Q}) {
			t.Errorf("at %g rpm backwards: %g N m, %v, %v", tt.speed, back.Torque, bound, ok)
		}
	}
}

// TestTerminals: what enters the terminals, 3/2 (vd id + vq iq), is what leaves at the shaft and as heat.
func TestTerminals(t *testing.T) {
	p := hauler()
	p.Drag, p.DragSlope = 2, 1e-3
	for _, speed := range []float64{-9000, -3000, 0, 3000, 9000} {
		for _, i := range []motor.DQ{{D: -150, Q: 100}, {D: -50, Q: -120}, {D: 20}} {
			s := p.At(i, speed*rpm)
			want := 1.5 * (s.Voltage.D*i.D + s.Voltage.Q*i.Q)
			if got := s.Terminals(); !scalar.EqualWithinAbsOrRel(got, want, 1e-9, 1e-12) {
				t.Errorf("%v at %g rpm: %g W, want %g W", i, speed, got, want)
			}
			if s.Drag < 0 || speed == 0 && s.Drag != 0 {
				t.Errorf("iron and friction turn %g W to heat at %g rpm", s.Drag, speed)
			}
		}
	}
}

// TestAsks: the bridge is asked for the power that enters the terminals, 3/4 M V I cos φ, and for what magnetises the
// machine, 3/4 M V I sin φ = 3/2 |ω| (L_d i_d² + L_q i_q² + ψ i_d), the same either way round.
func TestAsks(t *testing.T) {
	p := hauler()
	p.Machine.InductanceQ = 0.5e-3
	p.Drag = 2
	for _, speed := range []float64{-9000, -3000, 3000, 9000} {
		for _, i := range []motor.DQ{{D: -150, Q: 100}, {D: -50, Q: -120}, {D: 20, Q: 1}} {
			s := p.At(i, speed*rpm)
			x := p.Asks(&s)
			m, omega := &p.Machine, math.Abs(speed)*rpm*4
			active, reactive := s.Terminals(), 1.5*omega*(m.InductanceD*i.D*i.D+m.InductanceQ*i.Q*i.Q+m.FluxLinkage*i.D)
			size := 0.75 * x.Modulation * x.Supply * x.Current
			if !scalar.EqualWithinAbs(size*math.Cos(x.Lag), active, 1e-9*size) || !scalar.EqualWithinAbs(size*math.Sin(x.Lag), reactive, 1e-9*size) {
				t.Errorf("%v at %g rpm: %g W, %g var, want %g and %g", i, speed, size*math.Cos(x.Lag), size*math.Sin(x.Lag), active, reactive)
			}
			if hz := math.Abs(speed) / 60 * 4; !scalar.EqualWithinRel(x.Frequency, hz, 1e-12) || !scalar.EqualWithinRel(x.Current, math.Hypot(i.D, i.Q), 1e-12) {
				t.Errorf("%v at %g rpm: %g A at %g Hz, want %g Hz", i, speed, x.Current, x.Frequency, hz)
			}
			back := p.At(motor.DQ{D: i.D, Q: -i.Q}, -speed*rpm)
			if y := p.Asks(&back); y != x {
				t.Errorf("the other way round %+v is asked for, want %+v", y, x)
			}
		}
	}
}

func TestValidate(t *testing.T) {
	good := hauler()
	if err := good.Validate(); err != nil {
		t.Fatal(err)
	}
	nan := math.NaN()
	for _, tt := range []struct {
		change func(*pair.Pair)
		key    string
		says   string
	}{
		{func(p *pair.Pair) { p.Machine.Kind = motor.Passive }, "machine", "passive load"},
		{func(p *pair.Pair) { p.Machine.PolePairs = 0 }, "machine", "out of range"},
		{func(p *pair.Pair) { p.Machine.InductanceD = 0 }, "machine", "out of range"},
		{func(p *pair.Pair) { p.Machine.InductanceQ = nan }, "machine", "out of range"},
		{func(p *pair.Pair) { p.Machine.InductanceQ = 0 }, "machine", "out of range"},
		{func(p *pair.Pair) { p.Machine.Resistance = -1 }, "machine", "out of range"},
		{func(p *pair.Pair) { p.Machine.FluxLinkage = -0.1 }, "machine", "out of range"},
		{func(p *pair.Pair) { p.Machine.FluxLinkage = 0 }, "machine", "makes no torque"},
		{func(p *pair.Pair) { p.Supply = 0 }, "supply", "0 V is out of range; give more than 0, up to 1e+06 V"},
		{func(p *pair.Pair) { p.Supply = 1.1e6 }, "supply", "1.1e+06 V is out of range"},
		{func(p *pair.Pair) { p.Current = 0 }, "current", "0 A is out of range"},
		{func(p *pair.Pair) { p.Current = math.Inf(1) }, "current", "+Inf A is out of range"},
		{func(p *pair.Pair) { p.Drag = -1 }, "drag", "-1 N m is out of range"},
		{func(p *pair.Pair) { p.DragSlope = nan }, "drag_slope", "NaN N m s/rad is out of range"},
		{func(p *pair.Pair) { p.Pattern = pattern.SixStep180 }, "pattern", "six-step-180 has no carrier"},
		{func(p *pair.Pair) { p.Carrier = 0 }, "carrier", "0 Hz is out of range"},
		{func(p *pair.Pair) { p.Carrier = math.Inf(1) }, "carrier", "+Inf Hz is out of range"},
		{func(p *pair.Pair) { p.Modulation = 1.2 }, "modulation", "1.2 is out of range; give more than 0, up to 1.1547, to which space-vector is linear"},
		{func(p *pair.Pair) { p.Modulation = 0 }, "modulation", "0 is out of range"},
		{func(p *pair.Pair) { p.DeadTime = 1 }, "dead_time", ""},
	} {
		p := good
		tt.change(&p)
		var wrong *pattern.SettingError
		if err := p.Validate(); !errors.As(err, &wrong) || wrong.Key != tt.key || !strings.Contains(wrong.Problem, tt.says) {
			t.Errorf("%v, want %s: %s", err, tt.key, tt.says)
		}
	}
	// Saliency alone makes torque; the greatest of all is still allowed.
	reluctance := good
	reluctance.Machine.FluxLinkage, reluctance.Machine.InductanceQ = 0, 0.6e-3
	reluctance.Supply, reluctance.Current = 1e6, 1e6
	if err := reluctance.Validate(); err != nil {
		t.Error(err)
	}
}
