package drive

import (
	"math"
	"testing"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// overlaps observes a rectifier and keeps both ends of each stretch in which all three legs conduct.
type overlaps struct {
	ends [][2]Instant
	open bool
}

func (o *overlaps) Observe(s *Segment) {
	if s.net.tied < 3 {
		o.open = false
		return
	}
	if !o.open {
		o.ends = append(o.ends, [2]Instant{s.At(s.T0), {}})
		o.open = true
	}
	o.ends[len(o.ends)-1][1] = s.At(s.T1)
}

// Mohan, Undeland, Robbins, Power Electronics, 3rd ed., ch. 5: while one diode takes over from its
// neighbour on the same rail, the voltage between the two phases stands across their inductances alone, so
// that from no incoming current to no outgoing one
//
//	i_out(start) + i_in(end) = 1/L ∫ e_in - e_out dt
//
// which with a constant current I on the direct side is 2 ω L I = √2 V_LL (1 - cos u).
func TestCommutationOverlap(t *testing.T) {
	m := machineA
	m.Resistance = 0
	sc := turning(m, pattern.AllOff, 350, 6500, 0, 0.02)
	var o overlaps
	simulate(t, sc, &o)
	whole := 0
	for _, e := range o.ends {
		a, b := e[0], e[1]
		in, out := -1, -1
		for k := range a.Current {
			switch {
			case math.Abs(a.Current[k]) < 1e-6*math.Abs(b.Current[k]):
				in = k
			case math.Abs(b.Current[k]) < 1e-6*math.Abs(a.Current[k]):
				out = k
			}
		}
		if in < 0 || out < 0 || in == out {
			continue // begun or cut off in the middle
		}
		whole++
		flux := func(x Instant, k int) float64 {
			return m.FluxLinkage * math.Cos(x.Rotor-inverter.Phase(k).Axis())
		}
		got := math.Abs(a.Current[out]) + math.Abs(b.Current[in])
		want := math.Abs(flux(b, in)-flux(a, in)-flux(b, out)+flux(a, out)) / m.InductanceD
		near(t, "currents changed over", got, want, 1e-7)
	}
	if whole < 20 {
		t.Errorf("only %d whole overlaps seen", whole)
	}
}
