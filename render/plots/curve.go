package plots

import (
	"math"

	"sextant/motor/drive"
)

// A curve is a waveform as the picture needs it. Time is cut into columns, as narrow as the picture's; of a
// column with many points only the first, the least, the greatest and the last are kept, in their order, so
// that the line covers what the whole wave would and no spike is lost.
type curve struct {
	value  func(*drive.Instant) float64
	points []point
	column float64 // the one that is being filled
	start  int     // index of its first point
}

// A point is of a time in s.
type point struct{ t, y float64 }

// fewEnough points in a column are all kept, so that steps stay upright.
const fewEnough = 6

// add adds a point of a column, columns and times never running backwards.
func (c *curve) add(column float64, p point) {
	if column != c.column || c.points == nil {
		if len(c.points)-c.start > fewEnough {
			c.thin()
		}
		c.column, c.start = column, len(c.points)
	}
	n := len(c.points)
	if n-c.start >= 2 && same(c.points[n-1].y, p.y) && same(c.points[n-2].y, p.y) {
		c.points[n-1].t = p.t // a level stretch goes on
		return
	}
	c.points = append(c.points, p)
	if len(c.points)-c.start > 4*fewEnough {
		c.thin()
	}
}

// same reports whether two values differ by no more than rounding.
func same(a, b float64) bool { return math.Abs(a-b) <= 1e-12*math.Abs(a) }

// thin keeps four points of the column that is being filled.
func (c *curve) thin() {
	all := c.points[c.start:]
	low, high := 0, 0
	for i, p := range all {
		if p.y < all[low].y {
			low = i
		}
		if p.y > all[high].y {
			high = i
		}
	}
	kept := [4]point{all[0], all[min(low, high)], all[max(low, high)], all[len(all)-1]}
	c.points = append(c.points[:c.start], kept[:]...)
}

// bounds returns the least and the greatest value, both 0 where there is none.
func (c *curve) bounds() (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range c.points {
		low, high = min(low, p.y), max(high, p.y)
	}
	if low > high {
		return 0, 0
	}
	return low, high
}
