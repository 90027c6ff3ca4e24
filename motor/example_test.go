package motor_test

import (
	"fmt"
	"math"

	"sextant/motor"
)

// The current that makes the most torque of 300 A, and what it takes at 3000 turns a minute.
func ExampleMachine() {
	m := motor.Machine{PolePairs: 4, Resistance: 20e-3, InductanceD: 0.2e-3, InductanceQ: 0.5e-3, FluxLinkage: 0.08}
	i := m.MostTorquePerAmpere(300)
	v := m.Voltage(i, 4*3000*math.Pi/30)
	fmt.Printf("id %.1f A, iq %.1f A: %.1f N m, %.1f V\n", i.D, i.Q, m.Torque(i), math.Hypot(v.D, v.Q))
	// Output:
	// id -155.7 A, iq 256.4 A: 195.0 N m, 177.2 V
}
