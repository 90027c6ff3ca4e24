package show

import (
	"slices"
	"strings"
	"testing"
)

// A scenario is saved under the name that was typed, as far as a file can have it; any other wish, or leaving it, ends the typing
// and saves nothing.
func TestSaveUnderATypedName(t *testing.T) {
	size := [2]float64{1280, 720}
	for _, tt := range []struct {
		typed string
		then  Wish
		want  string // file; empty where none is saved
	}{
		{"", Save, "saved/trainer-pwm.toml"},
		{"\b\b\b\b\b\b\b\b\b\b\bhall 3", Save, "saved/hall-3.toml"},
		{"-b.toml", Save, "saved/trainer-pwm-b.toml"},
		{"/../x:\x00\n", Save, "saved/trainer-pwm--x.toml"},
		{strings.Repeat("\b", 99), Save, "saved/scenario.toml"},
		{strings.Repeat("y", 99), Save, "saved/trainer-pwm" + strings.Repeat("y", mostLetters-len("trainer-pwm")) + ".toml"},
		{"z", SaveAs, ""},
		{"z", NextPattern, ""},
	} {
		s := open(t, "trainer-pwm")
		d := &drawer{held: map[string][]byte{}}
		s.SetFiles(d)
		s.Do(FilePanel)
		press(t, s, size, SaveAs)
		if !s.Typing() {
			t.Fatal("nothing can be typed")
		}
		for _, r := range tt.typed {
			if r == '\b' {
				s.Erase()
			} else {
				s.Type(r)
			}
		}
		if shown := string(s.naming.text); !strings.Contains(wordsOn(s, size), shown+"|") {
			t.Errorf("%q is not to be seen", shown)
		}
		press(t, s, size, tt.then)
		var saved []string
		for name := range d.held {
			saved = append(saved, name)
		}
		if s.Typing() || tt.want == "" && saved != nil || tt.want != "" && !slices.Equal(saved, []string{tt.want}) {
			t.Errorf("%q: saved are %q, want %q", tt.typed, saved, tt.want)
		}
	}
	s, _ := playing(t, "guess-lead")
	s.SetFiles(&drawer{held: map[string][]byte{}})
	for s.Do(NextScene); !s.Hiding(); s.Do(NextScene) {
	}
	if s.Do(SaveAs); s.Typing() || !strings.Contains(s.Message(), "hides its fault") {
		t.Errorf("in an exercise: %q", s.Message())
	}
}
