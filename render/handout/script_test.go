package handout

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"

	"sextant/render/lesson"
)

// The scenes of a script follow each other without a gap, each in its part of the time: its duration, a minute at least,
// and a minute a question.
func TestScriptTimes(t *testing.T) {
	l, err := lesson.Open("phase-lost")
	if err != nil {
		t.Fatal(err)
	}
	l.Scenes[1].Duration = 150
	sum := 0.0
	var parts []float64
	for _, s := range l.Scenes {
		part := math.Max(s.Duration, 60) + 60*float64(len(s.Questions))
		parts, sum = append(parts, part), sum+part
	}
	for lasts, all := range map[float64]float64{0: sum, 2700: 2700} {
		s, err := ScriptOf(l, lasts)
		if err != nil {
			t.Fatal(err)
		}
		at := 0.0
		for i, c := range s.Cues {
			if want := all * parts[i] / sum; math.Abs(c.Begins-at) > 1e-6 || math.Abs(c.Lasts-want) > 1e-6 {
				t.Errorf("%g s: scene %d from %g s for %g s, want %g s for %g s", lasts, i+1, c.Begins, c.Lasts, at, want)
			}
			at += c.Lasts
		}
		if s.Lasts != all || math.Abs(at-all) > 1e-6 {
			t.Errorf("%g s: it lasts %g s, its scenes %g s", lasts, s.Lasts, at)
		}
	}
	for _, lasts := range []float64{-1, 39, 1e5, math.NaN(), math.Inf(1)} {
		if _, err := ScriptOf(l, lasts); err == nil {
			t.Errorf("%g s is taken", lasts)
		}
	}
}

func TestClock(t *testing.T) {
	for s, want := range map[float64]string{0: "0:00", 59.9: "1:00", 754.9: "12:30", 755.1: "12:40", 3600: "60:00"} {
		if got := clock(s); got != want {
			t.Errorf("%g s: %s, want %s", s, got, want)
		}
	}
}

// Everything that a lesson says, asks and notes is in its script, each thing in its place, on either paper.
func TestScriptIsWhole(t *testing.T) {
	for _, name := range lesson.Names() {
		l, err := lesson.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		s, err := ScriptOf(l, 0)
		if err != nil {
			t.Fatal(err)
		}
		var page strings.Builder
		if err := s.HTML(&page); err != nil {
			t.Fatal(err)
		}
		for i := range l.Scenes {
			scene := &l.Scenes[i]
			wanted := []string{scene.Title, printed(scene.Note)}
			for _, m := range scene.Moments {
				wanted = append(wanted, printed(m.Words))
			}
			for _, q := range scene.Questions {
				wanted = append(wanted, printed(q.Ask), printed(q.Answer()), printed(q.Because))
			}
			for _, words := range wanted {
				if !strings.Contains(page.String(), htmlOf(words)) {
					t.Errorf("%s, scene %d: the script leaves out %q", name, i+1, words)
				}
			}
			for k, q := range scene.Questions {
				if a := s.Cues[i].Asks[k]; !strings.Contains(a.Offers, a.Answer) || !strings.HasSuffix(a.Answer, printed(q.Answer())) {
					t.Errorf("%s, scene %d: of %s the answer is %s", name, i+1, a.Offers, a.Answer)
				}
			}
			s.Cues[i].Picture = nil // whose words have places of their own
		}
		for _, paper := range []Paper{A4, Letter} {
			width, height := paper.size()
			area := vg.Rectangle{Min: vg.Point{X: sideMargin, Y: lowMargin}, Max: vg.Point{X: width - sideMargin, Y: height - topMargin}}
			for n, p := range paginate(s.pieces(area.Size().X), area.Size().Y) {
				var rec recorder.Canvas
				p.draw(&rec, area)
				checkPlaces(t, name, n, area, rec.Actions)
			}
		}
	}
}
