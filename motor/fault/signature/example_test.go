package signature_test

import (
	"fmt"
	"math"

	"sextant/inverter"
	"sextant/motor/fault/capture"
	"sextant/motor/fault/signature"
)

// A phase that carries its current one way only, as one does whose upper switch no longer conducts.
func ExampleOf() {
	var c capture.Capture
	for k := range 500 {
		t := float64(k) / 10e3
		var i inverter.ABC
		for _, p := range inverter.Phases {
			i[p] = 10 * math.Cos(2*math.Pi*50*t-p.Axis())
		}
		if i[inverter.U] > 0 { // the others share what does not flow
			i = inverter.ABC{0, i[inverter.V] + i[inverter.U]/2, i[inverter.W] + i[inverter.U]/2}
		}
		c.Time, c.Current = append(c.Time, t), append(c.Current, i)
	}
	near, err := signature.Near(&c)
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := signature.Of(&c, near)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d turns at %.0f Hz\n", s.Turns, s.Hz)
	for _, p := range inverter.Phases {
		fmt.Printf("%v: mean %+.2f A, rms %.2f A\n", p, s.Mean[p], s.RMS[p])
	}
	// Output:
	// 2 turns at 50 Hz
	// U: mean -3.18 A, rms 5.00 A
	// V: mean +1.59 A, rms 6.61 A
	// W: mean +1.59 A, rms 6.61 A
}
