package show

import (
	"strings"
	"testing"
)

// A lesson's terms are explained where they are asked for: those of the page, and only there.
func TestTermsOfAPage(t *testing.T) {
	for _, size := range [][2]float64{{1280, 720}, {390, 844}, {844, 390}} {
		s, l := playing(t, "dead-time")
		const mean = "fundamental: the sine"
		if words := wordsOn(s, size); strings.Contains(words, mean) {
			t.Errorf("%v: explained before it was asked for: %s", size, words)
		}
		press(t, s, size, Terms)
		if words := wordsOn(s, size); !strings.Contains(words, mean) || strings.Contains(words, "carrier: a fast") {
			t.Errorf("%v: %s", size, words)
		}
		s.Do(NextScene)
		s.Do(Choice1)
		if words := wordsOn(s, size); strings.Contains(words, mean) || !strings.Contains(words, "carrier: a fast") {
			t.Errorf("%v: at %q and its answer: %s", size, l.Scenes[0].Questions[0].Ask, words)
		}
		press(t, s, size, Terms)
		if words := wordsOn(s, size); strings.Contains(words, "carrier: a fast") {
			t.Errorf("%v: still explained: %s", size, words)
		}
	}
}
