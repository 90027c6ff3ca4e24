package handout

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"

	"gonum.org/v1/plot/vg"

	"sextant/render/picture"
)

const (
	clockRoom = vg.Length(56) // column of the clock
	spoken    = vg.Length(12) // size of what is said, to be read from a lectern
)

// PDF writes the script, text as text with its fonts embedded.
func (s *Script) PDF(w io.Writer, paper Paper) error {
	width, height := paper.size()
	area := vg.Rectangle{
		Min: vg.Point{X: sideMargin, Y: lowMargin},
		Max: vg.Point{X: width - sideMargin, Y: height - topMargin},
	}
	pages := paginate(s.pieces(area.Size().X), area.Size().Y)
	foot := vg.Rectangle{Min: vg.Point{X: area.Min.X, Y: footMargin}, Max: area.Max}
	return picture.Pages(w, width, height, s.Title, len(pages), func(i int, c vg.Canvas) {
		pages[i].draw(c, area)
		drawFoot(c, foot, "Speaker's script", fmt.Sprintf("page %d of %d", i+1, len(pages)))
	})
}

//go:embed script.html
var scriptText string

var scriptDocument = template.Must(template.New("script").Funcs(template.FuncMap{
	"rich": func(s string) template.HTML { return template.HTML(htmlOf(s)) }, // which escapes
	"picture": func(c Cue) (template.HTML, error) {
		if c.Picture == nil {
			return "", nil
		}
		return svg(c.Picture, false)
	},
}).Parse(scriptText))

// HTML writes the script as one page that needs nothing from elsewhere, to be read from a telephone too.
func (s *Script) HTML(w io.Writer) error {
	fonts, err := embedded()
	if err != nil {
		return err
	}
	return scriptDocument.Execute(w, struct {
		Script             *Script
		Regular, Bold      template.CSS
		Scripted, Invented string
	}{s, fonts[0], fonts[1], scripted, invented})
}

func (s *Script) pieces(width vg.Length) []piece {
	l := column{width: width}
	l.words(bold(17), width, s.Title, true)
	l.add(space(3))
	l.words(muted(9.5), width, s.About, true)
	l.words(muted(9.5), width, "Takes "+s.Takes()+". "+scripted, false)
	l.add(space(8))
	if len(s.Cautions) > 0 {
		l.cautions(s.Cautions)
	}
	for i := range s.Cues {
		l.cue(&s.Cues[i])
	}
	return l.pieces
}

// scripted is said above a script.
const scripted = "The clock is in minutes and seconds. Grey is what the class reads on the screen, where q or page down goes on; choices are numbered as there."

// cue adds a scene, beginning with its clock.
func (l *column) cue(c *Cue) {
	l.add(space(14))
	room := l.width - clockRoom
	takes := muted(9).width("takes " + c.Takes())
	title := bold(12.5).wrap(c.Title, room-takes-8)
	l.add(piece{height: vg.Length(len(title)) * 12.5 * leading, keep: true, draw: func(canvas vg.Canvas, area vg.Rectangle) {
		bold(12.5).write(canvas, area.Min.X, area.Max.Y-12.5*leading+0.3*12.5, c.Clock())
		drawLines(canvas, bold(12.5), area.Min.X+clockRoom, area.Max.Y, title)
		muted(9).write(canvas, area.Max.X-takes, area.Max.Y-12.5*leading+0.3*12.5, "takes "+c.Takes())
	}})
	if c.Picture != nil {
		w, h := c.Picture.Size(room*0.9, false)
		l.add(space(4))
		l.add(piece{height: h, keep: true, draw: func(canvas vg.Canvas, area vg.Rectangle) {
			at := area.Min.X + clockRoom
			c.Picture.Draw(canvas, vg.Rectangle{Min: vg.Point{X: at, Y: area.Min.Y}, Max: vg.Point{X: at + w, Y: area.Max.Y}}, false)
		}})
		l.add(space(3))
	}
	for _, words := range c.Words {
		l.beside("", muted(textSize), words)
	}
	for _, words := range c.Readings {
		l.beside("reading", muted(textSize), words)
	}
	if c.Say != "" {
		l.beside("note", plain(spoken), c.Say)
	}
	for _, a := range c.Asks {
		l.add(space(4))
		l.beside("ask", bold(textSize), a.Question)
		l.beside("", plain(textSize), a.Offers)
		l.beside("answer", plain(textSize), a.Answer+". "+a.Because)
	}
}

// beside adds a paragraph beside the column of the clock, with a word in that.
func (l *column) beside(label string, s style, text string) {
	lines := s.wrap(text, l.width-clockRoom)
	l.add(piece{height: vg.Length(len(lines))*s.size*leading + 2, draw: func(c vg.Canvas, area vg.Rectangle) {
		muted(9).write(c, area.Min.X, area.Max.Y-s.size*leading+0.3*s.size, label)
		drawLines(c, s, area.Min.X+clockRoom, area.Max.Y, lines)
	}})
}
