package raster

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"math"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/font/liberation"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
)

// px is a pixel's length on the canvas.
const px = vg.Length(72.0 / dpi)

func blank(w, h int) *Canvas {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(img, img.Rect, image.White, image.Point{}, draw.Src)
	return New(img)
}

// ink returns how many pixels of black there are.
func ink(c *Canvas) float64 {
	sum := 0.0
	for i := 0; i < len(c.img.Pix); i += 4 {
		sum += 1 - float64(c.img.Pix[i])/255
	}
	return sum
}

func ring(x, y, r vg.Length) (p vg.Path) {
	p.Move(vg.Point{X: x + r, Y: y})
	p.Arc(vg.Point{X: x, Y: y}, r, 0, 2*math.Pi)
	p.Close()
	return p
}

func bent(pts ...vg.Length) (p vg.Path) {
	p.Move(vg.Point{X: pts[0], Y: pts[1]})
	for i := 2; i < len(pts); i += 2 {
		p.Line(vg.Point{X: pts[i], Y: pts[i+1]})
	}
	return p
}

// Ink is area: of a polygon, a circle, a line of a width, and of a corner, whose outside is rounded.
func TestInkIsArea(t *testing.T) {
	const half = 4.0
	for _, tt := range []struct {
		name string
		draw func(c *Canvas)
		want float64
		rel  float64
	}{
		{"rectangle", func(c *Canvas) {
			c.Fill(vg.Rectangle{Min: vg.Point{X: 10.25 * px, Y: 20.5 * px}, Max: vg.Point{X: 50 * px, Y: 30 * px}}.Path())
		}, 39.75 * 9.5, 2e-3},
		{"circle", func(c *Canvas) { c.Fill(ring(100*px, 100*px, 60*px)) }, math.Pi * 60 * 60, 3e-3},
		{"line", func(c *Canvas) { c.SetLineWidth(2 * half * px); c.Stroke(bent(20*px, 20*px, 140*px, 110*px)) }, 150 * 2 * half, 2e-3},
		{"hairline", func(c *Canvas) { c.SetLineWidth(0.5 * px); c.Stroke(bent(20*px, 20*px, 140*px, 110*px)) }, 150 * 0.5, 0.02},
		{"corner", func(c *Canvas) {
			c.SetLineWidth(2 * half * px)
			c.Stroke(bent(20*px, 150*px, 20*px, 50*px, 120*px, 50*px))
		}, 200*2*half - half*half + math.Pi/4*half*half, 2e-3},
		{"the other corner", func(c *Canvas) {
			c.SetLineWidth(2 * half * px)
			c.Stroke(bent(120*px, 50*px, 20*px, 50*px, 20*px, 150*px))
		}, 200*2*half - half*half + math.Pi/4*half*half, 2e-3},
		{"ring", func(c *Canvas) { c.SetLineWidth(2 * half * px); c.Stroke(ring(100*px, 100*px, 60*px)) }, 2 * math.Pi * 60 * 2 * half, 2e-3},
		{"dashes", func(c *Canvas) {
			c.SetLineWidth(2 * half * px)
			c.SetLineDash([]vg.Length{6 * px, 4 * px}, 0)
			c.Stroke(bent(20*px, 50*px, 120*px, 50*px))
		}, 60 * 2 * half, 2e-3},
		{"turned and enlarged", func(c *Canvas) {
			c.Translate(vg.Point{X: 100 * px, Y: 100 * px})
			c.Rotate(0.5)
			c.Scale(2, 2)
			c.SetLineWidth(half * px)
			c.Stroke(bent(0, 0, 30*px, 0))
		}, 60 * 2 * half, 2e-3},
		{"past the edges", func(c *Canvas) { c.Fill(ring(0, 0, 60*px)) }, math.Pi / 4 * 60 * 60, 4e-3},
		{"outside", func(c *Canvas) { c.Fill(ring(-1000*px, 0, 60*px)); c.Fill(ring(100*px, 1e12, 60*px)) }, 0, 0},
	} {
		c := blank(200, 200)
		tt.draw(c)
		if got := ink(c); !scalar.EqualWithinAbsOrRel(got, tt.want, 1e-9, tt.rel) {
			t.Errorf("%s: %.2f pixels of ink, want %.2f", tt.name, got, tt.want)
		}
	}
}

