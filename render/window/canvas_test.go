//go:build display

package window

import (
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/hajimehoshi/ebiten/v2"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/font/liberation"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"

	"sextant/render/picture/raster"
)

var fonts = font.NewCache(liberation.Collection())

func sans(size vg.Length) font.Face {
	return fonts.Lookup(font.Font{Typeface: "Liberation", Variant: "Sans"}, size)
}

// drawings exercise all that a vg.Canvas can do, each on 200 by 150 points.
var drawings = map[string]func(vg.Canvas){
	"bars": func(c vg.Canvas) {
		c.SetColor(color.RGBA{R: 0xe6, G: 0x9f, A: 0xff})
		for i := range 8 {
			x := vg.Length(10 + 20*i)
			c.Fill(vg.Rectangle{Min: vg.Point{X: x, Y: 20}, Max: vg.Point{X: x + 12.5, Y: 40 + 10*vg.Length(i)}}.Path())
		}
	},
	"lines": func(c vg.Canvas) {
		for i := range 9 {
			c.SetLineWidth(vg.Length(0.5 + 0.75*float64(i)))
			c.SetColor(color.Gray{Y: uint8(20 * i)})
			var p vg.Path
			p.Move(vg.Point{X: 10 + 20*vg.Length(i), Y: 10})
			p.Line(vg.Point{X: 25 + 20*vg.Length(i), Y: 70})
			p.Line(vg.Point{X: 5 + 20*vg.Length(i), Y: 90})
			p.Line(vg.Point{X: 20 + 15*vg.Length(i), Y: 140})
			c.Stroke(p)
		}
	},
	"dashes": func(c vg.Canvas) {
		c.SetLineWidth(3)
		c.SetLineDash([]vg.Length{12, 5, 3, 5}, 4)
		var p vg.Path
		p.Move(vg.Point{X: 10, Y: 10})
		p.Line(vg.Point{X: 190, Y: 60})
		p.Line(vg.Point{X: 20, Y: 100})
		c.Stroke(p)
		c.SetLineDash([]vg.Length{7}, 0)
		c.Stroke(vg.Rectangle{Min: vg.Point{X: 30, Y: 110}, Max: vg.Point{X: 170, Y: 140}}.Path())
	},
	"arcs": func(c vg.Canvas) {
		var disc vg.Path
		disc.Arc(vg.Point{X: 60, Y: 75}, 45, 0, 2*math.Pi)
		c.SetColor(color.RGBA{G: 0x72, B: 0xb2, A: 0xff})
		c.Fill(disc)
		c.SetColor(color.Black)
		c.SetLineWidth(4)
		c.Stroke(disc)
		var wedge vg.Path // more than half a turn, so hollow at its centre
		wedge.Move(vg.Point{X: 150, Y: 75})
		wedge.Arc(vg.Point{X: 150, Y: 75}, 40, 0.5, 4.4)
		wedge.Close()
		c.SetColor(color.RGBA{R: 0xd5, G: 0x5e, A: 0xff})
		c.Fill(wedge)
	},
	"curves": func(c vg.Canvas) {
		var p vg.Path
		p.Move(vg.Point{X: 10, Y: 20})
		p.QuadTo(vg.Point{X: 60, Y: 160}, vg.Point{X: 100, Y: 40})
		p.CubeTo(vg.Point{X: 120, Y: -40}, vg.Point{X: 170, Y: 200}, vg.Point{X: 190, Y: 30})
		c.SetLineWidth(6)
		c.Stroke(p)
	},
	"hole": func(c vg.Canvas) {
		var p vg.Path
		p.Arc(vg.Point{X: 100, Y: 75}, 60, 0, 2*math.Pi)
		p.Close()
		p.Move(vg.Point{X: 130, Y: 75})
		p.Arc(vg.Point{X: 100, Y: 75}, 30, 0, -2*math.Pi)
		p.Close()
		c.SetColor(color.RGBA{R: 0xcc, G: 0x79, B: 0xa7, A: 0xff})
		c.Fill(p)
	},
	"arrow and glass": func(c vg.Canvas) {
		var p vg.Path
		for i, pt := range []vg.Point{{X: 20, Y: 60}, {X: 120, Y: 60}, {X: 110, Y: 30}, {X: 185, Y: 75}, {X: 110, Y: 120}, {X: 120, Y: 90}, {X: 20, Y: 90}} {
			if i == 0 {
				p.Move(pt)
			} else {
				p.Line(pt)
			}
		}
		p.Close()
		c.SetColor(color.RGBA{R: 0x00, G: 0x9e, B: 0x73, A: 0xff})
		c.Fill(p)
		c.SetColor(color.NRGBA{A: 0x80})
		c.Fill(vg.Rectangle{Min: vg.Point{X: 60, Y: 20}, Max: vg.Point{X: 140, Y: 80}}.Path())
	},
	"text": func(c vg.Canvas) {
		c.FillString(sans(14), vg.Point{X: 10, Y: 120}, "U+ V- W-: 112 A, 64 deg")
		c.FillString(sans(9), vg.Point{X: 10, Y: 100}, "AVAToTa i_d = -12.5 µΩ")
		c.SetColor(color.RGBA{R: 0xd5, G: 0x5e, A: 0xff})
		c.Push()
		c.Translate(vg.Point{X: 30, Y: 20})
		c.Rotate(math.Pi / 2)
		c.FillString(sans(12), vg.Point{}, "upwards")
		c.Pop()
		c.FillString(sans(24), vg.Point{X: 60, Y: 40}, "N S")
	},
	"image and moved": func(c vg.Canvas) {
		img := image.NewRGBA(image.Rect(0, 0, 2, 2))
		img.Set(0, 0, color.RGBA{R: 255, A: 255})
		img.Set(1, 0, color.RGBA{G: 255, A: 255})
		img.Set(0, 1, color.RGBA{B: 255, A: 255})
		img.Set(1, 1, color.White)
		big := image.NewRGBA(image.Rect(0, 0, 60, 60))
		for y := range 60 {
			for x := range 60 {
				big.Set(x, y, img.At(x/30, y/30))
			}
		}
		c.DrawImage(vg.Rectangle{Min: vg.Point{X: 10, Y: 70}, Max: vg.Point{X: 70, Y: 130}}, big)
		c.Push()
		c.Translate(vg.Point{X: 120, Y: 40})
		c.Rotate(0.3)
		c.Scale(1.5, 1)
		c.Fill(vg.Rectangle{Max: vg.Point{X: 30, Y: 40}}.Path())
		c.Pop()
		c.SetLineWidth(1)
		c.Stroke(vg.Rectangle{Min: vg.Point{X: 20.5, Y: 10.5}, Max: vg.Point{X: 90.5, Y: 50.5}}.Path())
	},
}

