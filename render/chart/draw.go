package chart

import (
	"image/color"
	"math"
	"strings"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/vg"

	"sextant/render"
)

// A drawing is a sheet being drawn, with the measures that follow from its size.
type drawing struct {
	*Sheet
	c     vg.Canvas
	area  vg.Rectangle // within the margin
	size  vg.Length    // of text
	names vg.Length    // width of the rows' names
	heads vg.Length    // height of the upright headings
	cell  vg.Point     // width of a column, height of a row
	top   vg.Length    // of the first row
}

// Draw draws the sheet within area, as large as fits.
func (s *Sheet) Draw(c vg.Canvas, area vg.Rectangle) {
	c.SetColor(s.Theme.Ground())
	c.Fill(area.Path())
	d := drawing{Sheet: s, c: c}
	width, height := area.Size().X, area.Size().Y
	margin := 0.03 * min(width, height)
	d.area = vg.Rectangle{Min: area.Min.Add(vg.Point{X: margin, Y: margin}), Max: area.Max.Sub(vg.Point{X: margin, Y: margin})}
	d.size = min(width/95, height/66)
	d.layOut()
	d.bands()
	d.headings()
	d.rows()
	d.rules()
}

// leading is the distance of lines, in ems.
const leading = 1.35

func (d *drawing) layOut() {
	for _, r := range d.Rows {
		d.names = max(d.names, d.width(xfont.WeightBold, d.size, r.Name)+d.width(xfont.WeightNormal, 0.85*d.size, r.Note)+1.6*d.size)
	}
	d.cell.X = (d.area.Size().X - d.names) / vg.Length(max(d.columns(), 1))
	for _, g := range d.Groups {
		for _, name := range g.Columns {
			for _, line := range d.split(name) {
				d.heads = max(d.heads, d.width(xfont.WeightNormal, d.headSize(), line)+0.8*d.size)
			}
		}
	}
	y := d.area.Max.Y - 1.6*d.size
	d.write(xfont.WeightBold, 1.6*d.size, d.Theme.Text(), d.area.Min.X, y, d.Title)
	y -= 0.7 * d.size
	for _, line := range d.Lead {
		y -= leading * d.size
		d.write(xfont.WeightNormal, d.size, d.Theme.Text(), d.area.Min.X, y, line)
	}
	y -= leading*d.size + 0.4*d.size
	x := d.area.Min.X + d.names
	for _, g := range d.Groups {
		d.write(xfont.WeightBold, d.size, d.Theme.Text(), x+0.3*d.size, y, g.Name)
		x += vg.Length(len(g.Columns)) * d.cell.X
	}
	d.top = y - 0.6*d.size - d.heads
	low := d.area.Min.Y + vg.Length(len(d.Legend))*leading*d.size + 0.6*d.size
	d.cell.Y = (d.top - low) / vg.Length(max(len(d.Rows), 1))
	y = low - 0.6*d.size
	for _, line := range d.Legend {
		y -= leading * d.size * 0.8
		d.write(xfont.WeightNormal, d.size, d.Theme.Muted(), d.area.Min.X, y, line)
		y -= leading * d.size * 0.2
	}
}

// headSize is that of the headings, of which two lines stand beside one another.
func (d *drawing) headSize() vg.Length { return min(d.size, d.cell.X/2.4) }

// split breaks a heading in two lines of about the same length, if it has more words than one.
func (d *drawing) split(name string) []string {
	words := strings.Fields(name)
	best, at := math.Inf(1), 0
	for i := 1; i < len(words); i++ {
		a, b := strings.Join(words[:i], " "), strings.Join(words[i:], " ")
		if longer := math.Max(float64(len(a)), float64(len(b))); longer < best {
			best, at = longer, i
		}
	}
	if at == 0 {
		return []string{name}
	}
	return []string{strings.Join(words[:at], " "), strings.Join(words[at:], " ")}
}

// bands draws a faint line under every row, so that an eye keeps to it.
func (d *drawing) bands() {
	for i := range d.Rows {
		y := d.rowTop(i + 1)
		d.line(d.Theme.Rule(), 0.06*d.size, vg.Point{X: d.area.Min.X, Y: y}, vg.Point{X: d.area.Max.X, Y: y})
	}
}

