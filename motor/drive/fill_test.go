package drive

import (
	"math"
	"slices"
	"testing"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor"
)

// A long way is cut into equal parts, as few as may be.
func TestEvenly(t *testing.T) {
	for _, tt := range []struct{ h, most, want float64 }{
		{10, 3, 2.5}, {3, 3, 3}, {3.0001, 3, 1.50005}, {2, 3, 2}, {0, 3, 0}, {math.Inf(1), 3, 3}, {5, math.Inf(1), 5},
	} {
		if got := evenly(tt.h, tt.most); math.Abs(got-tt.want) > 1e-12 {
			t.Errorf("%g in parts of at most %g: %g, want %g", tt.h, tt.most, got, tt.want)
		}
	}
}

// A missing observes how far the strides of a drive miss, as parts of the tolerance.
type missing struct {
	d   *Drive
	all []float64
}

func (m *missing) Observe(*Segment) { m.all = append(m.all, m.d.miss()) }

// Where nothing happens strides are about as long as the tolerance lets them be: one that is refused is tried again with 0.9 of
// the length at which it would have passed, so that the most miss by between 0.9^5, by the fifth order of the defect, and
// all of the tolerance (Hairer, Nørsett, Wanner, Solving Ordinary Differential Equations I, section II.4).
func TestStridesAreAsLongAsTheyMayBe(t *testing.T) {
	s := turning(machineA, pattern.AllLow, 350, 3000, 0, 1)
	d, _ := watched(t, s)
	m := missing{d: d}
	d.Watch(&m)
	if err := d.Advance(1); err != nil {
		t.Fatal(err)
	}
	late := m.all[len(m.all)/2:]
	slices.Sort(late)
	if middle := late[len(late)/2]; len(late) < 100 || middle < 0.59 || late[len(late)-1] > 1 {
		t.Errorf("of %d strides the middle one misses by %.2f, the worst by %.2f of the tolerance", len(late), middle, late[len(late)-1])
	}
}

// Errors are judged by the currents of late, not by those of long ago: of 300 A that have died away by 12 decades a small
// alternating current is left, as exact in its own size as it would be alone. The closed form is that of a coil.
func TestSmallCurrentsBehindLargeOnes(t *testing.T) {
	const r, l, f, e = 2., 1e-3, 50., 1e-3
	m := motor.Machine{PolePairs: 1, Resistance: r, InductanceD: l, InductanceQ: l, FluxLinkage: e / (2 * math.Pi * f)}
	s := turning(m, pattern.AllLow, 0.1, 60*f, 0, 1)
	s.Run.InitialCurrents = inverter.ABC{300, -150, -150}
	d, _ := watched(t, s)
	omega := 2 * math.Pi * f
	z := math.Hypot(r, omega*l)
	for range 20 {
		if err := d.Advance(1.7e-3); err != nil {
			t.Fatal(err)
		}
		x := d.Now()
		// The EMF of U is -E sin ωt; what is driven against it is E/Z sin(ωt - φ).
		steady := func(at float64) float64 { return e / z * math.Sin(omega*at-math.Atan2(omega*l, r)) }
		want := steady(x.Time) + (300-steady(0))*math.Exp(-x.Time*r/l)
		if size := max(math.Abs(want), e/z); math.Abs(x.Current[0]-want) > 1e-6*size {
			t.Errorf("%.12g A at %g s, want %.12g", x.Current[0], x.Time, want)
		}
	}
}