// What is half seen through is what the standard library makes of it.
func TestBlendIsOver(t *testing.T) {
	for _, ground := range []color.Color{color.White, color.NRGBA{R: 200, G: 30, B: 90, A: 120}, color.Transparent} {
		for _, ink := range []color.NRGBA{{10, 200, 90, 255}, {250, 20, 0, 130}} {
			img := image.NewRGBA(image.Rect(0, 0, 8, 8))
			draw.Draw(img, img.Rect, image.NewUniform(ground), image.Point{}, draw.Src)
			want := image.NewRGBA(img.Rect)
			copy(want.Pix, img.Pix)
			c := New(img)
			c.SetColor(ink)
			c.Fill(vg.Rectangle{Min: vg.Point{X: 2 * px, Y: 2 * px}, Max: vg.Point{X: 6 * px, Y: 5.5 * px}}.Path())
			draw.DrawMask(want, image.Rect(2, 3, 6, 6), image.NewUniform(ink), image.Point{}, image.NewUniform(color.Alpha{A: 255}), image.Point{}, draw.Over)
			draw.DrawMask(want, image.Rect(2, 2, 6, 3), image.NewUniform(ink), image.Point{}, image.NewUniform(color.Alpha{A: 128}), image.Point{}, draw.Over)
			for i := range want.Pix {
				if d := int(img.Pix[i]) - int(want.Pix[i]); d > 1 || d < -1 {
					t.Fatalf("%v on %v: sample %d is %d, want %d", ink, ground, i, img.Pix[i], want.Pix[i])
				}
			}
		}
	}
}

// The plotting library's own canvas draws the same shapes, with other means.
func TestAgreesWithPlottingLibrary(t *testing.T) {
	paint := func(c vg.Canvas) {
		c.SetColor(color.White)
		c.Fill(vg.Rectangle{Max: vg.Point{X: 200 * px, Y: 200 * px}}.Path())
		c.SetColor(color.NRGBA{R: 200, G: 100, A: 255})
		c.Fill(ring(60*px, 60*px, 30.3*px))
		c.SetColor(color.NRGBA{B: 200, A: 128})
		hole := append(ring(120*px, 120*px, 50*px), bent(80*px, 120*px, 120*px, 160*px, 160*px, 120*px)...)
		hole.Close()
		c.Fill(hole)
		c.SetColor(color.Black)
		c.SetLineWidth(3.3 * px)
		zigzag := bent(10*px, 10*px)
		for k := range 60 {
			zigzag.Line(vg.Point{X: vg.Length(10+3*k) * px, Y: vg.Length(20+k%7*9) * px})
		}
		c.Stroke(zigzag)
		c.SetLineWidth(1 * px)
		var curve vg.Path
		curve.Move(vg.Point{X: 20 * px, Y: 180 * px})
		curve.CubeTo(vg.Point{X: 60 * px, Y: 90 * px}, vg.Point{X: 120 * px, Y: 220 * px}, vg.Point{X: 190 * px, Y: 130 * px})
		c.Stroke(curve)
	}
	ours := blank(200, 200)
	paint(ours)
	theirs := vgimg.NewWith(vgimg.UseWH(200*px, 200*px), vgimg.UseDPI(dpi))
	paint(theirs)
	far := 0
	for y := range 200 {
		for x := range 200 {
			a, b := ours.img.RGBAAt(x, y), color.RGBAModel.Convert(theirs.Image().At(x, y)).(color.RGBA)
			if d := max(int(a.R)-int(b.R), int(b.R)-int(a.R), int(a.B)-int(b.B), int(b.B)-int(a.B)); d > 90 {
				t.Errorf("at %d, %d: %v, theirs %v", x, y, a, b)
			} else if d > 20 {
				far++
			}
		}
	}
	if far > 200 { // insides of corners, which they soften otherwise
		t.Errorf("%d of 40000 pixels differ by more than 20 of 255", far)
	}
}

