package plots

import "gonum.org/v1/plot/vg"

// A mesh is values over a grid whose columns are upright and whose rows are not level: the height of every
// point is its own.
type mesh struct {
	x []vg.Length   // by column, rising
	y [][]vg.Length // by column, then row, rising
	z [][]float64   // the same
}

// corner is a point of a mesh, or of an edge between two.
type corner struct {
	vg.Point
	z float64
}

func (m *mesh) corner(i, j int) corner { return corner{vg.Point{X: m.x[i], Y: m.y[i][j]}, m.z[i][j]} }

// cell returns the corners of a cell, counter-clockwise.
func (m *mesh) cell(i, j int) [4]corner {
	return [4]corner{m.corner(i, j), m.corner(i+1, j), m.corner(i+1, j+1), m.corner(i, j+1)}
}

// crossing returns where an edge passes a level that lies between its ends.
func crossing(a, b corner, level float64) vg.Point {
	t := vg.Length((level - a.z) / (b.z - a.z))
	return vg.Point{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)}
}

// above returns the outline of all that is at a level or above, as one path of pieces that turn the same way:
// filled as one, they show no seams. Whole cells one over the other become one piece.
func (m *mesh) above(level float64) (path vg.Path) {
	for i := range len(m.x) - 1 {
		start := -1 // of the run of whole cells
		run := func(end int) {
			if start >= 0 {
				a, b := m.cell(i, start), m.cell(i, end-1)
				path = polygon(path, a[0].Point, a[1].Point, b[2].Point, b[3].Point)
			}
			start = -1
		}
		for j := range len(m.y[i]) - 1 {
			c := m.cell(i, j)
			in := 0
			for _, p := range c {
				if p.z >= level {
					in++
				}
			}
			if in == len(c) {
				if start < 0 {
					start = j
				}
				continue
			}
			run(j)
			if in > 0 {
				path = polygon(path, clipped(c, level)...)
			}
		}
		run(len(m.y[i]) - 1)
	}
	return path
}

// clipped returns the part of a cell that is at a level or above.
func clipped(c [4]corner, level float64) (points []vg.Point) {
	for k, a := range c {
		b := c[(k+1)%len(c)]
		if a.z >= level {
			points = append(points, a.Point)
		}
		if (a.z >= level) != (b.z >= level) {
			points = append(points, crossing(a, b, level))
		}
	}
	return points
}

func polygon(path vg.Path, points ...vg.Point) vg.Path {
	path.Move(points[0])
	for _, p := range points[1:] {
		path.Line(p)
	}
	path.Close()
	return path
}

// A segment is a piece of a line of one level.
type segment struct{ a, b vg.Point }

// line returns the pieces of the line of a level.
func (m *mesh) line(level float64) (segments []segment) {
	for i := range len(m.x) - 1 {
		for j := range len(m.y[i]) - 1 {
			c := m.cell(i, j)
			var at [4]vg.Point
			n := 0
			for k, a := range c {
				if b := c[(k+1)%len(c)]; (a.z >= level) != (b.z >= level) {
					at[n] = crossing(a, b, level)
					n++
				}
			}
			for k := 0; k+1 < n; k += 2 {
				segments = append(segments, segment{at[k], at[k+1]})
			}
		}
	}
	return segments
}
