package pattern

import (
	"math"

	"sextant/inverter"
)

// A zero is the zero sequence that a pattern adds to balanced references while no two of them trade
// places: share times the reference of one phase, plus a level. Third-harmonic's is not of this form.
type zero struct {
	share float64
	of    inverter.Phase
	level float64
}

// zeroSequence returns what k adds to references x, which sum to zero.
func zeroSequence(k Kind, x inverter.ABC) zero {
	if k <= ThirdHarmonic {
		return zero{}
	}
	high, low := inverter.U, inverter.U
	for _, p := range inverter.Phases[1:] {
		if x[p] > x[high] {
			high = p
		}
		if x[p] <= x[low] {
			low = p
		}
	}
	if high == low { // not numbers; any choice will do
		high, low = inverter.U, inverter.W
	}
	up, down := zero{-1, high, 1}, zero{-1, low, -1} // ties the highest up, or the lowest down
	switch k {
	case SpaceVector: // -(high + low)/2 is half the third of them
		return zero{0.5, 3 - high - low, 0}
	case ClampedHigh:
		return up
	case ClampedLow:
		return down
	}
	if (x[high] >= -x[low]) == (k == Clamped60) {
		return up
	}
	return down
}

// Shape returns the pole references that k makes of balanced ones in units of half the supply: the zero
// sequence is added, then each is clipped to -1..1. ref must sum to zero.
//
//	third-harmonic:  z = -(M/6) cos 3θ = -(2/3) u v w / M², M² = 2/3 (u² + v² + w²)
//	space-vector:    z = -(max + min)/2
//	clamped-high:    z = 1 - max
//	clamped-low:     z = -1 - min
//	clamped-60:      the one of the last two that ties the phase of greatest magnitude
//	clamped-30:      the other
//
// Other kinds add nothing. Houldsworth & Grant, IEEE Trans. IA-20 (1984) 1224; Holmes & Lipo, Pulse Width
// Modulation for Power Converters (IEEE/Wiley, 2003), ch. 6; Hava, Kerkman, Lipo, IEEE Trans. PE-14
// (1999) 49.
func Shape(k Kind, ref inverter.ABC) inverter.ABC {
	u, v, w := ref[inverter.U], ref[inverter.V], ref[inverter.W]
	if k == ThirdHarmonic {
		squares := u*u + v*v + w*w
		if squares == 0 {
			return ref
		}
		return clip(ref, -u*v*w/squares)
	}
	return zeroSequence(k, ref).shape(ref)
}

func (z zero) shape(ref inverter.ABC) inverter.ABC {
	return clip(ref, z.share*ref[z.of]+z.level)
}

func clip(ref inverter.ABC, z float64) inverter.ABC {
	for p, x := range ref {
		ref[p] = min(max(x+z, -1), 1)
	}
	return ref
}

// balanced returns the cosines of an angle for the three phases and their sines.
func balanced(turn, depth float64) (x, y inverter.ABC) {
	s, c := math.Sincos(2 * math.Pi * turn)
	s, c = depth*s, depth*c
	const h = sqrt3 / 2
	x = inverter.ABC{c, -c/2 + h*s, -c/2 - h*s}
	y = inverter.ABC{s, -s/2 - h*c, -s/2 + h*c}
	return x, y
}

// sample returns the shaped reference at the start of a slope. Where two phases are about to trade places
// at that very instant, the order just after it counts, whatever rounding says.
func (d *ideal) sample(slope int64) inverter.ABC {
	x, y := balanced(d.angle(slope, 0), d.depth)
	if d.kind <= ThirdHarmonic {
		return Shape(d.kind, x)
	}
	ahead := math.Copysign(1e-9, d.gain)
	var soon inverter.ABC
	for p := range x {
		soon[p] = x[p] - ahead*y[p]
	}
	return zeroSequence(d.kind, soon).shape(x)
}
