// Package raster draws on images in memory: a [vg.Canvas] of pixels with soft edges, made for pictures by the thousand.
// It gives what the plotting library's own canvas gives, many times faster: coverage is summed up along rows, so that a
// long waveform costs what its length and its box cost, and letters are kept as outlines.
package raster

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"golang.org/x/image/vector"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"

	"sextant/render/canvas"
)

// dpi is how many pixels an inch has, as screens count.
const dpi = 96

// A Canvas draws on an image, 96 pixels an inch. As on every vg.Canvas, y points up and the origin is the lower left
// corner. It may be kept and used for picture after picture, by one goroutine at a time, which saves its memory.
type Canvas struct {
	img *image.RGBA
	state
	saved []state

	sums    vector.Rasterizer
	mask    image.Alpha
	outline canvas.Outline
	corners []canvas.Point // of the polygons to fill
	pieces  []piece
	faces   map[font.Font]*face
}

// A state is what Push saves and Pop restores.
type state struct {
	canvas.Pen
	color color.RGBA
}

var _ vg.CanvasSizer = (*Canvas)(nil)

// Image returns a picture of a width and height on which nothing is drawn yet, nor any ground.
func Image(w, h vg.Length) *image.RGBA {
	return image.NewRGBA(image.Rect(0, 0, round(w.Dots(dpi)), round(h.Dots(dpi))))
}

// New returns a canvas on img.
func New(img *image.RGBA) *Canvas {
	c := &Canvas{faces: map[font.Font]*face{}}
	c.On(img)
	return c
}

// On makes the canvas draw on img from now on, from the initial state.
func (c *Canvas) On(img *image.RGBA) {
	c.img, c.saved = img, c.saved[:0]
	const k = dpi / 72.0
	c.state = state{}
	c.Place = canvas.Place{A: k, D: -k, E: float64(img.Rect.Min.X), F: float64(img.Rect.Max.Y)}
	vg.Initialize(c)
}

// Size returns the image's width and height.
func (c *Canvas) Size() (w, h vg.Length) {
	s := c.img.Rect.Size()
	return vg.Length(s.X) * vg.Inch / dpi, vg.Length(s.Y) * vg.Inch / dpi
}

// SetColor sets the colour of lines, fills and text; nil is black.
func (c *Canvas) SetColor(clr color.Color) {
	if clr == nil {
		clr = color.Black
	}
	c.color = color.RGBAModel.Convert(clr).(color.RGBA)
}

// Push saves width, dashes, colour and transformation.
func (c *Canvas) Push() { c.saved = append(c.saved, c.state) }

// Pop restores what the matching Push saved.
func (c *Canvas) Pop() {
	c.state = c.saved[len(c.saved)-1]
	c.saved = c.saved[:len(c.saved)-1]
}

// Fill fills the path by the non-zero winding rule.
func (c *Canvas) Fill(p vg.Path) {
	if c.color.A == 0 {
		return
	}
	c.outline.Trace(p, &c.Place)
	c.begin()
	for i := range c.outline.Parts() {
		pts, _ := c.outline.Part(i)
		c.polygon(pts...)
	}
	c.paint()
}

// Stroke draws the path as a line.
func (c *Canvas) Stroke(p vg.Path) {
	if !(c.Width > 0) || c.color.A == 0 {
		return
	}
	c.outline.Trace(p, &c.Place)
	c.begin()
	scale := c.Place.Magnification()
	half := c.Width * scale / 2
	for i := range c.outline.Parts() {
		pts, closed := c.outline.Part(i)
		if c.Dashes == nil {
			c.line(pts, closed, half)
			continue
		}
		canvas.Dash(pts, closed, c.Dashes, c.Offset, scale, func(piece []canvas.Point) { c.line(piece, false, half) })
	}
	c.paint()
}

// DrawImage draws img scaled to fill rect, each pixel as the nearest of img.
func (c *Canvas) DrawImage(rect vg.Rectangle, img image.Image) {
	a, b := c.Place.Apply(vg.Point{X: rect.Min.X, Y: rect.Max.Y}), c.Place.Apply(vg.Point{X: rect.Max.X, Y: rect.Min.Y})
	from, size := img.Bounds(), b.Sub(a)
	to := image.Rect(round(a.X), round(a.Y), round(b.X), round(b.Y))
	for y := max(to.Min.Y, c.img.Rect.Min.Y); y < min(to.Max.Y, c.img.Rect.Max.Y); y++ {
		for x := max(to.Min.X, c.img.Rect.Min.X); x < min(to.Max.X, c.img.Rect.Max.X); x++ {
			u := (float64(x) + 0.5 - a.X) / size.X * float64(from.Dx())
			v := (float64(y) + 0.5 - a.Y) / size.Y * float64(from.Dy())
			u, v = max(0, min(u, float64(from.Dx()-1))), max(0, min(v, float64(from.Dy()-1)))
			at := image.Rect(x, y, x+1, y+1)
			draw.Draw(c.img, at, image.NewUniform(img.At(from.Min.X+int(u), from.Min.Y+int(v))), image.Point{}, draw.Over)
		}
	}
}

func round(x float64) int { return int(math.Round(x)) }
