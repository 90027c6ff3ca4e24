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
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// A pdf is a vg.Canvas of one page, with subsets of its fonts embedded and text in Unicode. The plotting
// library's own canvas embeds one face only and turns arcs of negative sweep the wrong way.
type pdf struct {
	doc    *fpdf.Fpdf
	w, h   vg.Length
	states []state // the last is in force
	fonts  map[string]bool
	images int
	glyphs sfnt.Buffer
}

// A state is what Push keeps.
type state struct {
	m     matrix
	width vg.Length
	color color.Color
	dash  []float64
	phase float64
}

// A matrix maps points of the drawing to points of the page, x' = a x + c y + e, y' = b x + d y + f.
type matrix struct{ a, b, c, d, e, f float64 }

func (m matrix) apply(p vg.Point) (x, y float64) {
	px, py := float64(p.X), float64(p.Y)
	return m.a*px + m.c*py + m.e, m.b*px + m.d*py + m.f
}

// after returns the matrix that does n, then m.
func (m matrix) after(n matrix) matrix {
	return matrix{
		m.a*n.a + m.c*n.b, m.b*n.a + m.d*n.b,
		m.a*n.c + m.c*n.d, m.b*n.c + m.d*n.d,
		m.a*n.e + m.c*n.f + m.e, m.b*n.e + m.d*n.f + m.f,
	}
}

// scale is how much m enlarges lengths.
func (m matrix) scale() float64 { return math.Sqrt(math.Abs(m.a*m.d - m.b*m.c)) }

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
	doc.AddPage()
	c := &pdf{doc: doc, w: w, h: h, fonts: map[string]bool{}}
	c.states = []state{{m: matrix{a: 1, d: -1, f: h.Points()}}}
	vg.Initialize(c)
	return c
}

func (c *pdf) now() *state { return &c.states[len(c.states)-1] }

// Size returns the page's size.
func (c *pdf) Size() (w, h vg.Length) { return c.w, c.h }

// SetLineWidth is as vg.Canvas says; so are the other methods.
func (c *pdf) SetLineWidth(w vg.Length) { c.now().width = w }

func (c *pdf) SetLineDash(pattern []vg.Length, offset vg.Length) {
	s := c.now()
	s.dash = nil // a state that was pushed may hold the old one
	for _, d := range pattern {
		s.dash = append(s.dash, d.Points())
	}
	s.phase = offset.Points()
}

func (c *pdf) SetColor(clr color.Color) {
	if clr == nil {
		clr = color.Black
	}
	c.now().color = clr
}

func (c *pdf) Rotate(rad float64) {
	sin, cos := math.Sincos(rad)
	c.now().m = c.now().m.after(matrix{a: cos, b: sin, c: -sin, d: cos})
}

func (c *pdf) Translate(pt vg.Point) {
	c.now().m = c.now().m.after(matrix{a: 1, d: 1, e: float64(pt.X), f: float64(pt.Y)})
}

func (c *pdf) Scale(x, y float64) { c.now().m = c.now().m.after(matrix{a: x, d: y}) }

func (c *pdf) Push() { c.states = append(c.states, *c.now()) }

func (c *pdf) Pop() { c.states = c.states[:len(c.states)-1] }

func (c *pdf) Stroke(p vg.Path) {
	s := c.now()
	if s.width <= 0 || len(p) == 0 {
		return
	}
	r, g, b := c.ink()
	c.doc.SetDrawColor(r, g, b)
	k := s.m.scale()
	c.doc.SetLineWidth(s.width.Points() * k)
	dash := make([]float64, len(s.dash))
	for i, d := range s.dash {
		dash[i] = d * k
	}
	c.doc.SetDashPattern(dash, s.phase*k)
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
	n := color.NRGBAModel.Convert(c.now().color).(color.NRGBA)
	c.doc.SetAlpha(float64(n.A)/255, "Normal")
	return int(n.R), int(n.G), int(n.B)
}