func (d *drawing) rowTop(i int) vg.Length { return d.top - vg.Length(i)*d.cell.Y }

func (d *drawing) headings() {
	x := d.area.Min.X + d.names
	size := d.headSize()
	for _, g := range d.Groups {
		for _, name := range g.Columns {
			lines := d.split(name)
			first := x + d.cell.X/2 + size*render.CapHeight/2 - vg.Length(len(lines)-1)*size*0.6
			for i, line := range lines {
				d.c.Push()
				d.c.Translate(vg.Point{X: first + vg.Length(i)*1.2*size, Y: d.top + 0.4*d.size})
				d.c.Rotate(math.Pi / 2)
				d.write(xfont.WeightNormal, size, d.Theme.Text(), 0, 0, line)
				d.c.Pop()
			}
			x += d.cell.X
		}
	}
}

func (d *drawing) rows() {
	for i, r := range d.Rows {
		middle := d.rowTop(i) - d.cell.Y/2
		y := middle - render.CapHeight*d.size/2
		d.write(xfont.WeightBold, d.size, d.Theme.Text(), d.area.Min.X+0.3*d.size, y, r.Name)
		d.write(xfont.WeightNormal, 0.85*d.size, d.Theme.Muted(), d.area.Min.X+d.width(xfont.WeightBold, d.size, r.Name)+0.9*d.size, y, r.Note)
		for k, m := range r.Marks {
			d.mark(m, vg.Point{X: d.area.Min.X + d.names + (vg.Length(k)+0.5)*d.cell.X, Y: middle})
		}
	}
}

func (d *drawing) mark(m Mark, at vg.Point) {
	radius := min(0.42*d.size, 0.3*d.cell.X, 0.3*d.cell.Y)
	var disc vg.Path
	disc.Move(vg.Point{X: at.X + radius, Y: at.Y})
	disc.Arc(at, radius, 0, 2*math.Pi)
	disc.Close()
	switch m {
	case Full:
		d.c.SetColor(d.Theme.Text())
		d.c.Fill(disc)
	case Ring:
		d.c.SetColor(d.Theme.Text())
		d.c.SetLineWidth(radius / 3)
		d.c.Stroke(disc)
	case First, Second:
		letter := d.letter(m)
		w := d.width(xfont.WeightBold, d.size, letter)
		d.write(xfont.WeightBold, d.size, d.Theme.Text(), at.X-w/2, at.Y-render.CapHeight*d.size/2, letter)
	}
}

// rules draws lines between the columns, stronger ones between groups and over the rows.
func (d *drawing) rules() {
	bottom := d.rowTop(len(d.Rows))
	x := d.area.Min.X + d.names
	for _, g := range d.Groups {
		for k := range g.Columns {
			ink, width := d.Theme.Rule(), 0.06*d.size
			if k == 0 {
				ink, width = d.Theme.Text(), 0.1*d.size
			}
			d.line(ink, width, vg.Point{X: x, Y: bottom}, vg.Point{X: x, Y: d.top + d.heads})
			x += d.cell.X
		}
	}
	for _, y := range []vg.Length{d.top, bottom} {
		d.line(d.Theme.Text(), 0.1*d.size, vg.Point{X: d.area.Min.X, Y: y}, vg.Point{X: d.area.Max.X, Y: y})
	}
}

func (d *drawing) line(ink color.Color, width vg.Length, from, to vg.Point) {
	var p vg.Path
	p.Move(from)
	p.Line(to)
	d.c.SetColor(ink)
	d.c.SetLineWidth(width)
	d.c.Stroke(p)
}

func (d *drawing) width(weight xfont.Weight, size vg.Length, s string) vg.Length {
	if s == "" {
		return 0
	}
	f := render.Face(weight, size)
	return f.Width(s)
}

// write writes s with its baseline's left end at x, y.
func (d *drawing) write(weight xfont.Weight, size vg.Length, ink color.Color, x, y vg.Length, s string) {
	if s == "" {
		return
	}
	d.c.SetColor(ink)
	d.c.FillString(render.Face(weight, size), vg.Point{X: x, Y: y}, s)
}
