package device_test

import (
	"strings"
	"testing"

	"sextant/inverter/device"
)

// TestRefusals puts one mistake at a time into a device's file, or into its curve, and asks for the line, the key, and
// what would be right.
func TestRefusals(t *testing.T) {
	const good = "temperature_c,current_a,voltage_v\n25,0,0\n25,800,2\n150,0,0\n150,800,3\n"
	read := func(data, sheet string) error {
		_, err := device.LoadWith("x.toml", []byte(data), func(string, string) (string, []byte, error) { return "x.csv", []byte(sheet), nil })
		return err
	}
	if err := read(string(curved), good); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ old, new, says string }{
		{"[heat]", "[heat", "x.toml:16: expected ']'"},
		{"channel.curve = \"x.csv\"", "channel = 3", "x.toml:5: channel: is a section; write [channel] on a line of its own, once"},
		{"\"x.csv\"", "3", "x.toml:5: channel.curve: 3 is not text; put it in quotes"},
		{"voltage = 750", "voltage = 1e12", "x.toml:3: voltage: 1e+12 V is beyond belief; give volts"},
		{"voltage = 750", "voltage = 1e-13", "x.toml:3: voltage: 0.1 pV is beyond belief; give volts"},
		{"voltage = 750", "voltage = 0", "x.toml:3: voltage: 0 V is not positive; give more than 0"},
		{"threshold = [3]", "threshold = 3", "x.toml:6: diode.threshold: 3 is not a list; give one in brackets, of volts"},
		{"threshold = [3]", "threshold = []", "x.toml:6: diode.threshold: an empty list; give volts"},
		{"threshold = [3]", "threshold = [3, 4]", "x.toml:6: diode.threshold: is a list of 2, but there are 1 temperatures; give one for each"},
		{"threshold = [3]", "threshold = [1e10]", "x.toml:6: diode.threshold: 10 GV is beyond belief; give volts"},
		{`["25 C"], threshold`, `["-274 C"], threshold`, "x.toml:6: diode.temperature: -274 C is below 0 K"},
		{"turn_on = [0.004]", "turn_on = [0.004, 0.005]", "x.toml:11: energy.turn_on: is a list of 2, but there are 1 temperatures"},
		{"current_exponent = [1, 1, 1]", "current_exponent = [1, 0, 1]", "x.toml:14: energy.current_exponent: an exponent of 0 is out of range; give more than 0 and up to 4"},
		{"voltage_exponent = [1, 1, 1]", "voltage_exponent = [1, 4.1, 1]", "x.toml:15: energy.voltage_exponent: an exponent of 4.1 is out of range; give more than 0 and up to 4"},
		{"[{ resistance = 0.1, time = 0.1 }]", "[]", "x.toml:17: heat.switch_to_case: a list of 0 is not a list of pairs; give [{ resistance = 0.06, time = 0.05 }]"},
		{"[{ resistance = 0.1, time = 0.1 }]", "0.1", "x.toml:17: heat.switch_to_case: 0.1 is not a list of pairs"},
		{"[{ resistance = 0.1, time = 0.1 }]", "[0.1]", "x.toml:17: heat.switch_to_case: pair 1: 0.1 is not a pair; give { resistance = 0.06, time = 0.05 }"},
		{"{ resistance = 0.1, time = 0.1 }", "{ resistance = 0.1 }", "x.toml:17: heat.switch_to_case: pair 1: a pair has both a resistance, in K/W, and a time, in s"},
	} {
		text := strings.Replace(string(curved), tt.old, tt.new, 1)
		if err := read(text, good); err == nil || text == string(curved) || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v, want %q", tt.new, err, tt.says)
		}
	}
	for _, tt := range []struct{ old, new, says string }{
		{good, "", "x.csv:1: is empty; give columns temperature_c, current_a, voltage_v"},
		{good, "temperature_c,current_a,voltage_v\n", "x.csv:1: has no rows; give two at least for each temperature"},
		{"voltage_v", "current_a", "x.csv:1: current_a: stands twice; name each column once"},
		{good, "temperature_c,current_a\n25,0\n", "x.csv:1: voltage_v: is missing; columns are temperature_c, current_a, voltage_v"},
		{"25,0,0", "-300,0,0", "x.csv:2: temperature_c: -300 C is below absolute zero"},
		{"25,0,0", "25,-1,0", "x.csv:2: current_a: -1 A is negative; give 0 or more"},
		{"25,800,2\n", "25,800,2\n25,800,2.1\n", "x.csv:4: current_a: out of order, 800 A after 800 A; sort the rows by temperature, then by current"},
		{"25,0,0", "25,101,0", "x.csv:2: current_a: the curve of 25 C starts at 101 A, beyond a quarter of the device's 400 A; digitise it from below there"},
		{"25,800,2", "25,399,2", "x.csv:3: current_a: the curve of 25 C ends at 399 A, short of the device's 400 A; digitise it up to there"},
		{"25,0,0", "25,0,0.1", "x.csv:2: voltage_v: a MOSFET's channel drops nothing at no current; give 0"},
		{"25,800,2", "25,800", "x.csv:3: wrong number of fields"},
	} {
		text := strings.Replace(good, tt.old, tt.new, 1)
		if err := read(string(curved), text); err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v, want %q", tt.new, err, tt.says)
		}
	}
}