// The library's own picture of the same drawing is the judge. Two ways of rounding edges differ by part
// of a pixel; so a pixel may differ much where a glyph or edge lies, but few do and the mean is small.
func TestCanvasAgreesWithImageCanvas(t *testing.T) {
	const w, h = 200, 150
	var c Canvas
	for name, paint := range drawings {
		ref := reference(name, paint, w, h)

		target := ebiten.NewImage(w, h)
		target.Fill(color.White)
		c.On(target)
		paint(&c)
		c.Flush()
		agree(t, name, target, ref, 0.004, 1000)
	}
}

// Letters that no longer fit beside those in use take their place, in the middle of a picture too, and no letter is too
// large.
func TestTextOfManySizes(t *testing.T) {
	const w, h = 400, 300
	paint := func(c vg.Canvas) {
		for i := range 60 {
			c.FillString(sans(100+vg.Length(i)), vg.Point{X: 5 * vg.Length(i), Y: 4 * vg.Length(i)}, "Ag%&@WQ")
		}
		c.SetColor(color.White)
		c.Fill(vg.Rectangle{Max: vg.Point{X: w, Y: h}}.Path())
		c.SetColor(color.RGBA{R: 0xd5, G: 0x5e, A: 0xff})
		c.FillString(sans(900), vg.Point{X: -300, Y: -250}, "A")
		c.SetColor(color.Black)
		c.FillString(sans(30), vg.Point{X: 20, Y: 120}, "Ag%&@WQ again")
	}
	target := ebiten.NewImage(w, h)
	target.Fill(color.White)
	var c Canvas
	c.On(target)
	paint(&c)
	c.Flush()
	agree(t, "many sizes", target, reference("text", paint, w, h), 0.006, 1000) // a stretched letter is softer
	kept := 0
	for _, f := range c.faces {
		kept += len(f.glyphs)
	}
	if kept >= 60*len("Ag%&@WQ") {
		t.Errorf("%d letters are kept: the page was never full", kept)
	}
}

// reference returns the library's picture. Text is judged by that of stills: the library kerns letters of all sizes as if
// they were 32 pixels tall.
func reference(name string, paint func(vg.Canvas), w, h int) image.Image {
	if name != "text" {
		c := vgimg.NewWith(vgimg.UseWH(vg.Length(w), vg.Length(h)), vgimg.UseDPI(72))
		paint(c)
		return c.Image()
	}
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(img, img.Rect, image.White, image.Point{}, draw.Src)
	c := raster.New(img)
	c.Scale(0.75, 0.75) // a point a pixel
	paint(c)
	return img
}

// agree compares what the window drew with the library's picture: the mean difference may be so large, and one
// pixel in so many may be far off.
func agree(t *testing.T, name string, target *ebiten.Image, ref image.Image, most float64, oneIn int) {
	t.Helper()
	w, h := target.Bounds().Dx(), target.Bounds().Dy()
	got := image.NewRGBA(image.Rect(0, 0, w, h))
	target.ReadPixels(got.Pix)

	sum, far := 0.0, 0
	for y := range h {
		for x := range w {
			d := distance(got.At(x, y), ref.At(x, y))
			sum += d
			if d > 0.5 {
				far++
			}
		}
	}
	mean := sum / float64(w*h)
	t.Logf("%-16s mean difference %.5f, %d of %d pixels far off", name, mean, far, w*h)
	if mean > most || far > w*h/oneIn {
		t.Errorf("%s: mean difference %.4f, %d of %d pixels far off", name, mean, far, w*h)
	}
	if dir := os.Getenv("PICTURES"); dir != "" {
		save(t, filepath.Join(dir, name+"-window.png"), got)
		save(t, filepath.Join(dir, name+"-image.png"), ref)
	}
}

// distance returns the largest difference of two colours in red, green and blue, from 0 to 1.
func distance(a, b color.Color) float64 {
	r, g, bl, _ := a.RGBA()
	r2, g2, b2, _ := b.RGBA()
	d := max(math.Abs(float64(r)-float64(r2)), math.Abs(float64(g)-float64(g2)), math.Abs(float64(bl)-float64(b2)))
	return d / 0xffff
}

func save(t *testing.T, file string, img image.Image) {
	f, err := os.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
}
