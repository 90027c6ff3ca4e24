package show

import (
	"testing"
)

func TestTasteIsFoundAgain(t *testing.T) {
	s := open(t, "trainer-pwm")
	s.Do(NextTheme)
	s.Do(NextNumbering)
	s.Do(NextTextSize)
	other := open(t, "trainer-pwm")
	other.SetTaste(s.Taste())
	if other.theme != s.theme || other.numbering != s.numbering || other.TextScale() != s.TextScale() {
		t.Errorf("%+v became %+v", s.Taste(), other.Taste())
	}
	if other.SetTaste(Taste{Text: 99}); other.TextScale() != s.TextScale() {
		t.Error("a size that there is not was taken")
	}
}
