package lesson_test

import (
	"strings"
	"testing"

	"sextant/render/lesson"
)

// Each figure that a moment lists stands in words as it is listed.
func TestFiguresStandInWords(t *testing.T) {
	l, err := lesson.Load("x.toml", []byte(good))
	if err != nil {
		t.Fatal(err)
	}
	var asked, want []string
	listed := l.Scenes[0].Moments[0].Figures()
	for _, f := range listed {
		asked, want = append(asked, "{"+f.Name+"}"), append(want, f.Text)
		if f.Name == "machine.speed_mean_rpm" && f.Text != "1200 rpm" {
			t.Errorf("the shaft is held at 1200 rpm, and listed is %s", f.Text)
		}
	}
	if len(listed) < 100 {
		t.Errorf("only %d figures", len(listed))
	}
	l, err = lesson.Load("x.toml", []byte(strings.Replace(good, "{shaft.speed}", strings.Join(asked, " "), 1)))
	if err != nil {
		t.Fatal(err)
	}
	if words := l.Scenes[0].Moments[0].Words; !strings.Contains(words, strings.Join(want, " ")) {
		t.Errorf("%s\nwant %s", words, strings.Join(want, " "))
	}
}
