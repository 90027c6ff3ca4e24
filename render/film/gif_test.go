package film

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/gif"
	"testing"

	"sextant/render"
)

func TestGIFReadsBack(t *testing.T) {
	f := demo(t, "trainer-six-step")
	var b, again bytes.Buffer
	told := 0
	if _, err := f.WriteGIF(t.Context(), &b, func(k int) { told = k }); err != nil {
		t.Fatal(err)
	}
	if _, err := f.WriteGIF(t.Context(), &again, nil); err != nil || !bytes.Equal(b.Bytes(), again.Bytes()) {
		t.Errorf("the same film twice is not the same file (%v)", err)
	}
	g, err := gif.DecodeAll(&b)
	if err != nil {
		t.Fatal(err)
	}
	if len(g.Image) != demoFrames || told != demoFrames || g.LoopCount != 0 || g.Config.Width != 480 || g.Config.Height != 270 {
		t.Errorf("%d frames, told of %d, loops %d, %dx%d", len(g.Image), told, g.LoopCount, g.Config.Width, g.Config.Height)
	}
	sum := 0
	for _, d := range g.Delay {
		sum += d
		if d != 6 && d != 7 {
			t.Errorf("a frame of 1/15 s is shown for %d/100 s", d)
		}
	}
	if sum != 73 { // 11/15 s
		t.Errorf("the film takes %d/100 s", sum)
	}
	// Laid over each other, the frames show what was drawn, as far as 255 colours can.
	frames := raw(t, f)
	seen := image.NewRGBA(image.Rect(0, 0, 480, 270))
	for k, p := range g.Image {
		draw.Draw(seen, p.Rect, p, p.Rect.Min, draw.Over)
		far := 0
		for i := range seen.Pix {
			if d := int(seen.Pix[i]) - int(frames[k][i]); d > 40 || d < -40 {
				far++
			}
		}
		if far > len(seen.Pix)/100 { // shades between two inks that neither surface has
			t.Errorf("frame %d: %d of %d samples are far from what was drawn", k, far, len(seen.Pix))
		}
	}
	if same := bytes.Equal(frames[0], frames[5]); same {
		t.Error("nothing moves")
	}
}

func TestPaletteKeepsInks(t *testing.T) {
	for _, theme := range render.Themes {
		p := newPalette(theme)
		if len(p.colors) != 256 {
			t.Fatalf("%v: %d colours", theme, len(p.colors))
		}
		for _, ink := range theme.Inks() {
			c := opaque(ink)
			got := p.colors[p.nearest[cell(c.R, c.G, c.B)]].(color.RGBA)
			if d := max(int(got.R)-int(c.R), int(got.G)-int(c.G), int(got.B)-int(c.B), int(c.R)-int(got.R), int(c.G)-int(got.G), int(c.B)-int(got.B)); d > 3 {
				t.Errorf("%v: %v becomes %v", theme, c, got)
			}
		}
		if g := opaque(theme.Ground()); p.colors[p.nearest[cell(g.R, g.G, g.B)]] != g {
			t.Errorf("%v: the ground is not exact", theme)
		}
	}
}

func TestChanged(t *testing.T) {
	a, b := image.NewRGBA(image.Rect(0, 0, 9, 7)), image.NewRGBA(image.Rect(0, 0, 9, 7))
	if r := changed(nil, b); r != b.Rect {
		t.Errorf("the first: %v", r)
	}
	if r := changed(a, b); r.Dx() != 1 || r.Dy() != 1 {
		t.Errorf("the same: %v", r)
	}
	b.Pix[b.PixOffset(2, 5)+1], b.Pix[b.PixOffset(8, 3)+2] = 1, 1
	if r, want := changed(a, b), image.Rect(2, 3, 9, 6); r != want {
		t.Errorf("%v, want %v", r, want)
	}
}
