package pattern

import "sextant/inverter"

// An Edge is an instant, in s, and the gates from then on.
type Edge struct {
	Time  float64
	Gates inverter.Gates
}

// A Half is what a bridge does in one half of a carrier period: the gates at its start and up to three
// edges.
type Half struct {
	Start inverter.Gates
	Edges [3]Edge
	N     int // edges there are
}

// HalfPeriod returns the commands of a carrier slope from t0 to t1, in s, that a sampled reference makes: ref
// is shaped as [Shape] does for k and held. On a rising slope, from -1 to 1, each leg begins high and goes
// low; on a falling one it begins low and goes high. No dead time is in it.
func HalfPeriod(k Kind, ref inverter.ABC, t0, t1 float64, rising bool) Half {
	f := heldSlope(Shape(k, ref), rising, 0)
	f.sort()
	h := Half{Start: f.start}
	g := f.start
	for i, x := range f.all[:f.n] {
		g ^= both << (2 * x.leg)
		if i+1 < f.n && f.all[i+1].p-x.p < narrow {
			continue
		}
		h.Edges[h.N] = Edge{t0 + x.p*(t1-t0), g}
		h.N++
	}
	return h
}

// heldSlope returns the flips of a slope, from a position on, under a held reference.
func heldSlope(ref inverter.ABC, rising bool, from float64) flips {
	var f flips
	for _, leg := range inverter.Phases {
		// The carrier meets the reference at p: -1 + 2p rising, 1 - 2p falling.
		p := (1 - ref[leg]) / 2
		if rising {
			p = (1 + ref[leg]) / 2
		}
		before := p > from+narrow
		f.lead(leg, before == rising)
		if before && p < 1-narrow {
			f.add(leg, p)
		}
	}
	return f
}
