package symptom_test

import (
	"fmt"

	"sextant/motor/fault/symptom"
	"sextant/motor/scenario"
)

// What an ohmmeter reads between the motor's leads where lead V is open, the drive proved dead.
func ExampleMeterOf() {
	s, err := scenario.Open("trainer-pwm")
	if err != nil {
		fmt.Println(err)
		return
	}
	f, err := symptom.Parse("phase-open:V")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range symptom.MeterOf(&s, f).PhaseToPhase {
		if r.Ohms == nil {
			fmt.Println(r.Between, "open")
			continue
		}
		fmt.Println(r.Between, *r.Ohms, "ohm")
	}
	// Output:
	// U-V open
	// V-W open
	// W-U 0.8 ohm
}
