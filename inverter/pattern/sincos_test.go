package pattern

import (
	"math"
	"testing"
)

// TestSincos: within the reach of a piece the series are sine and cosine, to the last bit or the one before it.
func TestSincos(t *testing.T) {
	const n = 2000
	for k := -n; k <= n; k++ {
		a := math.Pi / 12 * float64(k) / n
		s, c := sincos(a)
		if math.Abs(s-math.Sin(a)) > 1e-16 || math.Abs(c-math.Cos(a)) > 2.3e-16 {
			t.Errorf("at %g rad %.17g and %.17g, want %.17g and %.17g", a, s, c, math.Sin(a), math.Cos(a))
		}
	}
}
