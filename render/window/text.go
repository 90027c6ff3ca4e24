package window

import (
	"math"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/text/v2"
	"golang.org/x/image/font/opentype"
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
	(*fs)[key] = text.NewGoXFace(face)
	return (*fs)[key]
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
