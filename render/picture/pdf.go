package picture

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"io"
	"iter"
	"math"
	"strconv"
	"time"

	"codeberg.org/go-pdf/fpdf"
	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"

	"sextant/render/canvas"
)

// A pdf is a vg.Canvas of pages, the last of which is drawn on, with subsets of its fonts embedded and text in Unicode. The plotting
// library's own canvas embeds one face only and turns arcs of negative sweep the wrong way.
type pdf struct {
	doc  *fpdf.Fpdf
	w, h vg.Length
	state
	saved  []state
	fonts  map[string]*canvas.Spacing // of those embedded
	images int
}

// A state is what Push keeps. Its pixels are points of the page, y pointing down.
type state struct {
	canvas.Pen
	color color.Color
}

func newPDF(w, h vg.Length, title string) *pdf {
	doc := fpdf.NewCustom(&fpdf.InitType{
		UnitStr: "pt", Size: fpdf.SizeType{Wd: w.Points(), Ht: h.Points()},
	})
	doc.SetMargins(0, 0, 0)
	doc.SetAutoPageBreak(false, 0)
	doc.SetTitle(title, true)
	doc.SetCreator("sextant", true)
	doc.SetCreationDate(time.Unix(0, 0).UTC()) // the same picture is the same file
	doc.SetModificationDate(time.Unix(0, 0).UTC())
	doc.SetCatalogSort(true)
	doc.SetLineJoinStyle("round")
	c := &pdf{doc: doc, w: w, h: h, fonts: map[string]*canvas.Spacing{}}
	c.page()
	return c
}

// page begins a page, in the initial state.
func (c *pdf) page() {
	c.doc.AddPage()
	c.saved = c.saved[:0]
	c.state = state{}
	c.Place = canvas.Place{A: 1, D: -1, F: c.h.Points()}
	vg.Initialize(c)
}

// Size returns the page's size.
func (c *pdf) Size() (w, h vg.Length) { return c.w, c.h }

// SetColor is as vg.Canvas says; so are the other methods.
func (c *pdf) SetColor(clr color.Color) {
	if clr == nil {
		clr = color.Black
	}
	c.color = clr
}

func (c *pdf) Push() { c.saved = append(c.saved, c.state) }

func (c *pdf) Pop() {
	c.state = c.saved[len(c.saved)-1]
	c.saved = c.saved[:len(c.saved)-1]
}

func (c *pdf) Stroke(p vg.Path) {
	if c.Width <= 0 || len(p) == 0 {
		return
	}
	r, g, b := c.ink()
	c.doc.SetDrawColor(r, g, b)
	k := c.Place.Magnification()
	c.doc.SetLineWidth(c.Width * k)
	dash := make([]float64, len(c.Dashes))
	for i, d := range c.Dashes {
		dash[i] = d * k
	}
	c.doc.SetDashPattern(dash, c.Offset*k)
	c.outline(p)
	c.doc.DrawPath("D")
}

func (c *pdf) Fill(p vg.Path) {
	if len(p) == 0 {
		return
	}
	r, g, b := c.ink()
	c.doc.SetFillColor(r, g, b)
	c.outline(p)
	c.doc.DrawPath("F")
}

// ink sets the opacity of the color in force and returns its parts.
func (c *pdf) ink() (r, g, b int) {
	n := color.NRGBAModel.Convert(c.color).(color.NRGBA)
	c.doc.SetAlpha(float64(n.A)/255, "Normal")
	return int(n.R), int(n.G), int(n.B)
}

// outline hands a path to the document.
func (c *pdf) outline(p vg.Path) {
	open := false // whether the path has a point to go on from
	line := func(pt vg.Point) {
		if to := c.Place.Apply(pt); open {
			c.doc.LineTo(to.X, to.Y)
		} else {
			c.doc.MoveTo(to.X, to.Y)
			open = true
		}
	}
	for _, comp := range p {
		switch comp.Type {
		case vg.MoveComp:
			open = false
			line(comp.Pos)
		case vg.LineComp:
			line(comp.Pos)
		case vg.ArcComp:
			line(onCircle(comp.Pos, comp.Radius, comp.Start))
			c.arc(comp)
		case vg.CurveComp:
			to, a := c.Place.Apply(comp.Pos), c.Place.Apply(comp.Control[0])
			if len(comp.Control) == 1 {
				c.doc.CurveTo(a.X, a.Y, to.X, to.Y)
			} else {
				b := c.Place.Apply(comp.Control[1])
				c.doc.CurveBezierCubicTo(a.X, a.Y, b.X, b.Y, to.X, to.Y)
			}
		case vg.CloseComp:
			c.doc.ClosePath()
		}
	}
}

