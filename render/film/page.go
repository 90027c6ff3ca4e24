package film

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"sextant/inverter"
	"sextant/motor/drive"
	"sextant/render"
	"sextant/render/lesson"
	"sextant/render/picture"
)

// A scene is pages that show one drive, or the title of what comes.
type scene struct {
	title  string
	begins *drive.Scenario // nil for a title
	at     float64         // s of the drive's time, when the first page begins
	hidden bool            // the drive's faults are not shown
	focus  render.Focus
	point  render.Part
	labels inverter.Numbering
	pages  []page
}

// A page is a stretch of the film during which the same is said.
type page struct {
	carry  *drive.Scenario // the drive goes on by this one; nil: as before
	lasts  float64         // s that it takes to watch
	passes float64         // s of the drive's that pass meanwhile
	words  []render.Paragraph
	room   []render.Paragraph // the words' place is as large as these would need
	says   string             // as a subtitle; "" leaves it to the stage's sentence
	think  bool               // the time left to think is shown
	lit    bool               // what is pointed at stands out from all else at first
}

const (
	// usualPace is the part of an electrical turn that passes in a second where a lesson does not say.
	usualPace = 1.0 / 6
	// readingRate is how many letters a second are read from a screen that has something to look at besides, and
	// glance the s that it takes to begin: common practice of subtitles.
	readingRate, glance = 15.0, 1.5
	// titleStays is for how many s a scene's title is shown, and aboutStays for how many at most the lesson's.
	titleStays, aboutStays = 2.5, 8.0
)

// caution stands below the title of every lesson.
const caution = "For learning and reasoning; it certifies nothing. Working on a drive is for qualified people."

// reading returns how long in s paragraphs take to read.
func reading(all []render.Paragraph) float64 {
	letters := 0
	for _, p := range all {
		letters += utf8.RuneCountInString(p.Text)
	}
	return glance + float64(letters)/readingRate
}

// plain returns paragraphs as one text.
func plain(all []render.Paragraph) string {
	var lines []string
	for _, p := range all {
		lines = append(lines, p.Text)
	}
	return strings.Join(lines, "\n")
}

// scenes returns what the film shows, in order.
func (f *Film) scenes() []scene {
	if f.Lesson == nil {
		return []scene{{
			begins: f.Scenario, at: f.From, focus: f.Focus,
			pages: []page{{lasts: f.Duration, passes: f.To - f.From}},
		}}
	}
	l := f.Lesson
	title := []render.Paragraph{{Text: l.Title, Tone: render.Strong}, {Text: l.About}, {Text: caution, Tone: render.Quiet}}
	all := []scene{{title: l.Title, pages: []page{{lasts: min(reading(title), aboutStays), words: title, says: l.Title + "\n" + l.About}}}}
	for i := range l.Scenes {
		s := &l.Scenes[i]
		number := fmt.Sprintf("%d of %d", i+1, len(l.Scenes))
		card := []render.Paragraph{{Text: s.Title, Tone: render.Strong}, {Text: number, Tone: render.Quiet}}
		all = append(all,
			scene{title: s.Title, pages: []page{{lasts: titleStays, words: card, says: s.Title}}},
			f.played(s))
	}
	return all
}

// played returns a lesson's scene: its moments, each long enough to be read, what its probes show, and its questions,
// first asked and then answered.
func (f *Film) played(s *lesson.Scene) scene {
	first := &s.Moments[0].Scenario
	out := scene{
		title: s.Title, begins: first, at: first.Run.Settle, hidden: s.Hidden, focus: s.Focus, point: s.Point, labels: s.Labels,
	}
	pace := s.Pace
	if pace == 0 {
		pace = usualPace * picture.Turn(first)
	}
	left := s.Duration
	var most []render.Paragraph
	for i := range s.Moments {
		m := &s.Moments[i]
		words := []render.Paragraph{{Text: m.Words}} // the stage has the scene's title
		if reading(words) > reading(most) {
			most = words
		}
		p := page{lasts: max(reading(words), left), words: words, says: m.Words, lit: true}
		p.passes = p.lasts * pace
		if i > 0 {
			p.carry = &m.Scenario
		}
		if i+1 < len(s.Moments) { // a change that comes before these words are read is waited for, at a slower pace
			p.passes = s.Moments[i+1].After - m.After
			p.lasts = p.passes / pace
			if slow := reading(words); slow > p.lasts {
				p.lasts = p.passes * roundUp(slow/p.passes)
			}
		}
		left -= p.lasts
		out.pages = append(out.pages, p)
	}
	for i := range out.pages {
		out.pages[i].room = most
	}
	if shows := s.Shows(); len(shows) > 0 {
		out.pages = append(out.pages, page{lasts: reading(shows), words: shows, room: shows, says: plain(shows)})
	}
	if f.Think > 0 {
		for i := range s.Questions {
			out.pages = append(out.pages, f.asked(&s.Questions[i])...)
		}
	}
	for i := len(s.Moments); i < len(out.pages); i++ {
		out.pages[i].passes = out.pages[i].lasts * pace
	}
	return out
}

// asked returns a question and its answer.
func (f *Film) asked(q *lesson.Question) []page {
	asks := q.Asks(q.Choices)
	answer := []render.Paragraph{{Text: "Answer: " + strings.TrimSuffix(q.Answer(), ".") + ". " + q.Because, Tone: render.Strong}}
	both := append(slices.Clone(asks), answer...)
	for k := range q.Choices {
		if both[k+1].Tone = render.Quiet; k == q.Right {
			both[k+1].Tone = render.Strong
		}
	}
	return []page{
		{lasts: reading(asks) + f.Think, words: asks, room: both, says: plain(asks), think: true},
		{lasts: reading(answer), words: both, room: both, says: plain(answer)},
	}
}

// roundUp returns the least number of two figures that is not below x.
func roundUp(x float64) float64 {
	unit := math.Pow(10, math.Floor(math.Log10(x))-1)
	return math.Ceil(x/unit) * unit
}

// frames returns how many frames a page has.
func (f *Film) frames(p *page) int { return max(1, int(math.Round(p.lasts*float64(f.Rate)))) }
