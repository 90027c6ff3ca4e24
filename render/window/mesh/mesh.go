// Package mesh turns outlines into triangles with soft edges, for graphics hardware that fills triangles
// and knows nothing of curves, line widths or coverage.
//
// An edge fades from full to nothing across one pixel, centred on the outline. So the whole of a picture
// can go to the hardware in one call, with no second, larger image to average down. What a picture costs is
// its vertices and triangles: a stroke takes two of each a point, and its profile is the hardware's to work out.
package mesh

import "sextant/render/canvas"

// A Color is red, green, blue and opacity, each from 0 to 1, not multiplied by the opacity.
type Color [4]float32

// A Vertex is a corner of a triangle. All its values run evenly between the corners, and a pixel's opacity is that
// of its colour times clamp(Reach - |Across|, 0, 1), so that a line needs no corners within its width.
type Vertex struct {
	X, Y          float32
	Across, Reach float32 // pixels
	U, V          float32 // place in a picture that the colour is multiplied with; Plain where there is none
	Color         Color
}

// Plain is the U and V of what is not textured: a picture that the hardware is given is opaque white there.
const Plain = 1.5

// A Mesh collects triangles. The zero value is empty and ready.
type Mesh struct {
	Vertices []Vertex
	Indices  []uint32 // three a triangle

	clean []canvas.Point // scratch
	ears  []int          // scratch
	left  []int          // scratch
}

// Reset empties the mesh and keeps its memory.
func (m *Mesh) Reset() {
	m.Vertices = m.Vertices[:0]
	m.Indices = m.Indices[:0]
}

// vertex adds a corner that is covered so far.
func (m *Mesh) vertex(p canvas.Point, c Color, coverage float64) {
	c[3] *= float32(coverage)
	m.Vertices = append(m.Vertices, Vertex{
		X: float32(p.X), Y: float32(p.Y), Reach: 1, U: Plain, V: Plain, Color: c,
	})
}

// Picture adds a part of a picture, from u0 and v0 to u1 and v1, in a colour. Its corners u0 v0, u1 v0, u1 v1 and u0 v1 come
// to lie at those given.
func (m *Mesh) Picture(corners [4]canvas.Point, u0, v0, u1, v1 float32, c Color) {
	n := uint32(len(m.Vertices))
	for i, uv := range [4][2]float32{{u0, v0}, {u1, v0}, {u1, v1}, {u0, v1}} {
		p := corners[i]
		m.Vertices = append(m.Vertices, Vertex{
			X: float32(p.X), Y: float32(p.Y), Reach: 1, U: uv[0], V: uv[1], Color: c,
		})
	}
	m.quad(n, n+1, n+2, n+3)
}

func (m *Mesh) triangle(a, b, c uint32) { m.Indices = append(m.Indices, a, b, c) }

func (m *Mesh) quad(a, b, c, d uint32) { m.Indices = append(m.Indices, a, b, c, a, c, d) }

// distinct returns pts without neighbours that coincide, nor, when closed, a last that repeats the first.
// The result is overwritten by the next call.
func (m *Mesh) distinct(pts []canvas.Point, closed bool) []canvas.Point {
	const same = 1e-3 // pixels: nothing that could be seen
	m.clean = m.clean[:0]
	for _, p := range pts {
		if n := len(m.clean); n > 0 {
			if d := p.Sub(m.clean[n-1]); d.Dot(d) <= same*same {
				continue
			}
		}
		m.clean = append(m.clean, p)
	}
	if n := len(m.clean); closed && n > 1 && m.clean[n-1].Sub(m.clean[0]).Abs() <= same {
		m.clean = m.clean[:n-1]
	}
	return m.clean
}