// Letters stand where the typeface says that they do, and carry as much ink at every size.
func TestText(t *testing.T) {
	f := font.NewCache(liberation.Collection()).Lookup(font.Font{Typeface: "Liberation", Variant: "Sans"}, 40*px)
	c := blank(400, 100)
	c.FillString(f, vg.Point{X: 20 * px, Y: 30 * px}, "HH 111")
	left, right, top, bottom := 400, 0, 100, 0
	for y := range 100 {
		for x := range 400 {
			if c.img.RGBAAt(x, y).R < 128 {
				left, right, top, bottom = min(left, x), max(right, x), min(top, y), max(bottom, y)
			}
		}
	}
	// Capitals of Liberation Sans are 1409 of 2048 units tall; H begins 168 units right of its origin.
	if want := 70 - 40*1409.0/2048; bottom != 69 || math.Abs(float64(top)-want) > 1 {
		t.Errorf("capitals run from %d to %d, want %.1f to 69", top, bottom, want)
	}
	if want := 20 + 40*168.0/2048; math.Abs(float64(left)-want) > 1 {
		t.Errorf("the first letter begins at %d, want %.1f", left, want)
	}
	if end := 20 + float64(f.Width("HH 111")/px); float64(right) > end || float64(right) < end-8 {
		t.Errorf("the text ends at %d, its width says %.1f", right, end)
	}
	large := ink(c)
	f.Font.Size /= 4
	c = blank(400, 100)
	c.FillString(f, vg.Point{X: 20 * px, Y: 30 * px}, "HH 111")
	if small := ink(c); !scalar.EqualWithinRel(small*16, large, 0.03) {
		t.Errorf("a quarter as large it has %.1f pixels of ink, want a sixteenth of %.1f", small, large)
	}
}

// A canvas that has drawn before draws the same.
func TestKeptCanvasDrawsTheSame(t *testing.T) {
	c := blank(100, 100)
	c.Scale(3, 3)
	c.SetLineDash([]vg.Length{px, px}, 0)
	c.SetColor(color.NRGBA{R: 9, A: 9})
	c.Push()
	c.Fill(ring(50*px, 50*px, 20*px))
	for k := range 2 {
		img := image.NewRGBA(image.Rect(0, 0, 100, 100))
		if c.On(img); k == 1 {
			c = New(img)
		}
		c.Stroke(bent(10*px, 10*px, 90*px, 50*px))
		if k == 0 {
			defer func(first []uint8) {
				if !bytes.Equal(first, img.Pix) {
					t.Error("a new canvas draws otherwise")
				}
			}(img.Pix)
		}
	}
}

func TestDrawImage(t *testing.T) {
	c := blank(20, 20)
	img := image.NewRGBA(image.Rect(0, 0, 2, 1))
	img.SetRGBA(0, 0, color.RGBA{R: 255, A: 255})
	img.SetRGBA(1, 0, color.RGBA{B: 255, A: 255})
	c.DrawImage(vg.Rectangle{Min: vg.Point{X: 4 * px, Y: 10 * px}, Max: vg.Point{X: 12 * px, Y: 16 * px}}, img)
	for _, tt := range []struct {
		x, y int
		want color.RGBA
	}{{4, 4, color.RGBA{255, 0, 0, 255}}, {7, 9, color.RGBA{255, 0, 0, 255}}, {8, 5, color.RGBA{0, 0, 255, 255}}, {12, 5, color.RGBA{255, 255, 255, 255}}, {5, 10, color.RGBA{255, 255, 255, 255}}} {
		if got := c.img.RGBAAt(tt.x, tt.y); got != tt.want {
			t.Errorf("at %d, %d: %v, want %v", tt.x, tt.y, got, tt.want)
		}
	}
}

// A waveform of two thousand points, as the stage has a dozen of.
func BenchmarkStroke(b *testing.B) {
	c := blank(1920, 200)
	c.SetLineWidth(2 * px)
	wave := bent(0, 100*px)
	for k := range 2000 {
		wave.Line(vg.Point{X: vg.Length(k) * 0.9 * px, Y: vg.Length(100+80*math.Sin(float64(k)/50)) * px})
	}
	b.ReportAllocs()
	for b.Loop() {
		c.Stroke(wave)
	}
}
