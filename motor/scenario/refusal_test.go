package scenario

import (
	"errors"
	"strings"
	"testing"

	"sextant/inverter/file"
)

// sound is a scenario without a fault, each of whose lines can be put wrong.
const sound = `[supply]
voltage = 350
[gating]
pattern = "space-vector"
frequency = 100
modulation = 0.8
carrier = 8000
[machine]
pole_pairs = 4
resistance = 0.02
inductance_d = 0.0002
inductance_q = 0.0002
flux_linkage = 0.08
[shaft]
speed = "1500 rpm"
[run]
measure = 0.02
`

// TestUnreadable writes one value as it cannot be read: what is said names the line, the key and the way out.
func TestUnreadable(t *testing.T) {
	if _, err := Load("x.toml", []byte(sound)); err != nil {
		t.Fatal(err)
	}
	const gating, machine, run = "modulation = 0.8", "pole_pairs = 4", "measure = 0.02"
	for _, tt := range []struct{ old, new, says string }{
		{"inductance_q = 0.0002", "inductance = 0.0002", "machine.inductance"},
		{machine, machine + "\nuse = 3", "x.toml:10: machine.use: 3 is not a machine; give a name or a file, in quotes"},
		{"[run]", "[switches]\nuse = \"\"\n[run]", "x.toml:17: switches.use: is empty; give the name or the file of a device"},
		{run, run + "\ninitial_currents = [1, -1]", "x.toml:18: run.initial_currents: a list of 2 is not a list of three; give one current for each of U, V, W"},
		{gating, gating + "\ngates = \"U+\"", "x.toml:7: gating.gates: \"U+\" is not a list of switches; give one like"},
		{gating, gating + "\ngates = [1]", "x.toml:7: gating.gates: 1 is not a switch; switches are U+ U- V+ V- W+ W-"},
		{gating, gating + "\ngates = [\"U+\", \"U+\"]", "x.toml:7: gating.gates: U+ stands twice; name each switch once"},
		{"[run]", "[[fault]]\nkind = \"switch-open\"\nat = 3\n[run]", "x.toml:18: fault.at: 3 is neither a phase, like \"U\", nor a switch, like \"U+\""},
		{"[run]", "[[fault]]\nkind = \"supply-sag\"\nat = \"U\"\nvalue = 300\n[run]", "x.toml:18: fault.at: supply-sag is of the whole drive; leave it out"},
		{"[run]", "[[fault]]\nkind = \"phase-resistance\"\nat = \"U\"\n[run]", "fault.value: is missing; phase-resistance takes one"},
	} {
		text := strings.Replace(sound, tt.old, tt.new, 1)
		_, err := Load("x.toml", []byte(text))
		if findings := (file.Findings{}); text == sound || !errors.As(err, &findings) || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s\n got %v\nwant %s", tt.new, err, tt.says)
		}
	}
}

// TestMissing leaves out one thing at a time: that is missed, and nothing else.
func TestMissing(t *testing.T) {
	const coils = "[supply]\nvoltage = 350\n[gating]\npattern = \"six-step-180\"\nfrequency = 100\n[machine]\nkind = \"passive\"\nresistance = 5\ninductance = 0.02\n[run]\nmeasure = 0.02\n"
	for _, tt := range []struct{ text, without, says string }{
		{sound, "voltage = 350\n", "x.toml:1: supply.voltage: is missing; give volts"},
		{sound, "pattern = \"space-vector\"\n", "x.toml:3: gating.pattern: is missing; give one of"},
		{sound, "frequency = 100\n", "x.toml:3: gating.frequency: is missing; give hertz"},
		{sound, "modulation = 0.8\n", "x.toml:3: gating.modulation: is missing; give 0 to 4/pi"},
		{sound, "pole_pairs = 4\n", "x.toml:8: machine.pole_pairs: is missing; give a whole number"},
		{sound, "resistance = 0.02\n", "x.toml:8: machine.resistance: is missing; give ohms"},
		{sound, "inductance_d = 0.0002\n", "x.toml:8: machine.inductance_d: is missing; give henries"},
		{sound, "inductance_q = 0.0002\n", "x.toml:8: machine.inductance_q: is missing; give henries"},
		{sound, "flux_linkage = 0.08\n", "x.toml:8: machine.flux_linkage: is missing; give webers"},
		{sound, "speed = \"1500 rpm\"\n", "x.toml:14: shaft.speed: is missing; give the speed that the shaft is held at"},
		{sound, "measure = 0.02\n", "x.toml:16: run.measure: is missing; give seconds"},
		{coils, "inductance = 0.02\n", "x.toml:6: machine.inductance: is missing; give henries"},
		{coils, "resistance = 5\n", "x.toml:6: machine.resistance: is missing; give ohms"},
	} {
		text := strings.Replace(tt.text, tt.without, "", 1)
		_, err := Load("x.toml", []byte(text))
		if findings := (file.Findings{}); text == tt.text || !errors.As(err, &findings) || len(findings) != 1 || !strings.HasPrefix(err.Error(), tt.says) {
			t.Errorf("without %s\n got %v\nwant %s", tt.without, err, tt.says)
		}
	}
	if _, err := Load("x.toml", []byte(coils)); err != nil {
		t.Error(err)
	}
}

// TestRefusalsTogether: of one section's mistakes none hides another.
func TestRefusalsTogether(t *testing.T) {
	text := strings.NewReplacer("modulation = 0.8", "modulation = 2", "carrier = 8000", "carrier = -1\ndead_time = \"-1 us\"").Replace(sound)
	_, err := Load("x.toml", []byte(text))
	var findings file.Findings
	if !errors.As(err, &findings) {
		t.Fatal(err)
	}
	var keys []string
	for _, f := range findings {
		keys = append(keys, f.Key)
	}
	if got := strings.Join(keys, " "); got != "gating.modulation gating.carrier gating.dead_time" {
		t.Errorf("found are %s: %v", got, err)
	}
}

// TestFaultWritten: a fault that ends is written with its end.
func TestFaultWritten(t *testing.T) {
	text := strings.Replace(sound, "[run]", "[[fault]]\nkind = \"phase-open\"\nat = \"V\"\ntime = \"1 ms\"\nuntil = \"4 ms\"\n[run]", 1)
	s, err := Load("x.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	back, err := Load("y.toml", TOML(s))
	if err != nil || len(back.Faults) != 1 || back.Faults[0] != s.Faults[0] || back.Faults[0].Until != 4e-3 {
		t.Errorf("%+v, %v, from\n%s", back.Faults, err, TOML(s))
	}
}
