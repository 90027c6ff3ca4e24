package drive_test

import (
	"fmt"

	"sextant/motor/drive"
	"sextant/motor/scenario"
)

// A scenario file is read and run; what is said of it is what `sextant run --json` prints.
func ExampleSimulate() {
	s, err := scenario.Load("brake.toml", []byte(`
supply.voltage = "350 V"
gating = { pattern = "space-vector", follow = "current", iq = "-120 A", carrier = "8 kHz" }
machine = { pole_pairs = 4, resistance = "20 mohm", inductance_d = "0.2 mH", inductance_q = "0.2 mH", flux_linkage = "0.08 Wb" }
shaft.speed = "3000 rpm"
run = { settle = "50 ms", measure = "20 ms" }
`))
	if err != nil {
		fmt.Println(err)
		return
	}
	sum, err := drive.Simulate(s)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f N m, %.0f A into the battery\n", sum.Machine.TorqueMean, -sum.Supply.CurrentMean)
	// Output:
	// -58 N m, 50 A into the battery
}

// A Drive is carried on by hand, from one switching event to the next.
func ExampleDrive() {
	s, err := scenario.Open("passive-rl")
	if err != nil {
		fmt.Println(err)
		return
	}
	d, err := drive.New(s)
	if err != nil {
		fmt.Println(err)
		return
	}
	for range 3 {
		if err := d.AdvanceToEvent(); err != nil {
			fmt.Println(err)
			return
		}
		x := d.Now()
		fmt.Printf("%.3f ms: %v, U carries %.2f A\n", 1e3*x.Time, x.Gates, x.Current[0])
	}
	// Output:
	// 1.667 ms: U+ V+ W-, U carries 4.54 A
	// 5.000 ms: U- V+ W-, U carries 6.22 A
	// 8.333 ms: U- V+ W+, U carries -0.70 A
}
