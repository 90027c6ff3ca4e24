package drive

import (
	"math"
	"testing"
)

// A searcher observes a run and looks through all ways to conduct at the start of each of its strides.
type searcher struct {
	t       *testing.T
	seed    uint64
	settled float64 // s; legs in shorter strides are still to settle
	size    float64 // A
	asked   int
}

func (x *searcher) Observe(s *Segment) {
	from, n, p := s.stride.from, s.net, s.plant
	x.size = max(x.size, largest(from.i))
	if s.T1-s.T0 < x.settled {
		return
	}
	x.asked++
	if !n.search(&from, &s.legs, p, tiny*x.size) {
		x.t.Fatalf("seed %d, %g s: no way to conduct is found for %v, which run as %v", x.seed, s.T0, p.currents(from.i), s.net.sign)
	}
	a, ringA := s.net.drift(&from, p)
	b, ringB := n.drift(&from, p)
	off := math.Hypot(a.Alpha-b.Alpha, a.Beta-b.Beta) + math.Abs(ringA-ringB)
	if fastest := (p.voltage + from.link + math.Abs(p.pairs*from.speed*p.psi)) / min(p.ld, p.lq); !(off <= 1e-6*fastest) {
		x.t.Fatalf("seed %d, %g s: legs conduct as %v in the run, as %v in the search; currents %v", x.seed, s.T0, s.net.sign, n.sign, p.currents(from.i))
	}
}

// What a circuit of switches and diodes does next is one thing: looking through all ways for it finds what the run found at
// once.
func TestSearchAgrees(t *testing.T) {
	asked := 0
	for seed := range uint64(240) {
		s := besetOf(seed)
		d, err := New(s)
		if err != nil {
			continue // gates that short the supply at once
		}
		x := searcher{t: t, seed: seed, settled: 1e-12 * s.Run.Measure, size: d.size}
		d.Watch(&x)
		if err := d.Advance(s.Run.Measure); !allowed(err) {
			t.Errorf("seed %d: %v", seed, err)
		}
		asked += x.asked
	}
	t.Logf("asked %d times", asked)
}

// Where no way is found, nothing changes: legs that carry current and are cut have none.
func TestSearchFindsNothing(t *testing.T) {
	s := turning(machineA, 0, 350, 1000, 0, 1)
	p := newPlant(&s)
	legs := [3]leg{cutLeg, cutLeg, cutLeg}
	var n network
	n.wire(&legs, [3]int8{}, &p)
	before := n
	if y := (state{i: p.axes[0], link: 350}); n.search(&y, &legs, &p, tiny) || n != before {
		t.Errorf("cut legs carry %v by %+v", y.i, n)
	}
}
