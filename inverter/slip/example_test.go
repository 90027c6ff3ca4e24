package slip_test

import (
	"fmt"

	"sextant/inverter/slip"
)

func ExampleNearest() {
	patterns := []string{"six-step-180", "six-step-120", "space-vector"}
	fmt.Printf("%q %q\n", slip.Nearest("six-step-18", patterns), slip.Nearest("sinus", patterns))
	// Output:
	// "six-step-180" ""
}
