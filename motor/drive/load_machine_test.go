package drive_test

import (
	"strings"
	"testing"

	"sextant/motor/drive"
)

func TestOpenMachine(t *testing.T) {
	title, m, err := drive.OpenMachine("hauler")
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
		_, _, err := drive.LoadMachine("m.toml", []byte(tt.data))
		if err == nil || !strings.HasPrefix(err.Error(), tt.want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: %v, want %s", tt.data, err, tt.want)
		}
	}
}
