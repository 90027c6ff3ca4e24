package handout

import (
	"bytes"
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
	return template.HTML(`<svg role="img" aria-label="` + label + `"` + s), nil //#nosec G203 -- drawn here, and the label is escaped
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

var document = template.Must(template.New("page").Funcs(template.FuncMap{
	"rich":   func(s string) template.HTML { return template.HTML(htmlOf(s)) }, //#nosec G203 -- escaped there
	"letter": letter,
}).Parse(`<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{{.Title}}</title>
<style>
@font-face { font-family: "Liberation Sans"; font-weight: 400; src: url(data:font/ttf;base64,{{.Regular}}) }
@font-face { font-family: "Liberation Sans"; font-weight: 700; src: url(data:font/ttf;base64,{{.Bold}}) }
@page { size: {{.Paper}}; margin: 18mm 20mm 20mm; @bottom-right { content: "page " counter(page); font: 8pt "Liberation Sans", Arial, sans-serif } }
body { font: 10pt/1.4 "Liberation Sans", Arial, sans-serif; color: #000; background: #fff; max-width: 170mm; margin: 8mm auto; padding: 0 4mm }
h1 { font-size: 17pt; line-height: 1.2; margin: 0 0 .2em }
h2 { font-size: 12.5pt; margin: 1.4em 0 .3em; break-after: avoid }
p { margin: 0 0 .4em }
.muted { color: #444; font-size: 9pt }
article + article { border-top: 2px solid #000; margin-top: 3em; padding-top: 2em; break-before: page }
.blanks { display: flex; gap: 1.5em; margin: 1.4em 0 1em }
.blanks span { border-bottom: 1px solid #000; flex: 1 }
.blanks span:first-child { flex: 3 }
.blanks span:last-child { text-align: right; position: relative }
.blanks b { font-weight: normal; float: left; background: #fff; padding-right: .4em; margin-bottom: -1px }
.cautions { border: 1.2px solid #000; padding: .5em .8em; margin: .8em 0; font-size: 9pt; break-inside: avoid }
.cautions p { margin: 0 }
section > ol { list-style: none; margin: 0; padding: 0 }
section > ol > li { display: grid; grid-template-columns: 22pt minmax(0, 1fr); margin: 1.1em 0 0; break-inside: avoid }
li > b:first-child { grid-column: 1 }
li > div { grid-column: 2 }
.points { float: right; color: #444; font-size: 9pt; margin-left: 1.5em }
.choices { list-style: none; margin: .2em 0 0; padding: 0 }
.choices li { padding-left: 2.8em; text-indent: -2.8em; margin: .25em 0 }
.choices i { display: inline-block; width: .75em; height: .75em; border: 1px solid #000; margin-right: .5em; vertical-align: -1px }
.work { height: 44pt; position: relative; border-bottom: 1px dotted #999 }
.work span { position: absolute; right: 0; bottom: -1px; width: 150pt; background: #fff; border-bottom: 1px solid #000; font-size: 9pt }
.scroll { overflow-x: auto }
table { border-collapse: collapse; width: 100%; margin: .6em 0 0; border: 1.2px solid #000; font-size: 8.5pt }
td, th { border: 1px solid #bbb; text-align: center; padding: 0 .3em; height: 17pt; font-weight: normal }
th { color: #444; font-size: 8pt; height: 14pt }
th[scope=colgroup] { color: #000; font-weight: bold; border-bottom: 0 }
th.start, td.start { border-left: 1.2px solid #000 }
thead tr:last-child th { border-bottom: 1.2px solid #000 }
svg { display: block; max-width: 100%; height: auto; margin: .6em auto 0 }
.beside { display: flex; gap: 20pt; align-items: center; flex-wrap: wrap }
.beside > svg { flex: none; margin: 0 }
.beside > .scroll { flex: 1 }
.answer { font-weight: bold }
.scene { break-inside: avoid }
@media print {
body { margin: 0; padding: 0; max-width: none }
article + article { border: 0; margin: 0; padding: 0 }
}
</style>
{{range .Sheets}}{{$solved := .Solved}}<article>
{{if .Solved}}<h1>Answers: {{.Title}}</h1>
<p class="muted">{{.Mark}}, of {{.Points}} points. {{$.Within}}</p>
{{else}}<h1>{{.Title}}</h1>
<p class="muted"><span class="points">{{.Mark}}</span>{{rich .About}}</p>
<div class="blanks"><span><b>Name</b>&nbsp;</span><span><b>Date</b>&nbsp;</span><span><b>Score</b>/ {{.Points}}</span></div>
{{with .Cautions}}<div class="cautions"><p><strong>Before anybody acts on a real drive</strong></p>{{range .}}<p>{{rich .}}</p>{{end}}</div>
{{end}}<p class="muted">{{$.Rounding}}</p>
{{end}}{{range .Parts}}<section>
{{if not $solved}}<div class="scene">{{with .Title}}<h2>{{.}}</h2>
{{end}}{{range .Words}}<p>{{rich .}}</p>
{{end}}{{.Scene}}</div>
{{end}}<ol>
{{range .Items}}<li><b>{{.N}}</b><div>
{{if $solved}}<p><span class="points">{{.Points}}</span><span class="answer">{{rich .Whole}}</span> <span class="muted">{{rich .Working}}</span></p>
{{else}}<p><span class="points">____ / {{.Points}}</span>{{rich .Ask}}</p>
{{with .Choices}}<ul class="choices">{{range $i, $c := .}}<li><i></i>{{letter $i}} {{rich $c}}</li>{{end}}</ul>
{{end}}{{end}}{{if .Narrow}}<div class="beside">{{end}}{{.Picture}}
{{if .Ruled}}<div class="scroll"><table><thead>
{{if .Grouped}}<tr>{{range .Table.Groups}}<th scope="colgroup" colspan="{{len .Columns}}" class="start">{{.Name}}</th>{{end}}</tr>
{{end}}<tr>{{range .Table.Groups}}{{range $i, $c := .Columns}}<th scope="col"{{if eq $i 0}} class="start"{{end}}>{{$c}}</th>{{end}}{{end}}</tr></thead>
<tbody>{{range .Table.Rows}}<tr>{{range .}}<td>{{if .Given}}{{rich .Text}}{{else if $solved}}<strong>{{rich .Text}}</strong>{{end}}</td>{{end}}</tr>
{{end}}</tbody></table></div>
{{end}}{{if .Narrow}}</div>
{{end}}{{if and .Number (not $solved)}}<div class="work"><span>Answer</span></div>
{{end}}</div></li>
{{end}}</ol></section>
{{end}}<p class="muted" style="margin-top:2em">{{.Mark}}. {{$.Invented}}</p>
</article>
{{end}}</html>
`))

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
	var fonts [2]template.CSS
	for i, f := range render.Fonts() {
		var raw bytes.Buffer
		if _, err := f.Face.WriteSourceTo(nil, &raw); err != nil {
			return err
		}
		fonts[i] = template.CSS(base64.StdEncoding.EncodeToString(raw.Bytes())) //#nosec G203 -- letters and digits
	}
	return document.Execute(w, struct {
		Title                      string
		Regular, Bold, Paper       template.CSS
		Rounding, Within, Invented string
		Sheets                     []sheetView
	}{title, fonts[0], fonts[1], css, rounding, within, invented, views})
}
