package published_test

import (
	"fmt"

	"sextant/motor/published"
)

// The first of the figures that are published, and ours.
func ExampleChecks() {
	a, err := published.Checks()[0].Answer()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s, %s: %.4f, published %.4f (%s)\n", a.Case, a.Quantity, a.Ours, a.Published, a.Source)
	// Output:
	// 180 degrees, 350 V, phase fundamental, peak: 222.8169, published 222.8170 (N. Mohan, T. M. Undeland, W. P. Robbins, Power Electronics, 3rd ed., Wiley 2003, ch. 8)
}
