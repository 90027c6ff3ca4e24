package film

import (
	"context"
	"image"
	"iter"
	"runtime"
	"slices"
	"sync"

	"gonum.org/v1/plot/vg"

	"sextant/render"
	"sextant/render/picture/raster"
)

// A frame is a picture of the film with what it says, or why there is none.
type frame struct {
	picture  *image.RGBA
	sentence string
	err      error
}

// An easel draws frames; several may be drawn at once.
type easel struct {
	layout   render.Layout
	still    *image.RGBA // what does not move, drawn once
	canvases sync.Pool
}

func (f *Film) easel() *easel {
	const point = 72.0 / 96
	w, h := vg.Length(f.Size.Width)*point, vg.Length(f.Size.Height)*point
	e := &easel{
		layout: render.ArrangeFor(f.Focus, vg.Rectangle{Max: vg.Point{X: w, Y: h}}, 1),
		still:  raster.Image(w, h),
	}
	c := raster.New(e.still)
	e.canvases.Put(c)
	render.DrawStill(c, e.layout, &render.View{Scenario: f.Scenario, Theme: f.Theme, Numbering: f.Numbering})
	return e
}

func (e *easel) draw(s shot) frame {
	if s.err != nil {
		return frame{err: s.err}
	}
	p := &image.RGBA{Pix: slices.Clone(e.still.Pix), Stride: e.still.Stride, Rect: e.still.Rect}
	c, ok := e.canvases.Get().(*raster.Canvas)
	if ok {
		c.On(p)
	} else {
		c = raster.New(p)
	}
	defer e.canvases.Put(c)
	render.DrawMoving(c, e.layout, s.view)
	return frame{picture: p, sentence: render.Sentence(&s.view.Now, s.view.Scenario)}
}

// A pair is a frame's number, its picture and the one before it, which the first has not.
type pair struct {
	k           int
	before, now *image.RGBA
	sentence    string
	err         error
}

// A piece is what a file holds of a frame.
type piece struct {
	bytes    []byte
	sentence string
	err      error
}

// pieces draws the film on all cores and yields what encode makes of the frames, in order, until ctx ends.
func (f *Film) pieces(ctx context.Context, encode func(k int, before, now *image.RGBA) ([]byte, error)) iter.Seq[piece] {
	cores := runtime.GOMAXPROCS(0)
	pairs := func(yield func(pair) bool) {
		p := pair{}
		for frame := range ordered(cores, f.shots(), f.easel().draw) {
			p.now, p.sentence, p.err = frame.picture, frame.sentence, frame.err
			if p.err == nil {
				p.err = ctx.Err()
			}
			if !yield(p) || p.err != nil {
				return
			}
			p.k++
			p.before = p.now
		}
	}
	return ordered(cores, pairs, func(p pair) piece {
		if p.err != nil {
			return piece{err: p.err}
		}
		bytes, err := encode(p.k, p.before, p.now)
		return piece{bytes, p.sentence, err}
	})
}

// changed returns the least rectangle that holds all pixels in which two pictures differ: one pixel where none
// does, and all where there is none before.
func changed(before, now *image.RGBA) image.Rectangle {
	if before == nil {
		return now.Rect
	}
	r := image.Rectangle{}
	for y := now.Rect.Min.Y; y < now.Rect.Max.Y; y++ {
		i := now.PixOffset(now.Rect.Min.X, y)
		a, b := before.Pix[i:i+4*now.Rect.Dx()], now.Pix[i:i+4*now.Rect.Dx()]
		left := 0
		for left < len(a) && a[left] == b[left] {
			left++
		}
		if left == len(a) {
			continue
		}
		right := len(a) - 1
		for a[right] == b[right] {
			right--
		}
		r = r.Union(image.Rect(left/4, y, right/4+1, y+1))
	}
	if r.Empty() {
		return image.Rect(0, 0, 1, 1)
	}
	return r
}
