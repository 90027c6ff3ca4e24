package device

import (
	"math"

	"gonum.org/v1/gonum/interp"
)

// A curve is digitised data: a monotone cubic through points, and on along the straight line through the
// first two and the last two.
type curve struct {
	x, y []float64 // rising
	fit  interp.FritschButland
}

// newCurve returns a curve through two points or more, whose x rise.
//
// F. N. Fritsch, J. Butland, "A method for constructing local monotone piecewise cubic interpolants", SIAM
// J. Sci. Stat. Comput. 5 (1984) 300.
func newCurve(x, y []float64) (curve, error) {
	c := curve{x: x, y: y}
	return c, c.fit.Fit(x, y)
}

func (c *curve) at(x float64) float64 {
	n := len(c.x)
	switch {
	case x < c.x[0]:
		return along(c.x[0], c.y[0], c.x[1], c.y[1], x)
	case x > c.x[n-1]:
		return along(c.x[n-2], c.y[n-2], c.x[n-1], c.y[n-1], x)
	}
	return c.fit.Predict(x)
}

// along returns the y at x of the line through two points.
func along(x0, y0, x1, y1, x float64) float64 { return y0 + (x-x0)*(y1-y0)/(x1-x0) }

// reach returns the x up to which all curves go, +Inf without any.
func reach(curves []curve) float64 {
	least := math.Inf(1)
	for _, c := range curves {
		least = min(least, c.x[len(c.x)-1])
	}
	return least
}