// outline hands a path to the document.
func (c *pdf) outline(p vg.Path) {
	m := c.now().m
	open := false // whether the path has a point to go on from
	line := func(pt vg.Point) {
		if x, y := m.apply(pt); open {
			c.doc.LineTo(x, y)
		} else {
			c.doc.MoveTo(x, y)
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
			c.arc(m, comp)
		case vg.CurveComp:
			x, y := m.apply(comp.Pos)
			ax, ay := m.apply(comp.Control[0])
			if len(comp.Control) == 1 {
				c.doc.CurveTo(ax, ay, x, y)
			} else {
				bx, by := m.apply(comp.Control[1])
				c.doc.CurveBezierCubicTo(ax, ay, bx, by, x, y)
			}
		case vg.CloseComp:
			c.doc.ClosePath()
		}
	}
}

// arc draws an arc by cubics of a quarter turn at most, whose handles are (4/3) tan(sweep/4) of the radius
// long: the standard construction, off by less than 0.03 % of it.
func (c *pdf) arc(m matrix, arc vg.PathComp) {
	n := max(1, int(math.Ceil(math.Abs(arc.Angle)/(math.Pi/2))))
	sweep := arc.Angle / float64(n)
	handle := arc.Radius * vg.Length(4.0/3*math.Tan(sweep/4))
	for k := range n {
		from := arc.Start + float64(k)*sweep
		to := from + sweep
		end := onCircle(arc.Pos, arc.Radius, to)
		ax, ay := m.apply(onCircle(onCircle(arc.Pos, arc.Radius, from), handle, from+math.Pi/2))
		bx, by := m.apply(onCircle(end, -handle, to+math.Pi/2))
		x, y := m.apply(end)
		c.doc.CurveBezierCubicTo(ax, ay, bx, by, x, y)
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
	if !c.fonts[name] {
		var raw bytes.Buffer
		if _, err := f.Face.WriteSourceTo(nil, &raw); err != nil {
			c.doc.SetError(err)
			return
		}
		c.doc.AddUTF8FontFromBytes(name, style(f), raw.Bytes())
		c.fonts[name] = true
	}
	m := c.now().m
	c.doc.SetFont(name, style(f), f.Font.Size.Points()*m.scale())
	r, g, b := c.ink()
	c.doc.SetTextColor(r, g, b)
	x, y := m.apply(pt)
	turn := math.Atan2(-m.b, m.a) * 180 / math.Pi
	if turn != 0 {
		c.doc.TransformBegin()
		c.doc.TransformRotate(turn, x, y)
		defer c.doc.TransformEnd()
	}
	size := f.Font.Size.Points() * m.scale()
	for at, piece := range c.kerned(f.Face, text) {
		c.doc.Text(x+at*size, y, piece)
	}
}

// kerned yields the pieces of a text whose letters stand as far apart as their widths say, and where each begins, in ems:
// the document itself knows nothing of pairs of letters.
func (c *pdf) kerned(f *opentype.Font, text string) iter.Seq2[float64, string] {
	em := fixed.Int26_6(f.UnitsPerEm())
	return func(yield func(float64, string) bool) {
		from, begins, x := 0, 0.0, 0.0
		var last sfnt.GlyphIndex
		for i, r := range text {
			glyph, err := f.GlyphIndex(&c.glyphs, r)
			if err != nil {
				glyph = 0
			}
			if i > 0 {
				if k, err := f.Kern(&c.glyphs, last, glyph, em, xfont.HintingNone); err == nil && k != 0 {
					if !yield(begins, text[from:i]) {
						return
					}
					x += float64(k) / float64(em)
					from, begins = i, x
				}
			}
			if w, err := f.GlyphAdvance(&c.glyphs, glyph, em, xfont.HintingNone); err == nil {
				x += float64(w) / float64(em)
			}
			last = glyph
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
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		c.doc.SetError(err)
		return
	}
	c.images++
	name, opts := "image"+strconv.Itoa(c.images), fpdf.ImageOptions{ImageType: "png"}
	c.doc.RegisterImageOptionsReader(name, opts, &b)
	x0, y0 := c.now().m.apply(rect.Min)
	x1, y1 := c.now().m.apply(rect.Max)
	c.doc.ImageOptions(name, min(x0, x1), min(y0, y1), math.Abs(x1-x0), math.Abs(y1-y0), false, opts, 0, "")
}

// WriteTo writes the file.
func (c *pdf) WriteTo(w io.Writer) (int64, error) {
	var b bytes.Buffer
	if err := c.doc.Output(&b); err != nil {
		return 0, err
	}
	return b.WriteTo(w)
}
