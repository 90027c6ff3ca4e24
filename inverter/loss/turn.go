package loss

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/integrate/quad"

	"sextant/inverter/device"
)

// A node is an angle with what a leg does there and how much of the turn it stands for.
type node struct {
	gating
	current float64 // A
	weight  float64 // sums to 1
}

// An edge is a switching of a stepped pattern, once a turn.
type edge struct {
	theta   float64 // rad
	upper   bool    // switch, else the lower
	event   device.Event
	current float64 // that the switch takes over or gives up, A; more than 0
}

// A piece is a stretch of a turn in which all that a leg does is smooth.
type piece struct{ from, to float64 } // rad

// regime tells apart what a leg may be doing; within a piece it is one and the same.
type regime struct {
	positive, high, low, switches bool
	beyond                        uint8 // how many of the bends the current is above
}

// pieces cuts the turn where the current changes sign or passes a bend, where references have corners or
// jump, and where a leg becomes tied or a pulse too short for the dead time. Between multiples of 30 degrees
// references rise or fall all along, and so do currents between quarters from their peaks; there it is enough
// to look at both ends.
func (p *Point) pieces(bends [2]float64) []piece {
	var cuts []float64
	for k := range 12 {
		cuts = append(cuts, float64(k)*math.Pi/6)
	}
	quarter := math.Mod(math.Mod(p.Lag, math.Pi/2)+math.Pi/2, math.Pi/2)
	for k := range 4 {
		cuts = append(cuts, quarter+float64(k)*math.Pi/2)
	}
	if kind, ok := p.stepped(); ok {
		half := kind.Conduction() / 2
		for _, theta := range []float64{half, -half + p.lateBy(), half + math.Pi, -half + p.lateBy() + math.Pi} {
			cuts = append(cuts, math.Mod(theta+2*math.Pi, 2*math.Pi))
		}
	}
	slices.Sort(cuts)
	cuts = append(cuts, cuts[0]+2*math.Pi)
	look := func(theta float64) regime {
		g, i := p.gating(theta), p.current(theta)
		r := regime{positive: i > 0, high: g.high > 0, low: g.low > 0, switches: g.switches}
		for _, bend := range bends {
			if math.Abs(i) > bend {
				r.beyond++
			}
		}
		return r
	}
	var pieces []piece
	for k, from := range cuts[:len(cuts)-1] {
		if to := cuts[k+1]; to-from > narrowest {
			pieces = divide(pieces, from, to, look)
		}
	}
	return pieces
}

// Cuts are found to within near, in rad; what holds within a piece is looked at inside its ends by more than
// that. A piece below narrowest is not worth looking at.
const (
	near      = 1e-10
	inside    = 2 * near
	narrowest = 2 * inside
)

// divide adds from..to to pieces, cut where look changes.
func divide(pieces []piece, from, to float64, look func(float64) regime) []piece {
	for {
		first := look(from + inside)
		if first == look(to-inside) {
			return append(pieces, piece{from, to})
		}
		low, high := from, to
		for high-low > near {
			mid := (low + high) / 2
			if look(mid) == first {
				low = mid
			} else {
				high = mid
			}
		}
		pieces = append(pieces, piece{from, high})
		if from = high; to-from <= narrowest {
			return pieces
		}
	}
}

// points is how many nodes a piece has. With the substitution below, Gauss's rule of so many is right to
// better than 1e-7 for current to the power of 0.5.
const points = 12

// A rule is Gauss's, from 0 to 1.
type rule struct{ at, weight []float64 }

func gauss(n int) rule {
	r := rule{make([]float64, n), make([]float64, n)}
	quad.Legendre{}.FixedLocations(r.at, r.weight, 0, 1)
	return r
}

var fine = gauss(points)

// nodes returns a rule's nodes of all pieces. Within a piece, θ = from + (to-from)(3u²-2u³), whose ends are
// flat: a power of the current that has no derivative where it is zero then does no harm.
func (p *Point) nodes(pieces []piece, by rule) []node {
	nodes := make([]node, 0, len(by.at)*len(pieces))
	for _, q := range pieces {
		width := q.to - q.from
		for k, u := range by.at {
			theta := q.from + width*u*u*(3-2*u)
			nodes = append(nodes, node{
				gating: p.gating(theta), current: p.current(theta),
				weight: by.weight[k] * 6 * u * (1 - u) * width / (2 * math.Pi),
			})
		}
	}
	return nodes
}

// edges returns the switchings of a stepped pattern that cost energy.
func (p *Point) edges() []edge {
	kind, ok := p.stepped()
	if !ok || p.Frequency == 0 {
		return nil
	}
	var edges []edge
	half := kind.Conduction() / 2
	for _, upper := range []bool{true, false} {
		turned, sign := 0.0, 1.0
		if !upper {
			turned, sign = math.Pi, -1
		}
		on, off := turned-half+p.lateBy(), turned+half
		if i := sign * p.current(on); i > 0 {
			edges = append(edges, edge{on, upper, device.TurnOn, i}, edge{on, !upper, device.Recovery, i})
		}
		if i := sign * p.current(off); i > 0 {
			edges = append(edges, edge{off, upper, device.TurnOff, i})
		}
	}
	return edges
}
