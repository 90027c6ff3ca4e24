package picture

import (
	"bytes"
	"errors"
	"image/png"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"

	"sextant/inverter/pattern"
	"sextant/motor"
	"sextant/motor/drive"
)

func coils() drive.Scenario {
	return drive.Scenario{
		Title:   "Six-step into three coils",
		Supply:  drive.Supply{Voltage: 48},
		Gating:  drive.Gating{Settings: pattern.Settings{Kind: pattern.SixStep180, Frequency: 50}},
		Machine: motor.Machine{Kind: motor.Passive, Resistance: 2, InductanceD: 0.01, InductanceQ: 0.01},
		Run:     drive.Window{Measure: 0.02},
	}
}

func TestAtShowsTheTimeAskedFor(t *testing.T) {
	for _, at := range []float64{0, 1e-6, 0.0123, 0.1} {
		v, err := At(coils(), at)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(v.Now.Time-at) > 1e-12 {
			t.Errorf("asked for %g s, shows %g", at, v.Now.Time)
		}
		if len(v.Tape) == 0 {
			t.Fatalf("at %g s the tape is empty", at)
		}
		first, last := v.Tape[0].Time, v.Tape[len(v.Tape)-1].Time
		if first > max(0, at-v.Span) || last < at {
			t.Errorf("at %g s the tape runs from %g to %g, its span is %g", at, first, last, v.Span)
		}
		for i := 1; i < len(v.Tape); i++ {
			if v.Tape[i].Time < v.Tape[i-1].Time {
				t.Errorf("at %g s the tape runs backwards at %d", at, i)
			}
		}
	}
}

func TestAtRefusesWhatIsOutOfReach(t *testing.T) {
	for _, at := range []float64{-1, math.NaN(), math.Inf(1), 1e9} {
		if _, err := At(coils(), at); !errors.Is(err, ErrTooLate) {
			t.Errorf("%g s: %v", at, err)
		}
	}
}

func TestWrite(t *testing.T) {
	v, err := At(coils(), 0.05)
	if err != nil {
		t.Fatal(err)
	}
	size := Size{640, 360}
	look := Look{Size: size}
	files := map[Format]string{}
	for _, f := range []Format{PNG, SVG, PDF} {
		var b, again bytes.Buffer
		if err := look.Write(&b, f, v); err != nil {
			t.Fatal(f, err)
		}
		if err := look.Write(&again, f, v); err != nil || !bytes.Equal(b.Bytes(), again.Bytes()) {
			t.Errorf("%v: the same picture twice is not the same file (%v)", f, err)
		}
		files[f] = b.String()
	}
	img, err := png.Decode(strings.NewReader(files[PNG]))
	if err != nil {
		t.Fatal(err)
	}
	if s := img.Bounds().Size(); s.X != size.Width || s.Y != size.Height {
		t.Errorf("the PNG is %v", s)
	}
	for _, want := range []string{">Six-step into three coils<", "are on", "base64"} {
		if !strings.Contains(files[SVG], want) {
			t.Errorf("the SVG lacks %q", want)
		}
	}
	if n := strings.Count(files[PDF], "/FontFile2"); !strings.HasPrefix(files[PDF], "%PDF-") || n != 2 {
		t.Errorf("the PDF embeds %d fonts, want the regular and the bold", n)
	}
	if !strings.Contains(files[PDF], "/ToUnicode") {
		t.Error("the PDF's text cannot be read back")
	}
}

