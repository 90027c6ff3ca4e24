package loss

import (
	"math"

	"sextant/inverter/device"
)

// An Average is a bridge's turn at one operating point, ready to be averaged at any junction temperatures: for
// who carries temperatures on from one point to the next.
type Average struct{ s solver }

// AverageOf returns the turn of six such devices at p, whose own temperatures do not count. At standstill it is
// the mean over all angles that the current may have. It fails as [Point.Validate] does.
func AverageOf(d *device.Device, p Point) (Average, error) {
	p.Fixed, p.Junction = true, 0
	if err := p.Validate(); err != nil {
		return Average{}, err
	}
	if p.Frequency == 0 {
		p.Frequency = math.SmallestNonzeroFloat32
	}
	return Average{newSolver(d, &p)}, nil
}

// At returns what one of the six positions turns to heat, in the mean, with its switch and its diode at these
// junction temperatures (°C).
func (a *Average) At(channel, diode float64) Losses {
	t := pair{channel, diode}
	s := a.s
	l := s.legAt([2]pair{t, t})
	if s.lopsided() || s.edges != nil {
		var m Losses
		for _, x := range s.mean(&l) {
			m.add(0.5, x)
		}
		return m
	}
	// The lower position does in the turn's second half what the upper one does in its first.
	half := 0
	for half < len(s.pieces) && s.pieces[half].from < math.Pi-narrowest {
		half++
	}
	s.nodes = s.nodes[:half*points]
	both := s.mean(&l)
	both[0].add(1, both[1])
	return both[0]
}
