package inverter

import "math"

// ABC holds a quantity of the three phases, indexed by [Phase].
type ABC [3]float64

// Lines returns the line voltages UV, VW, WU of three terminal voltages.
func (x ABC) Lines() ABC { return ABC{x[U] - x[V], x[V] - x[W], x[W] - x[U]} }

// Neutral returns the voltage of a balanced star's isolated neutral: the mean of the terminals'.
func (x ABC) Neutral() float64 { return (x[U] + x[V] + x[W]) / 3 }

// Star returns the voltages of a balanced star's phases, terminal to neutral.
func (x ABC) Star() ABC {
	n := x.Neutral()
	return ABC{x[U] - n, x[V] - n, x[W] - n}
}

// Clarke returns the space vector of three phase quantities and what they have in common:
//
//	α = (2u - v - w)/3
//	β = (v - w)/√3
//	zero = (u + v + w)/3
//
// The 2/3 keeps lengths: phases of peak A in forward sequence give a vector of length A.
//
// Holmes & Lipo, Pulse Width Modulation for Power Converters (IEEE/Wiley, 2003), ch. 1.
func (x ABC) Clarke() (v Vector, zero float64) {
	return Vector{
		Alpha: (2*x[U] - x[V] - x[W]) / 3,
		Beta:  (x[V] - x[W]) / math.Sqrt(3),
	}, x.Neutral()
}

// A Vector is a space vector in the stationary frame, alpha along phase U's axis, in its quantity's unit.
type Vector struct{ Alpha, Beta float64 }

// ABC returns the vector's projections on the three axes, which sum to zero.
func (v Vector) ABC() ABC {
	h := math.Sqrt(3) / 2 * v.Beta
	return ABC{v.Alpha, -v.Alpha/2 + h, -v.Alpha/2 - h}
}

// Abs returns the vector's length.
func (v Vector) Abs() float64 { return math.Hypot(v.Alpha, v.Beta) }

// Angle returns the vector's angle in radians, from -π to π; that of the zero vector is 0.
func (v Vector) Angle() float64 { return math.Atan2(v.Beta, v.Alpha) }

// Turn returns v as seen from a frame that stands theta radians ahead: with theta the rotor's d axis,
// Alpha is d and Beta is q (Park's transformation).
func (v Vector) Turn(theta float64) Vector {
	s, c := math.Sincos(theta)
	return Vector{Alpha: c*v.Alpha + s*v.Beta, Beta: c*v.Beta - s*v.Alpha}
}

// Poles returns the pole voltages that complete gates lay on the terminals under a supply voltage; a leg
// with neither switch on is given the mean of the driven legs, which is where a resistive star's own
// neutral holds it (no driven leg: 0). Both switches on is the caller's error to refuse by
// [Gates.Interlock]; such a leg counts as high.
func (g Gates) Poles(supply float64) ABC {
	var x ABC
	sum, driven := 0.0, 0
	for _, p := range Phases {
		if g.Has(High(p)) {
			x[p] = supply
		}
		if g.Has(High(p)) || g.Has(Low(p)) {
			sum += x[p]
			driven++
		}
	}
	for _, p := range Phases {
		if !g.Has(High(p)) && !g.Has(Low(p)) && driven > 0 {
			x[p] = sum / float64(driven)
		}
	}
	return x
}

// Vector returns the space vector of the pole voltages that g lays on a resistive star.
func (g Gates) Vector(supply float64) Vector {
	v, _ := g.Poles(supply).Clarke()
	return v
}
