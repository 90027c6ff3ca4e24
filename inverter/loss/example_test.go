package loss_test

import (
	"fmt"
	"math"

	"sextant/inverter/device"
	"sextant/inverter/loss"
	"sextant/inverter/pattern"
)

// What six of a device turn to heat at 350 V, 300 A and 10 kHz, and how warm its junctions get on a sink of 65 °C.
func ExampleOf() {
	d, err := device.Open("illustrative")
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := loss.Of(&d, loss.Point{
		Pattern: pattern.SpaceVector, Supply: 350, Current: 300, Modulation: 0.8, Lag: math.Acos(0.85),
		Frequency: 200, Carrier: 10e3, Sink: 65,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("bridge %.0f W, switch at %.1f C, diode at %.1f C\n", r.Bridge, r.Mean.SwitchJunction.Mean, r.Mean.DiodeJunction.Mean)
	// Output:
	// bridge 1220 W, switch at 84.8 C, diode at 76.0 C
}
