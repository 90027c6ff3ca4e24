package film

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/png"
	"io"
)

const pngSignature = "\x89PNG\r\n\x1a\n"

// WritePNG writes the film as an animated PNG that repeats for ever, as W3C, "Portable Network Graphics
// Specification, third edition" says. Colours are exact. A frame holds the rectangle that has changed. tell, if
// any, hears how many frames are done.
func (f *Film) WritePNG(ctx context.Context, w io.Writer, tell func(int)) ([]Cue, error) {
	header := binary.BigEndian.AppendUint32(nil, uint32(f.Size.Width))
	header = binary.BigEndian.AppendUint32(header, uint32(f.Size.Height))
	header = append(header, trueColor...)
	control := binary.BigEndian.AppendUint32(nil, uint32(f.Frames()))
	control = binary.BigEndian.AppendUint32(control, 0)
	head := appendChunk([]byte(pngSignature), "IHDR", header)
	head = appendChunk(head, "acTL", control)
	encode := func(k int, before, now *image.RGBA) ([]byte, error) { return apngFrame(k, before, now, f.Rate) }
	return f.write(ctx, w, head, encode, appendChunk(nil, "IEND", nil), tell)
}

// trueColor is the end of a header: 8 bits a sample, red, green and blue, not interlaced.
const trueColor = "\x08\x02\x00\x00\x00"

// apngFrame returns the chunks of one frame. Each has a number: the first frame's control 0, and of each that
// follows its control and its data.
func apngFrame(k int, before, now *image.RGBA, rate int) ([]byte, error) {
	r := changed(before, now)
	var file bytes.Buffer
	if err := png.Encode(&file, now.SubImage(r)); err != nil {
		return nil, err
	}
	number := uint32(max(0, 2*k-1))
	var control []byte
	for _, x := range [...]int{int(number), r.Dx(), r.Dy(), r.Min.X, r.Min.Y} {
		control = binary.BigEndian.AppendUint32(control, uint32(x))
	}
	control = binary.BigEndian.AppendUint16(control, 1)
	control = binary.BigEndian.AppendUint16(control, uint16(rate))
	control = append(control, 0, 0) // stays, and replaces what it covers
	b := appendChunk(nil, "fcTL", control)
	data, err := imageData(file.Bytes())
	if err != nil {
		return nil, err
	}
	if k == 0 {
		return appendChunk(b, "IDAT", data), nil
	}
	return appendChunk(b, "fdAT", append(binary.BigEndian.AppendUint32(nil, number+1), data...)), nil
}

// imageData returns the packed pixels in a PNG file of true colour.
func imageData(file []byte) (data []byte, err error) {
	for rest := file[len(pngSignature):]; len(rest) >= 12; {
		n := binary.BigEndian.Uint32(rest)
		body := rest[8 : 8+n]
		switch string(rest[4:8]) {
		case "IHDR":
			if string(body[8:]) != trueColor {
				return nil, errors.New("a frame of the film has holes")
			}
		case "IDAT":
			data = append(data, body...)
		}
		rest = rest[12+n:]
	}
	return data, nil
}

func appendChunk(b []byte, kind string, data []byte) []byte {
	b = binary.BigEndian.AppendUint32(b, uint32(len(data)))
	from := len(b)
	b = append(append(b, kind...), data...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[from:]))
}
