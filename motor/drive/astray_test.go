package drive

import (
	"math"
	"testing"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// With leads crossed, fields are those of the windings: a magnet that is as easy along as across is pulled with 3/2 p ψ i by
// the sine of the angle from it to the field (Krause et al., Analysis of Electric Machinery, 3rd ed., ch. 4), and
// leaves the voltage vector what the bridge gives to other windings.
func TestCrossedLeadsTurnTheField(t *testing.T) {
	for _, p := range inverter.Phases {
		s := turning(machineA, pattern.SpaceVector, 350, 300, 0, 1)
		s.Machine.InductanceQ = s.Machine.InductanceD
		s.Gating.Frequency, s.Gating.Modulation, s.Gating.Carrier = 20, 0.2, 8000
		s.Faults = []Fault{{Kind: PhaseSwap, Phase: p}}
		d, err := New(s)
		if err != nil {
			t.Fatal(err)
		}
		for range 400 {
			if err := d.AdvanceToEvent(); err != nil {
				t.Fatal(err)
			}
			x := d.Now()
			f := x.FieldVector()
			want := 1.5 * float64(s.Machine.PolePairs) * s.Machine.FluxLinkage * f.Abs() * math.Sin(f.Angle()-x.Rotor)
			if math.Abs(x.Torque-want) > 1e-9*(1+math.Abs(want)) {
				t.Fatalf("%v right, at %g s: field at %g, rotor at %g rad, torque %g N m, want %g", p, x.Time, f.Angle(), x.Rotor, x.Torque, want)
			}
			if x.Winding(p) != p || x.Winding(p.Next()) != p.Next().Next() || x.Winding(p.Next().Next()) != p.Next() {
				t.Fatalf("%v right: leads go to %v, %v, %v", p, x.Winding(inverter.U), x.Winding(inverter.V), x.Winding(inverter.W))
			}
		}
	}
}
