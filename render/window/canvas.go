package window

import (
	"image"
	"image/color"
	"math"
	"slices"
	"sync"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/vector"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"

	"sextant/render/canvas"
	"sextant/render/window/mesh"
)

// A Canvas is a [vg.Canvas] that draws on an Ebitengine image, one point a pixel. As on every vg.Canvas,
// y points up and the origin is the lower left corner; only this type knows that the image has it
// otherwise.
//
// Shapes and letters are collected and reach the image in few calls: after the last one, call [Canvas.Flush].
// A Canvas may be kept and used for picture after picture, which saves its memory.
type Canvas struct {
	image *ebiten.Image
	state
	saved []state

	mesh     mesh.Mesh
	vertices []ebiten.Vertex
	indices  []uint16
	outline  canvas.Outline
	faces    faces
	page     page
	smoothed bool // the letters in the mesh are
	options  ebiten.DrawTrianglesShaderOptions
}

// A state is what Push saves and Pop restores.
type state struct {
	canvas.Pen
	color mesh.Color
}

var _ vg.CanvasSizer = (*Canvas)(nil)

// On makes the canvas draw on image from now on, from the initial state.
func (c *Canvas) On(image *ebiten.Image) {
	c.image = image
	if c.page.image == nil {
		c.page.open()
	}
	c.saved = c.saved[:0]
	b := image.Bounds()
	c.Place = canvas.Place{A: 1, D: -1, E: float64(b.Min.X), F: float64(b.Max.Y)}
	vg.Initialize(c)
}

// Size returns the image's width and height.
func (c *Canvas) Size() (x, y vg.Length) {
	s := c.image.Bounds().Size()
	return vg.Length(s.X), vg.Length(s.Y)
}

// SetColor sets the colour of lines, fills and text; nil is black.
func (c *Canvas) SetColor(clr color.Color) {
	if clr == nil {
		clr = color.Black
	}
	r, g, b, a := clr.RGBA() // multiplied by a, which a mesh's colour is not
	if a == 0 {
		c.color = mesh.Color{}
		return
	}
	const full = 0xffff
	k := 1 / float32(a)
	c.color = mesh.Color{float32(r) * k, float32(g) * k, float32(b) * k, float32(a) / full}
}

// Push saves width, dashes, colour and transformation.
func (c *Canvas) Push() { c.saved = append(c.saved, c.state) }

// Pop restores what the matching Push saved.
func (c *Canvas) Pop() {
	c.state = c.saved[len(c.saved)-1]
	c.saved = c.saved[:len(c.saved)-1]
}

// enough is how many vertices are sent when the next shape comes: so few that they are still in the processor's cache, for
// passing them on costs more than making them.
const enough = 2000

// spill sends what was collected if that is enough.
func (c *Canvas) spill() {
	if len(c.mesh.Vertices) >= enough {
		c.Flush()
	}
}

// trace makes the canvas's outline that of p.
func (c *Canvas) trace(p vg.Path) {
	c.spill()
	c.outline.Trace(p, &c.Place)
}

// Stroke draws the path as a line.
func (c *Canvas) Stroke(p vg.Path) {
	if !(c.Width > 0) || c.color[3] == 0 {
		return
	}
	scale := c.Place.Magnification()
	c.trace(p)
	for i := range c.outline.Parts() {
		pts, closed := c.outline.Part(i)
		if c.Dashes == nil {
			c.mesh.Stroke(pts, closed, c.Width*scale, c.color)
			continue
		}
		canvas.Dash(pts, closed, c.Dashes, c.Offset, scale, func(piece []canvas.Point) {
			c.mesh.Stroke(piece, false, c.Width*scale, c.color)
		})
	}
}

// Fill fills the path by the non-zero winding rule.
func (c *Canvas) Fill(p vg.Path) {
	if c.color[3] == 0 {
		return
	}
	c.trace(p)
	if !c.outline.Apart() {
		c.fillAny()
		return
	}
	vertices, indices := len(c.mesh.Vertices), len(c.mesh.Indices)
	for i := range c.outline.Parts() {
		pts, _ := c.outline.Part(i)
		if !c.mesh.Fill(pts, c.color) {
			c.mesh.Vertices, c.mesh.Indices = c.mesh.Vertices[:vertices], c.mesh.Indices[:indices]
			c.fillAny()
			return
		}
	}
}

