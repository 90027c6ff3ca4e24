package heat_test

import (
	"fmt"

	"sextant/inverter/heat"
)

// A junction on a Foster network: a step of power, and pulses of 500 W for half of 5 ms.
func Example() {
	c := heat.Chain{{Resistance: 0.06, Time: 0.05}, {Resistance: 0.04, Time: 0.5}}
	fmt.Printf("%.4f K/W after 0.1 s\n", c.Step(0.1))
	s := heat.Steady(heat.Load{Chain: c, Cycle: heat.Cycle{{Length: 2.5e-3, From: 500, To: 500}, {Length: 2.5e-3}}})
	fmt.Printf("from %.2f to %.2f K, mean %.2f K\n", s.Least, s.Peak, s.Mean)
	// Output:
	// 0.0591 K/W after 0.1 s
	// from 24.60 to 25.40 K, mean 25.00 K
}
