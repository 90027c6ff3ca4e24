package lesson

import (
	"strings"
	"testing"
)

// Words are found whole and in any case, those first that come first.
func TestTermsIn(t *testing.T) {
	for text, want := range map[string]string{
		"All MOSFETs; a diode's gate, then the rails.": "MOSFET gate rail",
		"The EMF meets the voltage vector.":            "EMF vector",
		"Dead\ntime costs some fundamental":            "dead time fundamental",
		"Delegates cannot railway; linked fields.":     "",
		"": "",
	} {
		var words []string
		for _, term := range TermsIn(text) {
			words = append(words, term.Word)
		}
		if got := strings.Join(words, " "); got != want {
			t.Errorf("%q uses %q, want %q", text, got, want)
		}
	}
}

// Each term is of use: a built-in lesson says it. Each is explained once, by a sentence.
func TestTermsAreUsed(t *testing.T) {
	said := map[string]bool{}
	for _, name := range Names() {
		l, err := Open(name)
		if err != nil {
			t.Fatal(err)
		}
		for k := range l.Scenes {
			s := &l.Scenes[k]
			text := s.Title + " " + s.Note
			for _, m := range s.Moments {
				text += " " + m.Words
			}
			for _, p := range s.Probes {
				text += " " + strings.Join(p.Says, " ")
			}
			for _, q := range s.Questions {
				text += " " + q.Ask + " " + strings.Join(q.Choices, " ") + " " + q.Because
			}
			for _, term := range TermsIn(text) {
				said[term.Word] = true
			}
		}
	}
	seen := map[string]bool{}
	for _, term := range Terms() {
		if !said[term.Word] {
			t.Errorf("no lesson says %q", term.Word)
		}
		if seen[term.Word] || !strings.HasSuffix(term.Means, ".") && !strings.HasSuffix(term.Means, ").") {
			t.Errorf("%q is explained twice, or not by a sentence: %q", term.Word, term.Means)
		}
		seen[term.Word] = true
	}
}
