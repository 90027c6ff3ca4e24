package film

import (
	"context"
	"image"
	"iter"
	"runtime"
	"sync"

	"sextant/render"
	"sextant/render/picture/raster"
)

// A frame is a picture of the film with what it says, or why there is none.
type frame struct {
	picture *image.RGBA
	says    string
	err     error
}

// painter returns what draws shots; several may be drawn at once.
func painter() func(shot) frame {
	canvases := sync.Pool{New: func() any { return raster.New(image.NewRGBA(image.Rectangle{})) }}
	return func(s shot) frame {
		if s.err != nil {
			return frame{err: s.err}
		}
		c := canvases.Get().(*raster.Canvas)
		defer canvases.Put(c)
		f := frame{picture: s.picture(c), says: s.says}
		if f.says == "" {
			f.says = render.Sentence(&s.view.Now, s.view.Scenario)
		}
		return f
	}
}

// A pair is a frame's number, its picture and the one before it, which the first has not.
type pair struct {
	k           int
	before, now *image.RGBA
	says        string
	err         error
}

// A piece is what a file holds of a frame.
type piece struct {
	bytes []byte
	says  string
	err   error
}

// pieces draws the film on all cores and yields what encode makes of the frames, in order, until ctx ends.
func (f *Film) pieces(ctx context.Context, encode func(k int, before, now *image.RGBA) ([]byte, error)) iter.Seq[piece] {
	cores := runtime.GOMAXPROCS(0)
	pairs := func(yield func(pair) bool) {
		p := pair{}
		for frame := range ordered(cores, f.shots(), painter()) {
			p.now, p.says, p.err = frame.picture, frame.says, frame.err
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
		return piece{bytes, p.says, err}
	})
}

// changed returns the least rectangle that holds all pixels in which two pictures differ: one pixel where none
// does, and all where there is none before.
func changed(before, now *image.RGBA) image.Rectangle {
	if before == nil {
		return now.Rect
	}
	r := image.Rectangle{}
	if before == now {
		return image.Rect(0, 0, 1, 1)
	}
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
