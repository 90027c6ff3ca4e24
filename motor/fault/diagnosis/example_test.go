package diagnosis_test

import (
	"fmt"
	"math"

	"sextant/inverter"
	"sextant/motor/fault/capture"
	"sextant/motor/fault/diagnosis"
)

// A recording of five turns at 50 Hz in which phase W carries nothing.
func ExampleDiagnose() {
	var c capture.Capture
	for k := range 1001 {
		t := float64(k) / 200 / 50
		i := 20 * math.Sin(2*math.Pi*50*t)
		c.Time, c.Current = append(c.Time, t), append(c.Current, inverter.ABC{i, -i, 0})
	}
	r := diagnosis.Diagnose(&c, nil)
	fmt.Println(r.Verdict, r.At)
	// Output:
	// phase-open W
}
