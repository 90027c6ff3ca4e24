package window

import (
	"math"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/text/v2"
	xfont "golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// faces keeps the faces of text in use, each of which keeps the pictures of its glyphs.
type faces map[faceKey]*text.GoXFace

type faceKey struct {
	font font.Font // its Size is zero
	size float64   // pixels
}

// face returns f at size pixels.
func (fs *faces) face(f font.Face, size float64) *text.GoXFace {
	key := faceKey{f.Font, size}
	key.font.Size = 0
	if face := (*fs)[key]; face != nil {
		return face
	}
	const most = 64 // a window that is resized leaves sizes behind that are not used again
	if *fs == nil || len(*fs) >= most {
		*fs = make(faces)
	}
	face, err := opentype.NewFace(f.Face, &opentype.FaceOptions{Size: size, DPI: 72})
	if err != nil {
		panic(err) // only for a size or resolution that is not positive
	}
	(*fs)[key] = text.NewGoXFace(&kerned{Face: face, font: f.Face, size: fixed.Int26_6(math.Round(size * 64))})
	return (*fs)[key]
}

// A kerned face moves letters together as far as its size asks for. The face that it is made of does so for letters of
// 32 pixels, whatever its size.
type kerned struct {
	xfont.Face
	font *opentype.Font
	buf  sfnt.Buffer
	size fixed.Int26_6
}

// Kern returns how much further b stands from a than their widths say, in pixels.
func (k *kerned) Kern(a, b rune) fixed.Int26_6 {
	left, err1 := k.font.GlyphIndex(&k.buf, a)
	right, err2 := k.font.GlyphIndex(&k.buf, b)
	x, err3 := k.font.Kern(&k.buf, left, right, k.size, xfont.HintingNone)
	if err1 != nil || err2 != nil || err3 != nil {
		return 0
	}
	return x
}

// write draws s from pt on as c would. Text that stands upright is set to whole pixels, which keeps it
// crisp; turned text is not.
func (fs *faces) write(c *Canvas, f font.Face, size float64, pt vg.Point, s string) {
	face := fs.face(f, size)
	x, y := c.place.Apply(pt.X.Points(), pt.Y.Points())
	op := &text.DrawOptions{}
	op.GeoM.Translate(0, -math.Floor(face.Metrics().HAscent)) // from the top of the line to its baseline, which is floored too
	m := &c.place
	scale := c.magnification()
	turned := m.Element(0, 1) != 0 || m.Element(1, 0) != 0 || m.Element(0, 0) < 0 || m.Element(1, 1) > 0
	if turned {
		var turn ebiten.GeoM // the glyphs point down already, as the image does
		turn.SetElement(0, 0, m.Element(0, 0)/scale)
		turn.SetElement(0, 1, -m.Element(0, 1)/scale)
		turn.SetElement(1, 0, m.Element(1, 0)/scale)
		turn.SetElement(1, 1, -m.Element(1, 1)/scale)
		op.GeoM.Concat(turn)
		op.Filter = ebiten.FilterLinear
	} else {
		x, y = math.Round(x), math.Round(y)
	}
	op.GeoM.Translate(x, y)
	op.ColorScale.Scale(c.color[0]*c.color[3], c.color[1]*c.color[3], c.color[2]*c.color[3], c.color[3])
	text.Draw(c.image, s, face, op)
}
