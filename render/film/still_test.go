package film

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg/recorder"

	"sextant/render"
	"sextant/render/lesson"
	"sextant/render/picture"
)

// written returns all that a still writes, in one line.
func written(t *testing.T, s *Still) string {
	t.Helper()
	draw, err := s.Draw()
	if err != nil {
		t.Fatal(err)
	}
	var rec recorder.Canvas
	draw(&rec)
	var words []string
	for _, a := range rec.Actions {
		if text, ok := a.(*recorder.FillString); ok {
			words = append(words, text.String)
		}
	}
	return strings.Join(words, " ")
}

func TestStillOfLesson(t *testing.T) {
	l, err := lesson.Open("six-steps")
	if err != nil {
		t.Fatal(err)
	}
	scene := &l.Scenes[0]
	s := &Still{Scene: scene, Look: picture.Look{Size: picture.Size{Width: 1280, Height: 720}}}
	for k, state := range []string{"U+ V– W– are on", "U+ V+ W– are on", "U– V+ W– are on"} {
		for _, later := range []float64{0, 0.004} {
			s.At = scene.Moments[k].After + later
			says := written(t, s)
			if !strings.Contains(says, state) {
				t.Errorf("%g s into the scene the stage does not say that %s: %q", s.At, state, says)
			}
			for j := range scene.Moments {
				if strings.Contains(says, render.Typeset(scene.Moments[j].Words)) != (j == k) {
					t.Errorf("%g s into the scene it says %q", s.At, says)
				}
			}
		}
	}
	s.Look.Silent = true
	if says := written(t, s); strings.Contains(says, "are on") || strings.Contains(says, "the vector is at") {
		t.Errorf("a silent one says %q", says)
	}
	s.Look.Mute = true
	if says := written(t, s); says != "" {
		t.Errorf("a mute one says %q", says)
	}
	for _, at := range []float64{-1, math.NaN(), 1e6, math.Inf(1)} {
		s.At = at
		if _, err := s.Draw(); err == nil {
			t.Errorf("a still at %g s is drawn", at)
		}
	}
}
