package pair_test

import (
	"fmt"
	"math"

	"sextant/inverter/pattern"
	"sextant/motor"
	"sextant/motor/pair"
)

// What 40 N m at 6000 turns a minute ask of a machine and of its bridge.
func ExamplePair_Making() {
	p := pair.Pair{
		Machine: motor.Machine{PolePairs: 4, Resistance: 20e-3, InductanceD: 0.2e-3, InductanceQ: 0.2e-3, FluxLinkage: 0.08},
		Supply:  350, Current: 300, Modulation: pattern.SpaceVector.Linear(), Pattern: pattern.SpaceVector, Carrier: 10e3,
	}
	s, ok := p.Making(40, 6000*math.Pi/30)
	at := p.Asks(&s)
	fmt.Printf("%t: id %.1f A, iq %.1f A, %.0f W at the shaft\n", ok, s.Current.D, s.Current.Q, s.Shaft())
	fmt.Printf("modulation %.3f, power factor %.3f, %.0f Hz\n", at.Modulation, math.Cos(at.Lag), at.Frequency)
	// Output:
	// true: id -10.1 A, iq 83.3 A, 25133 W at the shaft
	// modulation 1.155, power factor 0.996, 400 Hz
}
