// Package heat answers how warm a junction gets: Foster networks, as data sheets give them, under constant
// and under periodic power, each exponential solved in closed form.
//
// Temperatures are rises in K over the place that the network refers to, powers in W, times in s. The pairs
// of a Foster network are terms of a fit, so what lies between two of them has no temperature.
package heat

import "math"

// A Pair is a thermal resistance, in K/W, with the time constant, in s, of its own capacitance.
type Pair struct{ Resistance, Time float64 }

// A Chain is a Foster network.
type Chain []Pair

// Resistance returns the steady thermal resistance of c in K/W.
func (c Chain) Resistance() float64 {
	r := 0.0
	for _, p := range c {
		r += p.Resistance
	}
	return r
}

// Step returns the transient thermal impedance in K/W, t seconds after a power of 1 W sets in:
//
//	Z(t) = Σ R (1 - exp(-t/τ))
//
// IEC 60747-9, transient thermal impedance; JESD51-14.
func (c Chain) Step(t float64) float64 {
	z := 0.0
	for _, p := range c {
		z -= p.Resistance * math.Expm1(-t/p.Time)
	}
	return z
}
