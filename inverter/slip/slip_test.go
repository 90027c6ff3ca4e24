package slip_test

import (
	"testing"

	"sextant/inverter/slip"
)

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
