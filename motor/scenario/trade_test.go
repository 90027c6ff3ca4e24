package scenario

import (
	"strings"
	"testing"
)

// TestWordsOfTheTrade: what nameplates call things is answered with what files call them, and never with a key that
// a slip of the hand might have made and that has another value.
func TestWordsOfTheTrade(t *testing.T) {
	for _, tt := range []struct{ old, new, says, not string }{
		{"pole_pairs = 4", "poles = 8", "machine.poles: no such key; give pole_pairs, half the number of poles; allowed: ", "did you mean"},
		{"resistance = 0.02", "resistance_ll = 0.04", "machine.resistance_ll: no such key; give resistance, of a phase: half of what lies between two leads", "did you mean"},
		{"inductance_d = 0.0002", "Ld = 0.0002", "machine.Ld: no such key; give inductance_d and inductance_q, of a phase", ""},
		{"flux_linkage = 0.08", "ke = 41", "machine.ke: no such key; give flux_linkage, peak of a phase; \"sextant nameplate\" converts", ""},
		{"flux_linkage = 0.08", "flux_linkage = \"41 V/krpm\"", "machine.flux_linkage: \"41 V/krpm\" is not a flux linkage; give webers, like \"0.08 Wb\"; \"sextant nameplate\" converts", ""},
		{"flux_linkage = 0.08", "", "machine.flux_linkage: is missing; give webers, like \"0.08 Wb\", peak of a phase; \"sextant nameplate\" converts", ""},
		{"voltage = 350", "voltage = \"400 VAC\"", "supply.voltage: \"400 VAC\" is not a voltage; give volts, like \"350 V\"; the link's is direct: of a rectified three-phase supply 1.35 times the rms", ""},
		{"pattern = \"space-vector\"", "pattern = \"space-vector\"\niq = \"10 Arms\"", "gating.iq: \"10 Arms\" is not a current; give amperes, like \"120 A\"; here it is the peak, 1.414 times the rms", ""},
		{"[machine]", "[motor]", "x.toml:8: motor: no such key; give [machine]; allowed: ", ""},
	} {
		text := strings.Replace(sound, tt.old, tt.new, 1)
		_, err := Load("x.toml", []byte(text))
		if err == nil || !strings.Contains(err.Error(), tt.says) || tt.not != "" && strings.Contains(err.Error(), tt.not) {
			t.Errorf("%s\n got %v\nwant %s", tt.new, err, tt.says)
		}
	}
}
