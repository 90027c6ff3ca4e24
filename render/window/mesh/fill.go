package mesh

import (
	"math"
	"slices"

	"sextant/render/canvas"
)

// Fill adds the inside of a closed outline and reports whether it could: an outline that crosses itself,
// or a hollow one of more than a few hundred points, is left to another way of filling.
// Fewer than three distinct points enclose nothing, which is success.
func (m *Mesh) Fill(outline []canvas.Point, c Color) bool {
	pts := m.distinct(outline, true)
	n := len(pts)
	if n < 3 {
		return true
	}
	if low, high, ok := upright(pts); ok {
		m.box(low, high, c)
		return true
	}
	area := 0.0
	for i, p := range pts {
		area += p.Cross(pts[(i+1)%n])
	}
	if area < 0 { // from here on, the inside is on the left
		slices.Reverse(pts)
	}
	hollow, winds := turns(pts)
	if winds != 1 {
		return false
	}
	if hollow && !m.clip(pts) {
		return false
	}

	half, coverage := softness(thickness(pts))
	base := uint32(len(m.Vertices))
	for i, p := range pts {
		n := mitre(pts[(i+n-1)%n], p, pts[(i+1)%n])
		m.vertex(p.Add(n.Scale(half)), c, coverage)
		m.vertex(p.Add(n.Scale(-0.5)), c, 0)
	}
	inner := func(i int) uint32 { return base + 2*uint32(i) }
	if hollow {
		for i := 0; i < len(m.ears); i += 3 {
			m.triangle(inner(m.ears[i]), inner(m.ears[i+1]), inner(m.ears[i+2]))
		}
	} else {
		for i := 1; i < n-1; i++ {
			m.triangle(inner(0), inner(i), inner(i+1))
		}
	}
	for i := range n {
		j := (i + 1) % n
		m.quad(inner(i), inner(i)+1, inner(j)+1, inner(j))
	}
	return true
}

// softness returns how far inwards the edge of a shape is soft, and how far its inside is covered. The soft edge runs half
// a pixel to either side, less on what is itself thinner than a pixel; there the coverage is lowered to keep the ink.
func softness(thickness float64) (half, coverage float64) {
	half = min(thickness/2, 0.5)
	if half < 0.5 {
		return half, 2 * half / (half + 0.5)
	}
	return half, 1
}

// upright reports whether an outline is a rectangle along the axes, and its lowest and highest corner: the bars of a
// picture, so many that they have a way of their own.
func upright(pts []canvas.Point) (low, high canvas.Point, ok bool) {
	if len(pts) != 4 {
		return low, high, false
	}
	a, b, c, d := pts[0], pts[1], pts[2], pts[3]
	if !(a.Y == b.Y && b.X == c.X && c.Y == d.Y && d.X == a.X) && !(a.X == b.X && b.Y == c.Y && c.X == d.X && d.Y == a.Y) {
		return low, high, false
	}
	return canvas.Point{X: min(a.X, c.X), Y: min(a.Y, c.Y)}, canvas.Point{X: max(a.X, c.X), Y: max(a.Y, c.Y)}, true
}

// box adds a rectangle.
func (m *Mesh) box(low, high canvas.Point, c Color) {
	half, coverage := softness(min(high.X-low.X, high.Y-low.Y))
	in := [2]canvas.Point{{X: low.X + half, Y: low.Y + half}, {X: high.X - half, Y: high.Y - half}}
	out := [2]canvas.Point{{X: low.X - 0.5, Y: low.Y - 0.5}, {X: high.X + 0.5, Y: high.Y + 0.5}}
	n := uint32(len(m.Vertices))
	for _, k := range [4][2]int{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
		m.vertex(canvas.Point{X: in[k[0]].X, Y: in[k[1]].Y}, c, coverage)
		m.vertex(canvas.Point{X: out[k[0]].X, Y: out[k[1]].Y}, c, 0)
	}
	m.quad(n, n+2, n+4, n+6)
	for i := range uint32(4) {
		j := (i + 1) % 4
		m.quad(n+2*i, n+2*i+1, n+2*j+1, n+2*j)
	}
}

// turns reports whether some corner of an outline turns to the right, and how often the whole winds round.
func turns(pts []canvas.Point) (hollow bool, winds int) {
	n := len(pts)
	sum := 0.0
	for i, p := range pts {
		a, b := towards(pts[(i+n-1)%n], p), towards(p, pts[(i+1)%n])
		cross := a.Cross(b)
		hollow = hollow || cross < -1e-6
		sum += math.Atan2(cross, a.Dot(b))
	}
	return hollow, int(math.Abs(math.Round(sum / (2 * math.Pi))))
}

// thickness returns the extent of an outline across its first long side or along the axes, whichever is
// least: a guess that is right for what is thin, bars and slivers.
func thickness(pts []canvas.Point) float64 {
	n := len(pts)
	best := math.Inf(1)
	longest, along := 0.0, canvas.Point{X: 1}
	for i, p := range pts {
		if d := pts[(i+1)%n].Sub(p); d.Abs() > longest {
			longest, along = d.Abs(), d.Scale(1/d.Abs())
		}
	}
	for _, axis := range [3]canvas.Point{{X: 1}, {Y: 1}, along.Left()} {
		low, high := math.Inf(1), math.Inf(-1)
		for _, p := range pts {
			low, high = min(low, p.Dot(axis)), max(high, p.Dot(axis))
		}
		best = min(best, high-low)
	}
	return best
}

// mitre returns the vector from a corner to the corner of the outline moved inwards by 1; at very sharp
// corners it is shortened, which blunts the tip's soft edge by a pixel.
func mitre(before, p, after canvas.Point) canvas.Point {
	a, b := towards(before, p), towards(p, after)
	const sharp = 0.25
	return a.Add(b).Left().Scale(1 / max(1+a.Dot(b), sharp))
}

// towards returns the direction from p to q.
func towards(p, q canvas.Point) canvas.Point { d := q.Sub(p); return d.Scale(1 / d.Abs()) }

// clip fills m.ears with the triangles of a simple outline, inside on the left, by cutting ears off it.
// It reports false where no ear is left, as in an outline that crosses itself.
func (m *Mesh) clip(pts []canvas.Point) bool {
	const most = 400 // the search is cubic at worst
	if len(pts) > most {
		return false
	}
	left := m.left[:0]
	for i := range pts {
		left = append(left, i)
	}
	m.left = left
	m.ears = m.ears[:0]
	for i, misses := 0, 0; len(left) > 3; {
		n := len(left)
		a, b, c := left[i%n], left[(i+1)%n], left[(i+2)%n]
		if isEar(pts, left, a, b, c) {
			m.ears = append(m.ears, a, b, c)
			left = slices.Delete(left, (i+1)%n, (i+1)%n+1)
			misses = 0
			continue
		}
		i = (i + 1) % n
		if misses++; misses > n {
			return false
		}
	}
	m.ears = append(m.ears, left...)
	return true
}

func isEar(pts []canvas.Point, left []int, a, b, c int) bool {
	pa, pb, pc := pts[a], pts[b], pts[c]
	if pb.Sub(pa).Cross(pc.Sub(pb)) < 0 {
		return false
	}
	for _, i := range left {
		if i == a || i == b || i == c {
			continue
		}
		p := pts[i]
		if pb.Sub(pa).Cross(p.Sub(pa)) > 0 && pc.Sub(pb).Cross(p.Sub(pb)) > 0 && pa.Sub(pc).Cross(p.Sub(pc)) > 0 {
			return false
		}
	}
	return true
}