// fillAny fills outlines that have holes or cross themselves, with the hardware's stencil.
func (c *Canvas) fillAny() {
	c.Flush()
	var path vector.Path
	for i := range c.outline.Parts() {
		pts, _ := c.outline.Part(i)
		for j, p := range pts {
			if j == 0 {
				path.MoveTo(float32(p.X), float32(p.Y))
			} else {
				path.LineTo(float32(p.X), float32(p.Y))
			}
		}
		path.Close()
	}
	c.vertices, c.indices = path.AppendVerticesAndIndicesForFilling(c.vertices[:0], c.indices[:0])
	for i := range c.vertices {
		v := &c.vertices[i]
		v.SrcX, v.SrcY = 1, 1
		v.ColorR, v.ColorG, v.ColorB, v.ColorA = c.color[0], c.color[1], c.color[2], c.color[3]
	}
	c.image.DrawTriangles(c.vertices, c.indices, white(), &ebiten.DrawTrianglesOptions{
		FillRule:  ebiten.FillRuleNonZero,
		AntiAlias: true,
	})
}

// FillString writes text, its baseline starting at pt.
func (c *Canvas) FillString(f font.Face, pt vg.Point, text string) {
	size := f.Font.Size.Points() * c.Place.Magnification()
	if !(size > 0) || text == "" || c.color[3] == 0 {
		return
	}
	c.spill()
	c.write(f, size, pt, text)
}

// DrawImage draws img scaled to fill rect.
func (c *Canvas) DrawImage(rect vg.Rectangle, img image.Image) {
	b := img.Bounds()
	if b.Empty() {
		return
	}
	c.Flush()
	picture := ebiten.NewImageFromImage(img)
	defer picture.Deallocate()
	op := &ebiten.DrawImageOptions{Filter: ebiten.FilterLinear}
	size := rect.Size()
	m := c.Place.After(canvas.Place{
		A: size.X.Points() / float64(b.Dx()), D: -size.Y.Points() / float64(b.Dy()), E: rect.Min.X.Points(), F: rect.Max.Y.Points(),
	})
	for i, x := range [...]float64{m.A, m.C, m.E, m.B, m.D, m.F} {
		op.GeoM.SetElement(i/3, i%3, x)
	}
	op.ColorScale.ScaleAlpha(c.color[3])
	c.image.DrawImage(picture, op)
}

// Flush hands what was collected to the image.
func (c *Canvas) Flush() {
	if len(c.mesh.Indices) == 0 {
		return
	}
	// A call takes 16-bit indices, so long meshes go in pieces, each with the vertices it uses.
	for from := 0; from < len(c.mesh.Indices); {
		from = c.send(from)
	}
	c.mesh.Reset()
}

// send draws triangles from index from on, as many as one call takes, and returns the index of the next.
func (c *Canvas) send(from int) (next int) {
	const most = math.MaxUint16 + 1
	all := c.mesh.Indices
	low, high, next := uint32(0), uint32(len(c.mesh.Vertices)-1), len(all)
	if high >= most {
		low, high = all[from], all[from]
		for next = from; next < len(all); next += 3 {
			l := min(low, all[next], all[next+1], all[next+2])
			h := max(high, all[next], all[next+1], all[next+2])
			if h-l >= most {
				break
			}
			low, high = l, h
		}
	}
	vertices := c.mesh.Vertices[low : high+1]
	c.vertices = slices.Grow(c.vertices[:0], len(vertices))[:len(vertices)]
	for i := range vertices {
		v := &vertices[i]
		c.vertices[i] = ebiten.Vertex{
			DstX: v.X, DstY: v.Y, SrcX: v.U, SrcY: v.V,
			ColorR: v.Color[0], ColorG: v.Color[1], ColorB: v.Color[2], ColorA: v.Color[3],
			Custom0: v.Across, Custom1: v.Reach,
		}
	}
	indices := all[from:next]
	c.indices = slices.Grow(c.indices[:0], len(indices))[:len(indices)]
	for i, k := range indices {
		c.indices[i] = uint16(k - low)
	}
	shader := crisp()
	if c.smoothed {
		shader = soft()
	}
	c.options.Images[0] = c.page.image
	c.image.DrawTrianglesShader(c.vertices, c.indices, shader, &c.options)
	return next
}

// white returns the white pixel that shapes filled by the stencil are textured with; it has white neighbours, so that no
// edge bleeds in.
var white = sync.OnceValue(func() *ebiten.Image {
	img := ebiten.NewImage(3, 3)
	img.Fill(color.White)
	return img
})
