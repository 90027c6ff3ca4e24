package scenario

import (
	"strings"
	"testing"
)

// TestDoubts: slips of a prefix are doubted, each in its own words, and what is built in is believed.
func TestDoubts(t *testing.T) {
	for _, tt := range []struct{ old, new, says string }{
		{"carrier = 8000", "carrier = 80", "gating.carrier: 80 Hz makes 0.8 periods in a turn of the field, at 100.0 Hz; is it 80 kHz?"},
		{"carrier = 8000", "carrier = 8000\ndead_time = \"50 us\"", "gating.dead_time: 50 us is 40 % of a carrier period"},
		// 1500 rpm and 4 pole pairs are 628.3 rad/s, times 80 Wb and the root of 3.
		{"flux_linkage = 0.08", "flux_linkage = 80", "machine.flux_linkage: at 1500 rpm the EMF is 87.1 kV peak between two leads, and the link 350 V"},
		{"inductance_q = 0.0002", "inductance_q = 0.2", "machine.inductance_d: over the resistance it makes a time constant of 10.0 s"},
		{"resistance = 0.02", "resistance = 20", "a time constant of 10.0 µs"},
		{"measure = 0.02", "measure = 0.002", "run.measure: 2 ms holds 0.2 of a turn of the field, at 100.0 Hz"},
	} {
		s, err := Load("x.toml", []byte(strings.Replace(sound, tt.old, tt.new, 1)))
		if err != nil {
			t.Fatal(err)
		}
		if doubts := Doubts(s); len(doubts) != 1 || !strings.Contains(doubts[0], tt.says) {
			t.Errorf("%s: %q, want %q", tt.new, doubts, tt.says)
		}
	}
	for _, name := range Names() {
		s, err := Open(name)
		if err != nil {
			t.Fatal(err)
		}
		if doubts := Doubts(s); doubts != nil {
			t.Errorf("%s: %q", name, doubts)
		}
	}
}
