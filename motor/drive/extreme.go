package drive

import (
	"math"

	"sextant/inverter"
)

// greatest returns the largest size that the current along axis a has in the stride.
func (st *stride) greatest(a inverter.Vector) float64 {
	y0, y1 := dot(a, st.from.i), dot(a, st.to.i)
	most := max(math.Abs(y0), math.Abs(y1))
	k0, k1 := dot(a, st.rates[0].i), dot(a, st.rates[stages-1].i)
	if k0*k1 < 0 {
		c := st.curveOf(func(r *rate) float64 { return dot(a, r.i) }, y0, y1)
		low, high := c.extremes()
		most = max(most, -low, high)
	}
	return most
}

// greatestIn returns the largest size that the current in shorted turns has in the stride.
func (st *stride) greatestIn(r *ring) float64 {
	c := st.curveOf(func(x *rate) float64 { return dot(r.axis, x.i) + x.ring }, r.current(&st.from), r.current(&st.to))
	low, high := c.extremes()
	return max(-low, high)
}

// extremes returns the least and the greatest value of a curve that turns at most once.
func (c *curve) extremes() (low, high float64) {
	y0, y1 := c[0], c.at(1)
	low, high = min(y0, y1), max(y0, y1)
	if k0, k1 := c.slope(0), c.slope(1); k0*k1 < 0 {
		sign := math.Copysign(1, k0)
		y := c.at(root(func(x float64) float64 { return sign * c.slope(x) }, 0, 1))
		low, high = min(low, y), max(high, y)
	}
	return low, high
}

// torques returns the least and the greatest torque in the segment: of five samples, with a parabola laid
// through the neighbours of an inner one that is extreme.
func (s *Segment) torques() (low, high float64) {
	const last = 4
	var t [last + 1]float64
	low, high = math.Inf(1), math.Inf(-1)
	for j := range t {
		y := s.at(float64(j) / last)
		t[j] = s.plant.torqueAt(&y)
		low, high = min(low, t[j]), max(high, t[j])
	}
	for j := 1; j < last; j++ {
		if a, b := t[j]-t[j-1], t[j]-t[j+1]; a*b > 0 {
			y := s.at((float64(j) + (a-b)/(2*(a+b))) / last)
			v := s.plant.torqueAt(&y)
			low, high = min(low, v), max(high, v)
		}
	}
	return low, high
}
