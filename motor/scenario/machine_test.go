package scenario

import (
	"errors"
	"strings"
	"testing"

	"sextant/inverter/file"
)

func TestOpenMachine(t *testing.T) {
	title, m, err := OpenMachine("hauler")
	if err != nil || m.PolePairs != 4 || m.FluxLinkage != 0.08 || !strings.HasPrefix(title, "Hauler") {
		t.Errorf("%q, %+v, %v", title, m, err)
	}
}

func TestMachineFileFindings(t *testing.T) {
	const rest = "pole_pairs = 4\ninductance_d = 1e-3\ninductance_q = 1e-3\nflux_linkage = 0.1\n"
	for _, tt := range []struct{ data, want string }{
		{"[machine\n", "m.toml:1: "},
		{"title = \"x\"\n", "m.toml:1: machine: a machine's file has a section [machine]"},
		{"title = 3\n[machine]\nresistance = 1\n" + rest, "m.toml:1: title: 3 is not text"},
		{"[machine]\n" + rest, "m.toml:1: machine.resistance: is missing; give ohms"},
		{"[machine]\nresistence = 1\n" + rest, "m.toml:2: machine.resistence: no such key; did you mean resistance?"},
		{"[machine]\nresistance = -1\n" + rest, "m.toml:2: machine.resistance: -1 ohm is negative"},
		{"[machine]\nresistance = 1\n" + rest + "[supply]\nvoltage = 3\n", "m.toml:7: supply: no such key"},
	} {
		_, _, err := LoadMachine("m.toml", []byte(tt.data))
		if err == nil || !strings.HasPrefix(err.Error(), tt.want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: %v, want %s", tt.data, err, tt.want)
		}
	}
}

// TestCheck: a file is read as what it is, and its title is its own.
func TestCheck(t *testing.T) {
	machine := "title = \"a machine\"\n[machine]\npole_pairs = 4\nresistance = 0.02\ninductance_d = 2e-4\ninductance_q = 2e-4\nflux_linkage = 0.08\n"
	for _, tt := range []struct{ data, title, says string }{
		{machine, "a machine", ""},
		{"title = \"a scenario\"\n" + sound, "a scenario", ""},
		{strings.Replace(machine, "0.02", "-1", 1), "", "x.toml:4: machine.resistance: -1 ohm is negative"},
		{strings.Replace(sound, "350", "-1", 1), "", "x.toml:2: supply.voltage: -1 V is negative"},
		{"[machine\n", "", "x.toml:1: expected ']' to close table name"},
		{"[machine]\n[run]\n", "", "supply: section [supply] is missing"},
	} {
		title, _, err := Check("x.toml", []byte(tt.data))
		if title != tt.title || (err == nil) != (tt.says == "") || err != nil && !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%q: %q, %v, want %q", tt.data, title, err, tt.says)
		}
	}
	for _, name := range Machines() {
		if title, _, err := OpenMachine(name); err != nil || title == "" {
			t.Errorf("%s has the title %q, %v", name, title, err)
		}
	}
}

// TestNotFound: what is on no shelf is said with what may be meant.
func TestNotFound(t *testing.T) {
	var findings file.Findings
	if _, err := Open("hauler-pmw"); !errors.As(err, &findings) || !strings.Contains(err.Error(), "did you mean hauler-pwm?") {
		t.Errorf("%v", err)
	}
	if _, _, err := OpenMachine("houler"); !errors.As(err, &findings) || !strings.Contains(err.Error(), "did you mean hauler?") {
		t.Errorf("%v", err)
	}
}
