package film

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/draw"
	"image/png"
	"slices"
	"testing"
)

// unpackAPNG returns an animated PNG's frames, each laid over the one before, and their delays as fractions of a second.
func unpackAPNG(t *testing.T, file []byte) (frames []*image.RGBA, delays [][2]int) {
	t.Helper()
	var header, control, data []byte
	next := uint32(0)
	number := func(b []byte) {
		if n := binary.BigEndian.Uint32(b); n != next {
			t.Fatalf("chunk number %d, want %d", n, next)
		}
		next++
	}
	flush := func() {
		if data == nil {
			return
		}
		at := func(i int) int { return int(binary.BigEndian.Uint32(control[i:])) }
		h := slices.Concat(control[4:12], header[8:])
		one := appendChunk([]byte(pngSignature), "IHDR", h)
		one = appendChunk(appendChunk(one, "IDAT", data), "IEND", nil)
		part, err := png.Decode(bytes.NewReader(one))
		if err != nil {
			t.Fatal(err)
		}
		all := image.NewRGBA(image.Rect(0, 0, int(binary.BigEndian.Uint32(header)), int(binary.BigEndian.Uint32(header[4:]))))
		if len(frames) > 0 {
			copy(all.Pix, frames[len(frames)-1].Pix)
		}
		draw.Draw(all, image.Rect(at(12), at(16), at(12)+at(4), at(16)+at(8)), part, image.Point{}, draw.Src)
		frames = append(frames, all)
		delays = append(delays, [2]int{int(binary.BigEndian.Uint16(control[20:])), int(binary.BigEndian.Uint16(control[22:]))})
		data = nil
	}
	for rest := file[8:]; len(rest) > 0; {
		n := binary.BigEndian.Uint32(rest)
		body := rest[8 : 8+n]
		switch string(rest[4:8]) {
		case "IHDR":
			header = body
		case "acTL":
			if n := binary.BigEndian.Uint32(body); n != demoFrames {
				t.Errorf("the file says %d frames", n)
			}
		case "fcTL":
			flush()
			number(body)
			control = body
		case "IDAT":
			data = append(data, body...)
		case "fdAT":
			number(body)
			data = append(data, body[4:]...)
		case "IEND":
			flush()
		}
		rest = rest[12+n:]
	}
	return frames, delays
}

func TestAnimatedPNGIsExact(t *testing.T) {
	f := demo(t, "hauler-pwm")
	var b bytes.Buffer
	if _, err := f.WritePNG(t.Context(), &b, nil); err != nil {
		t.Fatal(err)
	}
	if _, err := png.Decode(bytes.NewReader(b.Bytes())); err != nil {
		t.Errorf("viewers of still pictures cannot show it: %v", err)
	}
	got, delays := unpackAPNG(t, b.Bytes())
	want := raw(t, f)
	if len(got) != demoFrames || len(want) != demoFrames {
		t.Fatalf("%d frames, want %d of %d", len(got), len(want), demoFrames)
	}
	for k := range got {
		if !bytes.Equal(got[k].Pix, want[k]) {
			t.Errorf("frame %d is not what was drawn", k)
		}
		if delays[k] != [2]int{1, 15} {
			t.Errorf("frame %d is shown for %v s", k, delays[k])
		}
	}
}
