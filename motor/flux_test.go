package motor

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Without resistance the steady voltage is the flux's own turning, v = jωψ, and the torque is the cross product of
// flux and current, 3/2 p ψ × i (Krishnan, Permanent Magnet Synchronous and Brushless DC Motor Drives, ch. 3).
func TestFluxMakesVoltageAndTorque(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := func(name string, from, to float64) float64 { return rapid.Float64Range(from, to).Draw(t, name) }
		m := Machine{PolePairs: 4, InductanceD: in("Ld", 1e-5, 1e-2), InductanceQ: in("Lq", 1e-5, 1e-2), FluxLinkage: in("psi", 0, 1)}
		i, omega := DQ{in("id", -300, 300), in("iq", -300, 300)}, in("omega", -3000, 3000)
		f, v := m.Flux(i), m.Voltage(i, omega)
		near := func(what string, got, want float64) {
			if math.Abs(got-want) > 1e-9*(1+math.Abs(want)) {
				t.Errorf("%s is %g, want %g", what, got, want)
			}
		}
		near("vd", v.D, -omega*f.Q)
		near("vq", v.Q, omega*f.D)
		near("torque", m.Torque(i), 1.5*4*(f.D*i.Q-f.Q*i.D))
	})
}
