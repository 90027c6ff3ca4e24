package drive

import (
	"math"
	"testing"
)

// TestSincos: the series within their reach, and what takes their place beyond it, are sine and cosine, to the last bit or
// the one before it.
func TestSincos(t *testing.T) {
	const n = 3000
	for k := -n; k <= n; k++ {
		x := 0.3 * float64(k) / n
		s, c := sincos(x)
		if math.Abs(s-math.Sin(x)) > 6e-17 || math.Abs(c-math.Cos(x)) > 1.2e-16 {
			t.Errorf("at %g rad %.17g and %.17g, want %.17g and %.17g", x, s, c, math.Sin(x), math.Cos(x))
		}
	}
}
