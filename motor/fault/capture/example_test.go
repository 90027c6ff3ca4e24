package capture_test

import (
	"fmt"
	"strings"

	"sextant/motor/fault/capture"
)

// A logger's file with two of the three currents.
func ExampleRead() {
	c, err := capture.Read("scope.csv", strings.NewReader("time_ms;U [mA];V [mA]\n0;1500,0;-500,0\n0,5;1600,0;-450,0\n"), capture.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(c.Len(), c.Time[1], c.Current[0], c.Derived, c.Third)
	// Output:
	// 2 0.0005 [1.5 -0.5 -1] true W
}
