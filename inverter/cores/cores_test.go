package cores_test

import (
	"fmt"
	"sync/atomic"
	"testing"

	"sextant/inverter/cores"
)

// TestEach: each number is worked once, however many there are, and what fails first by number is told.
func TestEach(t *testing.T) {
	for _, n := range []int{0, 1, 2, 1000} {
		worked := make([]atomic.Int32, n)
		if err := cores.Each(n, func(i int) error {
			worked[i].Add(1)
			return nil
		}); err != nil {
			t.Error(err)
		}
		for i := range worked {
			if times := worked[i].Load(); times != 1 {
				t.Errorf("%d of %d was worked %d times", i, n, times)
			}
		}
	}
	for range 100 {
		err := cores.Each(50, func(i int) error {
			if i%10 == 7 {
				return fmt.Errorf("number %d", i)
			}
			return nil
		})
		if err == nil || err.Error() != "number 7" {
			t.Fatalf("%v", err)
		}
	}
}
