package picture

import (
	"fmt"
	"image/png"
	"io"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgsvg"

	"sextant/inverter/pattern"
	"sextant/motor/drive"
	"sextant/render"
	"sextant/render/picture/raster"
)

const (
	// turns is how many electrical turns the tape shows.
	turns = 1.5
	// idleSpan is the tape's span in s where nothing turns.
	idleSpan = 0.02
)

// ErrTooLate says that a picture's time is out of reach.
var ErrTooLate = fmt.Errorf("out of reach: a picture's time starts at 0 and at most %g switching events may lie before it", drive.MostEvents)

// At runs s from its start to t seconds and returns the view of it then. It fails with [ErrTooLate], and as the
// drive does.
func At(s drive.Scenario, t float64) (*render.View, error) {
	if !(t >= 0 && t <= math.MaxFloat64) {
		return nil, fmt.Errorf("%g s: %w", t, ErrTooLate)
	}
	span := Span(&s)
	long := s
	long.Run.Settle, long.Run.Measure = t, span
	if err := long.Validate(); err != nil && s.Validate() == nil {
		return nil, fmt.Errorf("%g s: %w", t, ErrTooLate)
	}
	d, err := drive.New(s)
	if err != nil {
		return nil, err
	}
	if err := d.Advance(max(0, t-span)); err != nil {
		return nil, err
	}
	record := NewRecord(d, span)
	if err := d.Advance(t - d.Time()); err != nil {
		return nil, err
	}
	v := &render.View{Scenario: &s, Now: d.Now(), Span: span}
	record.RunOut()
	v.Tape = record.Around(t)
	return v, nil
}

// Turn returns how long in s an electrical turn of s takes, or a usual one where nothing turns.
func Turn(s *drive.Scenario) float64 { return Span(s) / turns }

// Span returns how much time in s the tape of a picture of s shows.
func Span(s *drive.Scenario) float64 {
	f := s.Shaft.Speed
	if s.Shaft.Free {
		f = s.Shaft.StartSpeed
	}
	f *= float64(s.Machine.PolePairs) / (2 * math.Pi)
	if s.Gating.Follow == drive.Clock && s.Gating.Kind < pattern.AllOff {
		f = s.Gating.Frequency
	}
	if f = math.Abs(f); f > 0 {
		return turns / f
	}
	return idleSpan
}

// Paint writes a picture of a format and size, which draw draws within area; the title is told to those who
// ask the file for it.
func Paint(w io.Writer, f Format, size Size, title string, draw func(c vg.Canvas, area vg.Rectangle)) error {
	const point = 72.0 / 96
	width, height := vg.Length(size.Width)*point, vg.Length(size.Height)*point
	area := vg.Rectangle{Max: vg.Point{X: width, Y: height}}
	var c vg.CanvasWriterTo
	switch f {
	case PNG:
		img := raster.Image(width, height)
		draw(raster.New(img), area)
		return png.Encode(w, img)
	case SVG:
		c = vgsvg.NewWith(vgsvg.UseWH(width, height), vgsvg.EmbedFonts(true))
	case PDF:
		c = newPDF(width, height, title)
	default:
		return fmt.Errorf("%v is no kind of picture", f)
	}
	draw(c, area)
	_, err := c.WriteTo(w)
	return err
}
