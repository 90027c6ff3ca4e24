package canvas

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// An Outline is a path as straight pieces in pixels, its parts one after the other. The zero value is empty.
type Outline struct {
	points []Point
	ends   []int // of the parts, in points
	closed []bool
	boxes  [][4]float64 // scratch
}

// Parts returns how many parts there are.
func (o *Outline) Parts() int { return len(o.ends) }

// Part returns the points of the i-th part, which the next Trace overwrites, and whether it is closed.
func (o *Outline) Part(i int) (pts []Point, closed bool) {
	from := 0
	if i > 0 {
		from = o.ends[i-1]
	}
	return o.points[from:o.ends[i]], o.closed[i]
}

// Trace makes o the outline of p as place puts it.
func (o *Outline) Trace(p vg.Path, place *Place) {
	o.points, o.ends, o.closed = o.points[:0], o.ends[:0], o.closed[:0]
	at := place.Apply
	scale := math.Max(math.Hypot(place.A, place.B), math.Hypot(place.C, place.D))
	start := 0 // of the part under way
	end := func(closed bool) {
		if len(o.points) > start {
			o.ends = append(o.ends, len(o.points))
			o.closed = append(o.closed, closed)
			start = len(o.points)
		}
	}
	var begin, pen vg.Point // in the drawing's points
	for _, comp := range p {
		// Going on after a Close starts a new part where the closed one began.
		if draws := comp.Type == vg.LineComp || comp.Type == vg.CurveComp; draws && len(o.points) == start && start > 0 {
			o.points = append(o.points, at(begin))
		}
		switch comp.Type {
		case vg.MoveComp:
			end(false)
			begin, pen = comp.Pos, comp.Pos
			o.points = append(o.points, at(pen))
		case vg.LineComp:
			pen = comp.Pos
			o.points = append(o.points, at(pen))
		case vg.ArcComp:
			r := comp.Radius.Points()
			n := chords(r*scale, comp.Angle)
			for i := range n + 1 {
				sin, cos := math.Sincos(comp.Start + comp.Angle*float64(i)/float64(n))
				pen = vg.Point{X: comp.Pos.X + vg.Length(r*cos), Y: comp.Pos.Y + vg.Length(r*sin)}
				if i == 0 && len(o.points) == start {
					begin = pen
				}
				o.points = append(o.points, at(pen))
			}
		case vg.CurveComp:
			q := append([]vg.Point{pen}, comp.Control...)
			q = append(q, comp.Pos)
			length := 0.0
			for i := 1; i < len(q); i++ {
				d := q[i].Sub(q[i-1])
				length += math.Hypot(d.X.Points(), d.Y.Points())
			}
			n := max(2, int(math.Sqrt(length*scale)*1.5))
			for i := 1; i <= n; i++ {
				pt := bezier(q, vg.Length(i)/vg.Length(n))
				o.points = append(o.points, at(pt))
			}
			pen = comp.Pos
		case vg.CloseComp:
			end(true)
			pen = begin
		}
	}
	end(false)
}

// chords returns how many chords make an arc of r pixels radius look round: they depart from it by at
// most a tenth of a pixel.
func chords(r, angle float64) int {
	const departure, most = 0.1, 720
	step := 2 * math.Acos(1-min(departure/max(r, departure), 0.5))
	return max(1, min(most, int(math.Ceil(math.Abs(angle)/step))))
}

// bezier returns the point at t, from 0 to 1, of the curve with the given control points, by de
// Casteljau's construction.
func bezier(q []vg.Point, t vg.Length) vg.Point {
	var w [4]vg.Point
	n := copy(w[:], q)
	for ; n > 1; n-- {
		for i := range n - 1 {
			w[i] = w[i].Scale(1 - t).Add(w[i+1].Scale(t))
		}
	}
	return w[0]
}

// Apart reports whether the bounding boxes of the parts do not touch, so that each can be filled alone. Of very many
// parts it is found out only where they follow each other from left to right, as pulses do.
func (o *Outline) Apart() bool {
	const many = 256 // beyond it, the comparison of all pairs costs more than it saves
	if len(o.ends) < 2 {
		return true
	}
	o.boxes = o.boxes[:0]
	inOrder := true
	for i := range o.ends {
		pts, _ := o.Part(i)
		b := [4]float64{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
		for _, p := range pts {
			b = [4]float64{min(b[0], p.X), min(b[1], p.Y), max(b[2], p.X), max(b[3], p.Y)}
		}
		inOrder = inOrder && (i == 0 || o.boxes[i-1][2] <= b[0])
		o.boxes = append(o.boxes, b)
	}
	if inOrder {
		return true
	}
	if len(o.ends) > many {
		return false
	}
	for i, b := range o.boxes {
		for _, a := range o.boxes[:i] {
			if a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3] {
				return false
			}
		}
	}
	return true
}
