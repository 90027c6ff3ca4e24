package pattern_test

import (
	"errors"
	"fmt"

	"sextant/inverter/pattern"
)

// Two carrier periods at a standing vector of 20 degrees: each leg goes high and low once a period.
func ExampleStream() {
	x, err := pattern.New(pattern.Settings{
		Kind: pattern.SpaceVector, Phase: 0.349, Modulation: 0.8, Carrier: 1000, DeadTime: 2e-6,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("  0.0 µs", x.Gates())
	for x.Peek() < 0.5e-3 {
		t, g := x.Next()
		fmt.Printf("%5.1f µs %v\n", 1e6*t, g)
	}
	// Output:
	//   0.0 µs U+ V+ W+
	//  79.4 µs U+ V+
	//  81.4 µs U+ V+ W-
	// 197.9 µs U+ W-
	// 199.9 µs U+ V- W-
	// 420.6 µs V- W-
	// 422.6 µs U- V- W-
}

func ExampleSettings_Validate() {
	err := pattern.Settings{Kind: pattern.SpaceVector, Frequency: 50, Modulation: 1.4, Carrier: 8000}.Validate()
	var wrong *pattern.SettingError
	if errors.As(err, &wrong) {
		fmt.Println("key:", wrong.Key)
	}
	fmt.Println(err)
	// Output:
	// key: modulation
	// modulation: 1.4 is out of range; give 0 to 4/pi = 1.27324, which is six-step
}
