// Package cores shares work out among all processors.
package cores

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// Each calls do for 0 to n-1, on all processors at once and in no order, and waits for all. It returns what failed for
// the least number, whatever else did, so that it says the same each time.
func Each(n int, do func(i int) error) error {
	var next atomic.Int64
	var all sync.WaitGroup
	errs := make([]error, n)
	for range min(n, runtime.GOMAXPROCS(0)) {
		all.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				errs[i] = do(i)
			}
		})
	}
	all.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