// What is drawn bare lets through what lies below; without its words nothing is written.
func TestBareAndMute(t *testing.T) {
	v, err := At(coils(), 0.05)
	if err != nil {
		t.Fatal(err)
	}
	look := Look{Size: Size{640, 360}, Silent: true, Mute: true}
	holes := func() (n int) {
		var b bytes.Buffer
		if err := look.Write(&b, PNG, v); err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(&b)
		if err != nil {
			t.Fatal(err)
		}
		for y := range 360 {
			for x := range 640 {
				if _, _, _, a := img.At(x, y).RGBA(); a == 0 {
					n++
				}
			}
		}
		return n
	}
	if n := holes(); n != 0 {
		t.Errorf("%d pixels show through", n)
	}
	v.Bare = true
	if n := holes(); n < 640*360/4 || n > 640*360*3/4 {
		t.Errorf("%d of %d pixels show through where there is no ground", n, 640*360)
	}
	var b bytes.Buffer
	if err := look.Write(&b, SVG, v); err != nil || strings.Contains(b.String(), "<text") {
		t.Errorf("something is written, %v", err)
	}
}

// Of what covers the whole area nothing is left, of the rest all.
func TestBare(t *testing.T) {
	var seen recorder.Canvas
	area := vg.Rectangle{Max: vg.Point{X: 200, Y: 100}}
	c := Bare(&seen, area)
	c.Fill(area.Path())
	c.Fill(nil)
	if len(seen.Actions) != 0 {
		t.Errorf("the ground is drawn: %v", seen.Actions)
	}
	less := area
	less.Max.X--
	c.Fill(less.Path())
	c.Stroke(area.Path())
	var arc vg.Path
	arc.Move(vg.Point{X: 200, Y: 50})
	arc.Arc(vg.Point{X: 100, Y: 50}, 100, 0, math.Pi)
	c.Fill(arc)
	if len(seen.Actions) != 3 {
		t.Errorf("of three things %d are drawn", len(seen.Actions))
	}
}

// An arc of a quarter turn backwards from the right ends below, where its path goes on.
func TestPDFArcOfNegativeSweep(t *testing.T) {
	c := newPDF(200, 200, "")
	c.doc.SetCompression(false)
	c.Translate(vg.Point{X: 100, Y: 100})
	var p vg.Path
	p.Move(vg.Point{X: 50})
	p.Arc(vg.Point{}, 50, 0, -math.Pi/2)
	c.Stroke(p)
	var b bytes.Buffer
	if _, err := c.WriteTo(&b); err != nil {
		t.Fatal(err)
	}
	cubic := regexp.MustCompile(`([\d.]+) ([\d.]+) c\n`).FindStringSubmatch(b.String())
	if cubic == nil {
		t.Fatal("no curve in the page")
	}
	x, _ := strconv.ParseFloat(cubic[1], 64)
	y, _ := strconv.ParseFloat(cubic[2], 64)
	if math.Hypot(x-100, y-50) > 0.01 {
		t.Errorf("the arc ends at %g, %g; want 100, 50", x, y)
	}
}

func TestFormatOf(t *testing.T) {
	for file, want := range map[string]Format{"a.png": PNG, "b/c.SVG": SVG, "x.y.pdf": PDF} {
		if got, err := FormatOf(file); err != nil || got != want {
			t.Errorf("%s is taken for %v, %v", file, got, err)
		}
	}
	for _, file := range []string{"a.gif", "png", "", "a."} {
		if got, err := FormatOf(file); err == nil {
			t.Errorf("%q is taken for %v", file, got)
		}
	}
}

func TestSize(t *testing.T) {
	var s Size
	if err := s.UnmarshalText([]byte("390x844")); err != nil || s != (Size{390, 844}) {
		t.Errorf("390x844 reads as %v, %v", s, err)
	}
	for _, bad := range []string{"", "390", "0x0", "-1x400", "100000x400", "axb", "400x400x400"} {
		if err := s.UnmarshalText([]byte(bad)); err == nil {
			t.Errorf("%q reads as %v", bad, s)
		}
	}
}

func BenchmarkWrite(b *testing.B) {
	v, err := At(coils(), 0.05)
	if err != nil {
		b.Fatal(err)
	}
	look := Look{Size: Size{1920, 1080}}
	for _, f := range []Format{PNG, SVG, PDF} {
		b.Run(f.String(), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := look.Write(&bytes.Buffer{}, f, v); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
