package film

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/draw"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"sextant/motor/scenario"
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
