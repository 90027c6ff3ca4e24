package chart

import (
	"html/template"
	"io"
)

// page is a page that prints on one sheet, and needs nothing from elsewhere.
var page = template.Must(template.New("page").Parse(`<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{{.Title}}</title>
<style>
@page { size: A4 landscape; margin: 8mm }
body { font: 14px/1.4 "Liberation Sans", Arial, sans-serif; color: #111; background: #fff; margin: 1.5em }
h1 { font-size: 1.4em; margin: 0 0 .4em }
ul { margin: 0 0 1em; padding-left: 1.2em }
.scroll { overflow-x: auto }
table { border-collapse: collapse }
th, td { border: 1px solid #bbb; padding: .25em .3em; text-align: center }
th[scope=row] { text-align: left; white-space: nowrap }
th[scope=row] small { font-weight: normal; color: #555 }
thead th[scope=col] { vertical-align: bottom; font-weight: normal; height: 12em }
thead th[scope=col] span { writing-mode: vertical-rl; transform: rotate(180deg); max-height: 12em; text-align: left }
tbody tr:nth-child(odd) { background: #f2f2f2 }
td.start, th.start { border-left: 2px solid #111 }
@media print { body { font-size: 8.5px; margin: 0; print-color-adjust: exact } }
</style>
<h1>{{.Title}}</h1>
<ul>{{range .Lead}}<li>{{.}}</li>{{end}}</ul>
<div class="scroll"><table>
<thead>
<tr><td></td>{{range .Groups}}<th scope="colgroup" colspan="{{len .Columns}}" class="start">{{.Name}}</th>{{end}}</tr>
<tr><td></td>{{range .Groups}}{{range $i, $c := .Columns}}<th scope="col"{{if eq $i 0}} class="start"{{end}}><span>{{$c}}</span></th>{{end}}{{end}}</tr>
</thead>
<tbody>
{{range .Body}}<tr><th scope="row">{{.Name}} <small>{{.Note}}</small></th>{{range .Cells}}<td{{if .Start}} class="start"{{end}}>{{.Text}}</td>{{end}}</tr>
{{end}}</tbody>
</table></div>
<ul>{{range .Legend}}<li>{{.}}</li>{{end}}</ul>
</html>
`))

type cell struct {
	Text  string
	Start bool // of a group
}

type line struct {
	Row
	Cells []cell
}

// HTML writes the sheet as a page of HTML.
func (s *Sheet) HTML(w io.Writer) error {
	starts := map[int]bool{}
	n := 0
	for _, g := range s.Groups {
		starts[n] = true
		n += len(g.Columns)
	}
	var body []line
	for _, r := range s.Rows {
		l := line{Row: r}
		for k, m := range r.Marks {
			l.Cells = append(l.Cells, cell{s.letter(m), starts[k]})
		}
		body = append(body, l)
	}
	return page.Execute(w, struct {
		*Sheet
		Body []line
	}{s, body})
}
