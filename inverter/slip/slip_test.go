package slip_test

import (
	"testing"

	"sextant/inverter/slip"
)

func TestMeant(t *testing.T) {
	words := []string{"carrier", "phase"}
	if got := slip.Meant("carier", words); got != "; did you mean carrier?" {
		t.Errorf("%q", got)
	}
	if got := slip.Meant("voltage", words); got != "" {
		t.Errorf("voltage: %q", got)
	}
}

func TestNearest(t *testing.T) {
	words := []string{"carrier", "carrier_ratio", "phase", "id", "iq", "high", "low"}
	for s, want := range map[string]string{
		"carier": "carrier", "Carrier": "carrier", "carrier-ratio": "carrier_ratio",
		"pahse": "phase", "hihg": "high", "ie": "id",
		"voltage": "", "x": "", "": "", "up": "",
		"hgih": "high", "hxxx": "", // two letters may be wrong in four, not three
		"lw": "low", "li": "", // one in two; a word of two that is wrong in one is another word
	} {
		if got := slip.Nearest(s, words); got != want {
			t.Errorf("%q may mean %q, want %q", s, got, want)
		}
	}
}
