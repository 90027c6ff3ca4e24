package envelope_test

import (
	"math"
	"testing"

	"sextant/motor"
	"sextant/motor/envelope"
)

// TestVoltageLimit: every point of the ellipse needs all of the voltage, at angles in even steps. Without resistance it is the circle around
// (-λ/L, 0) of radius u/(ω L): Morimoto, Takeda, Hirasa, Taniguchi, IEEE Trans. IA-26 (1990) 866.
func TestVoltageLimit(t *testing.T) {
	p := hauler()
	p.Machine.InductanceQ = 0.5e-3
	u, w := p.Limit().Voltage, 8000*rpm
	line := envelope.VoltageLimit(&p, w, 37)
	for k, i := range line {
		s := p.At(i, w)
		sin, cos := math.Sincos(10 * math.Pi / 180 * float64(k))
		if math.Abs(s.Voltage.D-u*cos) > 1e-9*u || math.Abs(s.Voltage.Q-u*sin) > 1e-9*u {
			t.Errorf("point %d, %v, needs %v, want %g V at %d degrees", k, i, s.Voltage, u, 10*k)
		}
	}
	if a, b := line[0], line[36]; math.Hypot(a.D-b.D, a.Q-b.Q) > 1e-9 {
		t.Errorf("the ellipse runs from %v to %v", a, b)
	}
	p = hauler()
	p.Machine.Resistance = 0
	radius := u / (w * 4 * 0.2e-3)
	for _, i := range envelope.VoltageLimit(&p, w, 9) {
		if r := math.Hypot(i.D+0.08/0.2e-3, i.Q); math.Abs(r-radius) > 1e-9*radius {
			t.Errorf("%v lies %g A from the middle, want %g A", i, r, radius)
		}
	}
}

// TestPerAmpere: from none to all of the current in even steps, on the q axis without saliency and else at no less torque
// than a little to either side.
func TestPerAmpere(t *testing.T) {
	p := hauler()
	for k, i := range envelope.PerAmpere(&p, 4) {
		if math.Abs(i.D) > 1e-9 || math.Abs(i.Q-100*float64(k)) > 1e-9 {
			t.Errorf("step %d: %v", k, i)
		}
	}
	p.Machine.InductanceQ = 0.6e-3
	for k, i := range envelope.PerAmpere(&p, 7) {
		size := 50 * float64(k)
		if math.Abs(math.Hypot(i.D, i.Q)-size) > 1e-9 {
			t.Errorf("step %d: %v is not of %g A", k, i, size)
		}
		best := p.Machine.Torque(i)
		for _, turn := range []float64{-1e-3, 1e-3} {
			sin, cos := math.Sincos(turn)
			if torque := p.Machine.Torque(motor.DQ{D: i.D*cos - i.Q*sin, Q: i.D*sin + i.Q*cos}); torque > best {
				t.Errorf("step %d: %g N m at %v, and %g N m beside it", k, best, i, torque)
			}
		}
	}
}
