package drive

import "math"

// A sector is one of n equal parts of a turn, and where it lies.
type sector struct {
	n     int
	first float64 // angle in the middle of part 0, rad
	at    int
}

// newSector returns the part that angle lies in.
func newSector(n int, first, angle float64) sector {
	s := sector{n: n, first: first}
	s.at = (int(math.Floor(off(angle, first)/s.width()+0.5)) + n) % n
	return s
}

func (s *sector) width() float64 { return 2 * math.Pi / float64(s.n) }

func (s *sector) middle() float64 { return s.first + float64(s.at)*s.width() }

// inside returns how far angle is from leaving the part, in rad.
func (s *sector) inside(angle float64) float64 {
	return s.width()/2 - math.Abs(off(angle, s.middle()))
}

// leave goes over to the neighbour on whose side angle lies.
func (s *sector) leave(angle float64) {
	if off(angle, s.middle()) > 0 {
		s.at = (s.at + 1) % s.n
	} else {
		s.at = (s.at + s.n - 1) % s.n
	}
}

// off returns by how much an angle lies off another, from -π to π.
func off(angle, from float64) float64 { return math.Remainder(angle-from, 2*math.Pi) }
