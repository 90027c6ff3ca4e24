package edition

import (
	"bytes"
	"image/color"
	"io"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"
)

// icons returns the program's mark as files: for a tab, for a list of programs, for one that cuts it to a shape of
// its own (which leaves a disc of four fifths of the width), and for a home screen that rounds corners itself.
func icons() (Files, error) {
	files := Files{}
	svg := vgsvg.New(32, 32)
	drawIcon(svg, 32, rounded)
	if err := files.add("icon.svg", svg); err != nil {
		return nil, err
	}
	for _, icon := range []struct {
		name  string
		width vg.Length
		shape shape
	}{
		{"icon-192.png", 192, rounded},
		{"icon-512.png", 512, rounded},
		{"icon-cut.png", 512, cut},
		{"icon-home.png", 180, square},
	} {
		c := vgimg.NewWith(vgimg.UseWH(icon.width, icon.width), vgimg.UseDPI(72), vgimg.UseBackgroundColor(color.Transparent))
		drawIcon(c, icon.width, icon.shape)
		if err := files.add(icon.name, vgimg.PngCanvas{Canvas: c}); err != nil {
			return nil, err
		}
	}
	return files, nil
}

func (f Files) add(name string, w io.WriterTo) error {
	var data bytes.Buffer
	if _, err := w.WriteTo(&data); err != nil {
		return err
	}
	f[name] = data.Bytes()
	return nil
}

// A shape is what an icon's ground is.
type shape uint8

const (
	rounded shape = iota
	square
	cut // to a shape that is not known, which leaves a disc of four fifths of the width
)

// drawIcon draws, w wide, the hexagon of a bridge's voltages with a rotor's direction in it and the field's, a
// sixth of a turn apart.
func drawIcon(c vg.Canvas, w vg.Length, s shape) {
	center := vg.Point{X: w / 2, Y: w / 2}
	c.SetColor(color.NRGBA{0x0d, 0x12, 0x18, 0xff})
	if s == rounded {
		c.Fill(roundedSquare(w, w*6/32))
	} else {
		c.Fill(roundedSquare(w, 0))
	}
	r := w * 12 / 32
	if s == cut {
		r = w * 10 / 32
	}
	corner := func(k float64) vg.Point {
		sin, cos := math.Sincos(k * math.Pi / 3)
		return center.Add(vg.Point{X: r * vg.Length(cos), Y: r * vg.Length(sin)})
	}
	line := func(p vg.Path, width vg.Length, ink color.Color) {
		c.SetLineWidth(width * r / 12)
		c.SetColor(ink)
		c.Stroke(p)
	}
	hand := func(k float64) vg.Path {
		return vg.Path{{Type: vg.MoveComp, Pos: center}, {Type: vg.LineComp, Pos: corner(k)}}
	}
	white := color.NRGBA{0xe8, 0xed, 0xf2, 0xff}
	line(hand(-1), 3, color.NRGBA{0x56, 0xb4, 0xe9, 0xff})
	line(hand(0), 3, color.NRGBA{0xe6, 0x9f, 0x00, 0xff})
	var hexagon vg.Path // from the middle of a side, as ends are not joined like corners
	middle := corner(0).Add(corner(1)).Scale(0.5)
	hexagon.Move(middle)
	for k := 1.0; k <= 6; k++ {
		hexagon.Line(corner(k))
	}
	hexagon.Line(middle)
	line(hexagon, 2, white)
	var hub vg.Path
	hub.Move(center.Add(vg.Point{X: r / 4}))
	hub.Arc(center, r/4, 0, 2*math.Pi)
	hub.Close()
	c.SetColor(white)
	c.Fill(hub)
}

// roundedSquare returns a square w wide whose corners have radius r.
func roundedSquare(w, r vg.Length) (p vg.Path) {
	p.Move(vg.Point{X: w, Y: r})
	for k, at := range []vg.Point{{X: w - r, Y: w - r}, {X: r, Y: w - r}, {X: r, Y: r}, {X: w - r, Y: r}} {
		p.Arc(at, r, float64(k)*math.Pi/2, math.Pi/2)
	}
	p.Close()
	return p
}
