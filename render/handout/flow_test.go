package handout

import (
	"slices"
	"strings"
	"testing"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"
	"pgregory.net/rapid"

	"sextant/render/golden"
)

// Pieces come out in order, none lost; what is kept together is; and no page is fuller than it holds.
func TestPaginate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const height = 100
		heights := rapid.SliceOfN(rapid.IntRange(1, 30), 1, 60).Draw(t, "heights")
		var pieces []piece
		for i, h := range heights {
			// At most three are kept together, so that they fit a page.
			pieces = append(pieces, piece{height: vg.Length(h), keep: i%3 != 2 && rapid.Bool().Draw(t, "keep"), slack: rapid.Bool().Draw(t, "slack")})
		}
		pages := paginate(pieces, height)
		var all []piece
		for n, p := range pages {
			used := vg.Length(0)
			for i, x := range p.pieces {
				used += x.height
				if x.slack && i+1 < len(p.pieces) {
					used += p.extra
				}
			}
			if used > height+1e-9 {
				t.Fatalf("page %d holds %g of %d", n+1, used, height)
			}
			if last := p.pieces[len(p.pieces)-1]; last.keep && n+1 < len(pages) {
				t.Fatalf("page %d ends with what belongs to the next", n+1)
			}
			all = append(all, p.pieces...)
		}
		if len(all) != len(pieces) {
			t.Fatalf("%d pieces became %d", len(pieces), len(all))
		}
		for i := range all {
			if all[i].height != pieces[i].height {
				t.Fatalf("piece %d is out of order", i)
			}
		}
	})
}

// No words run out of the margins, and none stand over others, on either paper.
func TestWordsStayOnPaper(t *testing.T) {
	for _, s := range opened(t) {
		if s.scenes != nil {
			continue // whose pictures have words of their own
		}
		for _, paper := range []Paper{A4, Letter} {
			for seed := range uint64(6) {
				sheet, err := s.Sheet(seed, 1)
				if err != nil {
					t.Fatal(err)
				}
				width, height := paper.size()
				area := vg.Rectangle{Min: vg.Point{X: sideMargin, Y: lowMargin}, Max: vg.Point{X: width - sideMargin, Y: height - topMargin}}
				for _, pieces := range [][]piece{sheet.questions(area.Size().X), sheet.answers(area.Size().X)} {
					for n, p := range paginate(pieces, area.Size().Y) {
						var rec recorder.Canvas
						p.draw(&rec, area)
						checkPlaces(t, s.name, n, area, rec.Actions)
					}
				}
			}
		}
	}
}

// A box is where words stand.
type box struct {
	text string
	at   vg.Rectangle
}

func checkPlaces(t *testing.T, name string, page int, area vg.Rectangle, actions []recorder.Action) {
	t.Helper()
	var boxes []box
	for _, a := range actions {
		w, ok := a.(*recorder.FillString)
		if !ok || strings.TrimSpace(w.String) == "" {
			continue
		}
		st := style{size: w.Font.Size, bold: w.Font.Weight == xfont.WeightBold}
		at := vg.Rectangle{Min: w.Point, Max: w.Point.Add(vg.Point{X: st.width(w.String), Y: 0.6 * w.Font.Size})}
		if at.Min.X < area.Min.X-0.1 || at.Max.X > area.Max.X+0.1 || at.Min.Y < area.Min.Y-0.1 || at.Max.Y > area.Max.Y {
			t.Errorf("%s, page %d: %q lies outside the margins", name, page+1, w.String)
		}
		for _, b := range boxes {
			if overlap(at, b.at) {
				t.Errorf("%s, page %d: %q stands over %q", name, page+1, w.String, b.text)
			}
		}
		boxes = append(boxes, box{w.String, at})
	}
	if len(boxes) == 0 {
		t.Errorf("%s, page %d is empty", name, page+1)
	}
}

func overlap(a, b vg.Rectangle) bool {
	const hair = 0.3
	return a.Min.X+hair < b.Max.X && b.Min.X+hair < a.Max.X && a.Min.Y+hair < b.Max.Y && b.Min.Y+hair < a.Max.Y
}

// Two pages as somebody has looked at them: a sheet's first and its key.
func TestPagesLook(t *testing.T) {
	all := opened(t)
	s := all[slices.IndexFunc(all, func(s subjectMatter) bool { return s.name == "six-step-180" })]
	sheet, err := s.Sheet(1, 1)
	if err != nil {
		t.Fatal(err)
	}
	width, height := A4.size()
	area := vg.Rectangle{Min: vg.Point{X: sideMargin, Y: lowMargin}, Max: vg.Point{X: width - sideMargin, Y: height - topMargin}}
	for name, pieces := range map[string][]piece{"sheet": sheet.questions(area.Size().X), "key": sheet.answers(area.Size().X)} {
		pages := paginate(pieces, area.Size().Y)
		golden.Matches(t, name, width, height, func(c vg.Canvas, _ vg.Rectangle) {
			c.SetColor(theme.Ground())
			c.Fill(vg.Rectangle{Max: vg.Point{X: width, Y: height}}.Path())
			pages[0].draw(c, area)
		})
	}
}
