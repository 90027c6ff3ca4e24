package device_test

import (
	"os"
	"strings"
	"testing"

	"sextant/inverter/device"
)

// TestDoubts: nothing is doubtful about what is built in, and slips of a prefix are seen.
func TestDoubts(t *testing.T) {
	for _, name := range device.Names() {
		d, err := device.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		if doubts := d.Doubts(); len(doubts) > 0 {
			t.Errorf("%s: %q", name, doubts)
		}
	}
	data, err := os.ReadFile("../../assets/devices/illustrative.toml")
	if err != nil {
		t.Fatal(err)
	}
	for slip, says := range map[[2]string]string{
		{`"12 mJ", "16 mJ"`, `"12 J", "16 J"`}:                                     "turning on of 7",
		{`"15 mJ", "20 mJ"`, `"15 uJ", "20 uJ"`}:                                   "turning off of 8.7",
		{`"1.5 mohm", "2.1 mohm"`, `"1.5 ohm", "2.1 ohm"`}:                         "the channel drops 721 V",
		{`"1.00 V", "0.85 V"`, `"100 V", "85 V"`}:                                  "the diode drops",
		{`{ resistance = 0.06, time = 0.05 }`, `{ resistance = 60, time = 0.05 }`}: "would warm the junction by 1.45e+04 K",
	} {
		text := strings.Replace(string(data), slip[0], slip[1], 1)
		d, err := device.Load("x.toml", []byte(text))
		if err != nil || text == string(data) {
			t.Fatal(slip, err)
		}
		if got := strings.Join(d.Doubts(), "; "); !strings.Contains(got, says) {
			t.Errorf("%v: %q does not say %q", slip, got, says)
		}
	}
}
