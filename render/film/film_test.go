package film

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"image"
	"image/color"
	"image/draw"
	"image/gif"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"sextant/motor/scenario"
	"sextant/render"
	"sextant/render/picture"
)

func demo(t testing.TB, name string) *Film {
	t.Helper()
	s, err := scenario.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	from := s.Run.Settle
	return &Film{
		Scenario: &s, From: from, To: from + picture.Turn(&s), Duration: 0.7, Rate: 15,
		Size: picture.Size{Width: 480, Height: 270},
	}
}

const demoFrames = 11 // 0.7 s at 15 a second are 10.5

// raw returns the frames' pixels.
func raw(t *testing.T, f *Film) [][]byte {
	t.Helper()
	var b bytes.Buffer
	if _, err := f.writeRaw(t.Context(), &b, nil); err != nil {
		t.Fatal(err)
	}
	return slices.Collect(slices.Chunk(b.Bytes(), 4*f.Size.Width*f.Size.Height))
}

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

func TestFramesShowTheirTimes(t *testing.T) {
	f := demo(t, "hauler-pwm")
	k := 0
	for s := range f.shots() {
		if s.err != nil {
			t.Fatal(s.err)
		}
		want := f.From + (f.To-f.From)*float64(k)/demoFrames
		first, last := s.view.Tape[0].Time, s.view.Tape[len(s.view.Tape)-1].Time
		if now := s.view.Now.Time; now < want-1e-12 || now > want+1e-12 || first > max(0, now-s.view.Span) || last < now {
			t.Errorf("frame %d shows %g s, want %g; its tape runs from %g to %g", k, now, want, first, last)
		}
		k++
	}
	if k != demoFrames {
		t.Errorf("%d frames, want %d", k, demoFrames)
	}
}

// A frame is the still picture of its time; it says besides how much time is slowed down, as the still is told to here.
func TestFirstFrameIsTheStill(t *testing.T) {
	f := demo(t, "trainer-six-step")
	v, err := picture.At(*f.Scenario, f.From)
	if err != nil {
		t.Fatal(err)
	}
	v.Playing, v.TimeScale = true, (f.To-f.From)/f.Duration
	var b bytes.Buffer
	if err := (&picture.Look{Size: f.Size}).Write(&b, picture.PNG, v); err != nil {
		t.Fatal(err)
	}
	still, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	want := image.NewRGBA(still.Bounds())
	draw.Draw(want, want.Rect, still, image.Point{}, draw.Src)
	if !bytes.Equal(raw(t, f)[0], want.Pix) {
		t.Error("the film's first frame is not the still picture of that time")
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

func TestOrderedKeepsOrder(t *testing.T) {
	in := func(yield func(int) bool) {
		for k := range 200 {
			if !yield(k) {
				return
			}
		}
	}
	k := 0
	for x := range ordered(4, in, func(a int) int { time.Sleep(time.Duration(a*7%5) * 100 * time.Microsecond); return a }) {
		if x != k {
			t.Fatalf("%d came where %d was due", x, k)
		}
		if k++; k == 150 {
			break
		}
	}
}

func TestStoppedFilmFails(t *testing.T) {
	f := demo(t, "trainer-six-step")
	f.Duration = 4000
	ctx, cancel := context.WithCancel(t.Context())
	_, err := f.writeRaw(ctx, io.Discard, func(k int) {
		if k == 3 {
			cancel()
		}
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("ended with %v", err)
	}
}

func TestWhatCannotBeFilmed(t *testing.T) {
	for _, tt := range []struct {
		spoil func(*Film)
		says  string
	}{
		{func(f *Film) { f.Rate = 0 }, "frames a second"},
		{func(f *Film) { f.Rate = MostRate + 1 }, "frames a second"},
		{func(f *Film) { f.Duration = 0 }, "at 15 a second"},
		{func(f *Film) { f.Duration = 1e9 }, "at 15 a second"},
		{func(f *Film) { f.To = f.From }, "ends later"},
		{func(f *Film) { f.From = -1 }, "starts at 0"},
		{func(f *Film) { f.To = 1e9 }, "out of reach"},
	} {
		f := demo(t, "hauler-pwm")
		tt.spoil(f)
		if err := f.Validate(); err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%v, which does not say %q", err, tt.says)
		}
	}
}

func TestFramesInFolder(t *testing.T) {
	f, dir := demo(t, "trainer-six-step"), t.TempDir()
	if _, err := f.WriteFrames(t.Context(), dir, nil); err != nil {
		t.Fatal(err)
	}
	names, err := filepath.Glob(filepath.Join(dir, "*"))
	if err != nil || len(names) != demoFrames || filepath.Base(names[demoFrames-1]) != "00011.png" {
		t.Fatalf("%v, %v", names, err)
	}
	data, err := os.ReadFile(names[4])
	if err != nil {
		t.Fatal(err)
	}
	p, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	back := image.NewRGBA(p.Bounds())
	draw.Draw(back, back.Rect, p, image.Point{}, draw.Src)
	if !bytes.Equal(back.Pix, raw(t, f)[4]) {
		t.Error("the file's picture is not the frame")
	}
}

func TestCaptions(t *testing.T) {
	c := captions{rate: 10}
	for k := range 60 {
		c.say(k, []string{"a < b", "a < b", "c & d"}[k/20])
	}
	c.say(60, "too soon")
	cues := c.end(61)
	var b strings.Builder
	if err := WriteVTT(&b, cues); err != nil {
		t.Fatal(err)
	}
	const want = "WEBVTT\n\n00:00:00.000 --> 00:00:04.000\na &lt; b\n\n00:00:04.000 --> 00:00:06.000\nc &amp; d\n\n00:00:06.000 --> 00:00:06.100\ntoo soon\n"
	if b.String() != want {
		t.Errorf("got\n%s", b.String())
	}
	if s := stamp(3723*time.Second + 4*time.Millisecond); s != "01:02:03.004" {
		t.Errorf("01:02:03.004 is written %s", s)
	}
}

func BenchmarkFilm(b *testing.B) {
	for _, size := range []picture.Size{{Width: 1280, Height: 720}, {Width: 1920, Height: 1080}} {
		b.Run(size.String(), func(b *testing.B) {
			f := demo(b, "hauler-pwm")
			f.Size, f.Rate, f.Duration = size, 60, 0.5
			b.ReportAllocs()
			for b.Loop() {
				if _, err := f.writeRaw(b.Context(), io.Discard, nil); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(f.Frames()*b.N)/b.Elapsed().Seconds(), "frames/s")
		})
	}
}
