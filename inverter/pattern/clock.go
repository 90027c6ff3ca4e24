package pattern

import "math"

// A clock keeps the angle of the fundamental and the position of the carrier by counting from an origin,
// so that neither drifts however long it runs. Angles are in turns; positions are in carrier slopes: half
// periods since a minimum, so that an even slope rises.
type clock struct {
	t0   float64 // time of the origin, s
	turn float64 // angle at the origin, 0 to 1
	pos  float64 // position at the origin, 0 to 2
	freq float64 // of the fundamental, Hz
	half float64 // half a carrier period, s; 0 for no carrier
	gain float64 // turns of the fundamental in a slope
	loop int64   // slopes in a turn where that is a whole number, else 0
}

// set gives c the speeds that s asks for.
func (c *clock) set(s Settings) {
	c.freq, c.half, c.gain, c.loop = s.Frequency, 0, 0, 0
	fc := s.carrierFrequency()
	if fc == 0 {
		return
	}
	c.half = 0.5 / fc
	c.gain = 0.5 * s.Frequency / fc
	if s.CarrierRatio > 0 {
		c.gain = math.Copysign(0.5/s.CarrierRatio, s.Frequency)
		if n := int64(2 * s.CarrierRatio); float64(n) == 2*s.CarrierRatio {
			c.loop = n
		}
	}
}

// shift moves the origin to t; angle and carrier run on.
func (c *clock) shift(t float64) {
	dt := t - c.t0
	c.turn = fraction(c.turn + c.freq*dt)
	if c.half > 0 {
		c.pos = math.Mod(c.pos+dt/c.half, 2)
	}
	c.t0 = t
}

// time returns when the carrier is at p of a slope.
func (c *clock) time(slope int64, p float64) float64 {
	return c.t0 + (float64(slope)+p-c.pos)*c.half
}

// angle returns the turns at p of a slope, less some whole ones. A synchronous carrier's count starts
// anew each turn; of a free one's, however large, the product with gain is taken in two parts, so that its
// fraction keeps full precision.
func (c *clock) angle(slope int64, p float64) float64 {
	if c.loop > 0 {
		slope %= c.loop
	}
	n := float64(slope)
	whole := n * c.gain
	rest := math.FMA(n, c.gain, -whole)
	return c.turn + (whole - math.Floor(whole)) + rest + (p-c.pos)*c.gain
}

// fraction returns x less its whole part, 0 to 1.
func fraction(x float64) float64 { return x - math.Floor(x) }
