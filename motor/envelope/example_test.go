package envelope_test

import (
	"fmt"
	"math"

	"sextant/inverter/pattern"
	"sextant/motor"
	"sextant/motor/envelope"
	"sextant/motor/pair"
)

// Up to which speed a machine has its full torque, above which its diodes feed the battery whatever the gates do, and
// what torque is left beyond the corner.
func Example() {
	p := pair.Pair{
		Machine: motor.Machine{PolePairs: 4, Resistance: 20e-3, InductanceD: 0.2e-3, InductanceQ: 0.2e-3, FluxLinkage: 0.08},
		Supply:  350, Current: 300, Modulation: pattern.SpaceVector.Linear(), Pattern: pattern.SpaceVector, Carrier: 10e3,
	}
	m := envelope.MarksOf(&p)
	fmt.Printf("corner %.0f rpm, generating from %.0f rpm\n", m.Corner*30/math.Pi, m.Generating*30/math.Pi)
	e := envelope.EdgeAt(&p, 8000*math.Pi/30)
	fmt.Printf("at 8000 rpm: %.1f N m, bound by %v\n", e.Motoring.Torque, e.MotoringBound)
	// Output:
	// corner 4709 rpm, generating from 6030 rpm
	// at 8000 rpm: 104.9 N m, bound by field-weakening
}
