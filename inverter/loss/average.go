package loss

import (
	"math"
	"slices"

	"sextant/inverter/device"
)

// An Average is a bridge's turn at one operating point, ready to be averaged at any junction temperatures: for
// who asks for many points, or carries temperatures on from one point to the next. It keeps what it worked out last,
// so that no two goroutines may ask the same one at once.
type Average struct {
	p     Point
	d     *device.Device
	bends [2]float64
	nodes []node
	edges []edge
}

// AverageOf returns the turn of six such devices at p, whose own temperatures do not count. At standstill it is
// the mean over all angles that the current may have. It fails as [Point.Validate] does.
func AverageOf(d *device.Device, p Point) (Average, error) {
	p.Fixed, p.Junction = true, 0
	if err := p.Validate(); err != nil {
		return Average{}, err
	}
	return Average{p: p, d: d, edges: p.edges()}, nil
}

// coarse is enough for averages: with it they are right to about 1e-5.
var coarse = gauss(5)

// At returns what one of the six positions turns to heat, in the mean, with its switch and its diode at these
// junction temperatures (°C).
func (a *Average) At(channel, diode float64) Losses {
	here := at(a.d, a.p.Supply, pair{channel, diode})
	l := leg{here, here, a.p.Carrier}
	knee := here.knee()
	if knee >= a.p.Current {
		knee = math.Inf(1)
	}
	if bends := [2]float64{knee, knee}; a.nodes == nil || bends != a.bends {
		a.bends, a.nodes = bends, a.p.nodes(a.half(bends), coarse)
	}
	s := solver{Point: &a.p, d: a.d, nodes: a.nodes, edges: a.edges}
	both := s.mean(&l)
	share := 1.0
	if !a.halves() {
		share = 0.5
	}
	var m Losses
	m.add(share, both[0])
	m.add(share, both[1])
	return m
}

// halves reports whether the lower position does in the turn's second half what the upper one does in its
// first, so that both positions over half a turn are one over a whole turn.
func (a *Average) halves() bool { return !a.p.lopsided() && a.edges == nil }

// half returns the pieces that need looking at.
func (a *Average) half(bends [2]float64) []piece {
	pieces := a.p.pieces(bends)
	if a.halves() {
		return slices.DeleteFunc(pieces, func(q piece) bool { return q.from > math.Pi-narrowest })
	}
	return pieces
}
