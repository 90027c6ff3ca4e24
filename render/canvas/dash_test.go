package canvas

import (
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
)

func TestDash(t *testing.T) {
	tests := []struct {
		name          string
		pts           []Point
		closed        bool
		pattern       []float64
		offset, scale float64
		on            float64 // total length on
		pieces        int
	}{
		{"plain", []Point{{0, 0}, {100, 0}}, false, []float64{6, 4}, 0, 1, 60, 10},
		{"offset within the gap", []Point{{0, 0}, {100, 0}}, false, []float64{6, 4}, 8, 1, 60, 10},
		{"odd count", []Point{{0, 0}, {28, 0}}, false, []float64{7}, 0, 1, 14, 2},
		{"scaled", []Point{{0, 0}, {100, 0}}, false, []float64{3, 2}, 0, 2, 60, 10},
		{"round the corner", []Point{{0, 0}, {8, 0}, {8, 8}}, false, []float64{10, 2}, 0, 1, 14, 2},
		{"closed", []Point{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, true, []float64{4, 4}, 0, 1, 20, 5},
		{"too fine to see", []Point{{0, 0}, {100, 0}}, false, []float64{.1, .1}, 0, 1, 100, 1},
	}
	for _, tt := range tests {
		on, pieces := 0.0, 0
		Dash(tt.pts, tt.closed, tt.pattern, tt.offset, tt.scale, func(piece []Point) {
			pieces++
			for i := 1; i < len(piece); i++ {
				on += piece[i].Sub(piece[i-1]).Abs()
			}
		})
		if !scalar.EqualWithinAbs(on, tt.on, 1e-9) || pieces != tt.pieces {
			t.Errorf("%s: %d pieces, %g long; want %d, %g", tt.name, pieces, on, tt.pieces, tt.on)
		}
	}
}
