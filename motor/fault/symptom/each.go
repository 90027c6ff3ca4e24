package symptom

import (
	"errors"
	"runtime"
	"sync"
	"sync/atomic"
)

// each calls do for 0 to n-1 on all processors and returns what failed.
func each(n int, do func(i int) error) error {
	var next atomic.Int64
	errs := make([]error, n)
	var all sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		all.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				errs[i] = do(i)
			}
		})
	}
	all.Wait()
	return errors.Join(errs...)
}