// arc draws an arc by cubics of a quarter turn at most, whose handles are (4/3) tan(sweep/4) of the radius
// long: the standard construction, off by less than 0.03 % of it.
func (c *pdf) arc(arc vg.PathComp) {
	n := max(1, int(math.Ceil(math.Abs(arc.Angle)/(math.Pi/2))))
	sweep := arc.Angle / float64(n)
	handle := arc.Radius * vg.Length(4.0/3*math.Tan(sweep/4))
	for k := range n {
		from := arc.Start + float64(k)*sweep
		to := from + sweep
		end := onCircle(arc.Pos, arc.Radius, to)
		a := c.Place.Apply(onCircle(onCircle(arc.Pos, arc.Radius, from), handle, from+math.Pi/2))
		b, e := c.Place.Apply(onCircle(end, -handle, to+math.Pi/2)), c.Place.Apply(end)
		c.doc.CurveBezierCubicTo(a.X, a.Y, b.X, b.Y, e.X, e.Y)
	}
}

func onCircle(at vg.Point, r vg.Length, angle float64) vg.Point {
	sin, cos := math.Sincos(angle)
	return vg.Point{X: at.X + r*vg.Length(cos), Y: at.Y + r*vg.Length(sin)}
}

func (c *pdf) FillString(f font.Face, pt vg.Point, text string) {
	if f.Font.Size == 0 || text == "" {
		return
	}
	name := f.Name()
	if c.fonts[name] == nil {
		var raw bytes.Buffer
		if _, err := f.Face.WriteSourceTo(nil, &raw); err != nil {
			c.doc.SetError(err)
			return
		}
		c.doc.AddUTF8FontFromBytes(name, style(f), raw.Bytes())
		c.fonts[name] = canvas.SpacingOf(f.Face)
	}
	size := f.Font.Size.Points() * c.Place.Magnification()
	c.doc.SetFont(name, style(f), size)
	r, g, b := c.ink()
	c.doc.SetTextColor(r, g, b)
	start := c.Place.Apply(pt)
	turn := math.Atan2(-c.Place.B, c.Place.A) * 180 / math.Pi
	if turn != 0 {
		c.doc.TransformBegin()
		c.doc.TransformRotate(turn, start.X, start.Y)
		defer c.doc.TransformEnd()
	}
	for at, piece := range c.kerned(name, text) {
		c.doc.Text(start.X+at*size, start.Y, piece)
	}
}

// kerned yields the pieces of a text whose letters stand as far apart as their widths say, and where each begins, in ems:
// the document itself knows nothing of pairs of letters.
func (c *pdf) kerned(name, text string) iter.Seq2[float64, string] {
	spacing := c.fonts[name]
	return func(yield func(float64, string) bool) {
		from, begins, x := 0, 0.0, 0.0
		last := rune(0)
		for i, r := range text {
			k := 0.0
			if i > 0 {
				k = spacing.Kern(last, r)
			}
			if k != 0 {
				if !yield(begins, text[from:i]) {
					return
				}
				x += k
				from, begins = i, x
			}
			x += spacing.Advance(r)
			last = r
		}
		yield(begins, text[from:])
	}
}

// style returns the document's letters for a face's weight and slope.
func style(f font.Face) (s string) {
	if f.Font.Weight == xfont.WeightBold {
		s = "B"
	}
	if f.Font.Style == xfont.StyleItalic {
		s += "I"
	}
	return s
}

func (c *pdf) DrawImage(rect vg.Rectangle, img image.Image) {
	var data bytes.Buffer
	if err := png.Encode(&data, img); err != nil {
		c.doc.SetError(err)
		return
	}
	c.images++
	name, opts := "image"+strconv.Itoa(c.images), fpdf.ImageOptions{ImageType: "png"}
	c.doc.RegisterImageOptionsReader(name, opts, &data)
	a, b := c.Place.Apply(rect.Min), c.Place.Apply(rect.Max)
	c.doc.ImageOptions(name, min(a.X, b.X), min(a.Y, b.Y), math.Abs(b.X-a.X), math.Abs(b.Y-a.Y), false, opts, 0, "")
}

// WriteTo writes the file.
func (c *pdf) WriteTo(w io.Writer) (int64, error) {
	var b bytes.Buffer
	if err := c.doc.Output(&b); err != nil {
		return 0, err
	}
	return b.WriteTo(w)
}
