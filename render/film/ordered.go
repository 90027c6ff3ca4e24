package film

import "iter"

// ordered yields f of each of in, in their order, with so many calls of f at work at once.
func ordered[A, B any](workers int, in iter.Seq[A], f func(A) B) iter.Seq[B] {
	return func(yield func(B) bool) {
		results := make(chan chan B, workers) // each holds one result, so that work runs ahead by a few only
		free := make(chan struct{}, workers)
		enough := make(chan struct{})
		go func() {
			defer close(results)
			for a := range in {
				result := make(chan B, 1)
				select {
				case results <- result:
				case <-enough:
					return
				}
				free <- struct{}{}
				go func() {
					result <- f(a)
					<-free
				}()
			}
		}()
		wanted := true
		for result := range results { // to the end, so that nothing is left running
			b := <-result
			if wanted && !yield(b) {
				wanted = false
				close(enough)
			}
		}
	}
}
