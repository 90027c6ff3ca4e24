package film

import (
	"bytes"
	"compress/lzw"
	"context"
	"encoding/binary"
	"fmt"
	"image"
	"image/color"
	"io"
	"math"
)

// MostGIFRate is the most frames a second of a GIF: viewers slow down shorter delays.
const MostGIFRate = 50

// WriteGIF writes the film as a GIF that repeats for ever, frame by frame, as CompuServe, "Graphics Interchange
// Format, version 89a" (1990) says. A frame holds only what has changed. tell, if any, hears how many frames are
// done.
func (f *Film) WriteGIF(ctx context.Context, w io.Writer, tell func(int)) ([]Cue, error) {
	if f.Rate > MostGIFRate {
		return nil, fmt.Errorf("a GIF has at most %d frames a second, not %d", MostGIFRate, f.Rate)
	}
	p := newPalette(f.Theme)
	head := []byte("GIF89a")
	head = binary.LittleEndian.AppendUint16(head, uint16(f.Size.Width))
	head = binary.LittleEndian.AppendUint16(head, uint16(f.Size.Height))
	head = append(head, 0xF7, 0, 0) // 256 colours for all frames
	for _, c := range p.colors {
		k := c.(color.RGBA)
		head = append(head, k.R, k.G, k.B)
	}
	if f.Frames() > 1 {
		head = append(head, "\x21\xFF\x0BNETSCAPE2.0\x03\x01\x00\x00\x00"...) // repeats
	}
	encode := func(k int, before, now *image.RGBA) ([]byte, error) {
		return p.frame(before, now, f.hundredths(k+1)-f.hundredths(k))
	}
	return f.write(ctx, w, head, encode, []byte{0x3B}, tell)
}

// hundredths returns when a frame begins, in hundredths of a second; rounding does not add up.
func (f *Film) hundredths(k int) int { return int(math.Round(float64(k) * 100 / float64(f.Rate))) }

// frame returns the blocks of one frame, shown for a delay in hundredths of a second.
func (p *palette) frame(before, now *image.RGBA, delay int) ([]byte, error) {
	r := changed(before, now)
	b := []byte{0x21, 0xF9, 4, 1<<2 | 1, byte(delay), byte(delay >> 8), transparent, 0, 0x2C}
	for _, x := range [...]int{r.Min.X, r.Min.Y, r.Dx(), r.Dy()} {
		b = binary.LittleEndian.AppendUint16(b, uint16(x))
	}
	b = append(b, 0, 8)
	var packed bytes.Buffer
	z := lzw.NewWriter(&packed, lzw.LSB, 8)
	if _, err := z.Write(p.indices(before, now, r)); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	for packed.Len() > 0 {
		block := packed.Next(255)
		b = append(append(b, byte(len(block))), block...)
	}
	return append(b, 0), nil
}
