package envelope

import (
	"math"

	"sextant/motor"
	"sextant/motor/pair"
)

// PerAmpere returns the currents of most torque per ampere, in n even steps of size from none to p's limit.
func PerAmpere(p *pair.Pair, n int) []motor.DQ {
	m := p.Machine.Star()
	line := make([]motor.DQ, n)
	for k := range line {
		line[k] = m.MostTorquePerAmpere(p.Current * float64(k) / float64(n-1))
	}
	return line
}

// VoltageLimit returns n points of the ellipse of currents that need all of p's voltage at a speed (rad/s,
// above 0); the last is the first.
func VoltageLimit(p *pair.Pair, speed float64, n int) []motor.DQ {
	m := p.Machine.Star()
	u := p.Limit().Voltage
	line := make([]motor.DQ, n)
	for k := range line {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(n-1))
		line[k] = m.Current(motor.DQ{D: u * cos, Q: u * sin}, speed*float64(m.PolePairs))
	}
	return line
}
