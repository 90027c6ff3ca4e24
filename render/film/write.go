package film

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/png"
	"io"
	"os"
	"path/filepath"
)

// each hands all pieces in order to take, and returns what the film says.
func (f *Film) each(ctx context.Context, encode func(int, *image.RGBA, *image.RGBA) ([]byte, error), take func(k int, bytes []byte) error, tell func(int)) ([]Cue, error) {
	if err := f.Validate(); err != nil {
		return nil, err
	}
	c := captions{rate: f.Rate}
	k := 0
	for p := range f.pieces(ctx, encode) {
		if p.err != nil {
			return nil, p.err
		}
		if err := take(k, p.bytes); err != nil {
			return nil, err
		}
		c.say(k, p.says)
		k++
		if tell != nil {
			tell(k)
		}
	}
	return c.end(k), nil
}

// write writes a file's head, its frames and its foot.
func (f *Film) write(ctx context.Context, w io.Writer, head []byte, encode func(int, *image.RGBA, *image.RGBA) ([]byte, error), foot []byte, tell func(int)) ([]Cue, error) {
	if _, err := w.Write(head); err != nil {
		return nil, err
	}
	cues, err := f.each(ctx, encode, func(_ int, b []byte) error { _, err := w.Write(b); return err }, tell)
	if err == nil {
		_, err = w.Write(foot)
	}
	return cues, err
}

// writeRaw writes the frames one after the other, 4 bytes a pixel: red, green, blue, opacity.
func (f *Film) writeRaw(ctx context.Context, w io.Writer, tell func(int)) ([]Cue, error) {
	return f.write(ctx, w, nil, func(_ int, _, now *image.RGBA) ([]byte, error) { return now.Pix, nil }, nil, tell)
}

// WriteFrames writes the frames as PNG files, 00001.png and on, into a folder that is there.
func (f *Film) WriteFrames(ctx context.Context, dir string, tell func(int)) ([]Cue, error) {
	encode := func(_ int, _, now *image.RGBA) ([]byte, error) {
		var b bytes.Buffer
		err := png.Encode(&b, now)
		return b.Bytes(), err
	}
	return f.each(ctx, encode, func(k int, b []byte) error {
		return os.WriteFile(filepath.Join(dir, fmt.Sprintf("%05d.png", k+1)), b, 0o644)
	}, tell)
}
