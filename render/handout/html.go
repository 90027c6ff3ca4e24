package handout

import (
	"bytes"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgsvg"

	"sextant/render"
)

// onScreen is how much room a figure has across in a page of HTML.
const onScreen = vg.Length(482)

// svg returns a figure as an element of HTML.
func svg(f Figure, solved bool) (template.HTML, error) {
	w, h := f.Size(onScreen, solved)
	c := vgsvg.NewWith(vgsvg.UseWH(w, h))
	f.Draw(c, vg.Rectangle{Max: vg.Point{X: w, Y: h}}, solved)
	var b bytes.Buffer
	if _, err := c.WriteTo(&b); err != nil {
		return "", err
	}
	s := b.String()
	if i := strings.Index(s, "<svg"); i >= 0 {
		s = s[i+len("<svg"):] // what stands before belongs to a file of its own
	}
	s = strings.ReplaceAll(s, "font-family:Liberation Sans", "font-family:'Liberation Sans',Arial,sans-serif")
	label := template.HTMLEscapeString(f.Tell(solved))
	return template.HTML(`<svg role="img" aria-label="` + label + `"` + s), nil // the figure is drawn here, its label escaped
}

// exerciseView is what the page says of an exercise.
type exerciseView struct {
	*Exercise
	N      int
	Solved bool
}

// Picture returns the figure.
func (e exerciseView) Picture() (template.HTML, error) {
	if e.Figure == nil || e.Shown && e.Solved {
		return "", nil
	}
	return svg(e.Figure, e.Solved)
}

// Narrow reports whether the table has room beside the figure.
func (e exerciseView) Narrow() bool {
	if e.Figure == nil || !e.Ruled() {
		return false
	}
	w, _ := e.Figure.Size(onScreen, e.Solved)
	return w < beside*onScreen
}

// Ruled reports whether there is a table to show.
func (e exerciseView) Ruled() bool { return e.Table != nil && !(e.Shown && e.Solved) }

// Grouped reports whether the table has headings over those of its columns.
func (e exerciseView) Grouped() bool { return e.Table.grouped() }

// Whole returns the answer with its letter.
func (e exerciseView) Whole() string { return e.answer() }

type sectionView struct {
	*Section
	Items []exerciseView
}

// Scene returns the section's picture.
func (s sectionView) Scene() (template.HTML, error) {
	if s.Section.Picture == nil {
		return "", nil
	}
	return svg(s.Section.Picture, false)
}

type sheetView struct {
	*Sheet
	Parts  []sectionView
	Solved bool
}

func viewOf(s *Sheet, solved bool) sheetView {
	v := sheetView{Sheet: s, Solved: solved}
	n := 0
	for i := range s.Sections {
		sec := sectionView{Section: &s.Sections[i]}
		for k := range sec.Exercises {
			n++
			sec.Items = append(sec.Items, exerciseView{&sec.Exercises[k], n, solved})
		}
		v.Parts = append(v.Parts, sec)
	}
	return v
}

//go:embed page.html
var pageText string

var document = template.Must(template.New("page").Funcs(template.FuncMap{
	"rich":   func(s string) template.HTML { return template.HTML(htmlOf(s)) }, // which escapes
	"letter": letter,
}).Parse(pageText))

// embedded returns the fonts of figures, regular and bold, as a page of HTML holds them.
func embedded() (fonts [2]template.CSS, err error) {
	for i, f := range render.Fonts() {
		var raw bytes.Buffer
		if _, err := f.Face.WriteSourceTo(nil, &raw); err != nil {
			return fonts, err
		}
		fonts[i] = template.CSS(base64.StdEncoding.EncodeToString(raw.Bytes()))
	}
	return fonts, nil
}

// WriteHTML writes a part of sheets as one page of HTML, which needs nothing from elsewhere and no scripts, and prints a
// sheet or a key from a new page on.
func WriteHTML(w io.Writer, paper Paper, part Part, sheets []*Sheet) error {
	var views []sheetView
	title := ""
	for _, solved := range []bool{false, true} {
		if part == Questions && solved || part == Answers && !solved {
			continue
		}
		for _, s := range sheets {
			title = s.Title
			views = append(views, viewOf(s, solved))
		}
	}
	css := map[Paper]template.CSS{A4: "A4", Letter: "letter"}[paper]
	if css == "" {
		return fmt.Errorf("%v is no paper", paper)
	}
	fonts, err := embedded()
	if err != nil {
		return err
	}
	return document.Execute(w, struct {
		Title                      string
		Regular, Bold, Paper       template.CSS
		Rounding, Within, Invented string
		Sheets                     []sheetView
	}{title, fonts[0], fonts[1], css, rounding, within, invented, views})
}
