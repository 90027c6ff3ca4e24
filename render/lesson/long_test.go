package lesson

import (
	"strings"
	"testing"

	"sextant/inverter/file"
)

// TestTooLong: a lesson's runs end where those of all its scenes and probes together take more strides than they may,
// and it is said of which scene and change; a few scenes of the usual length are far from that.
func TestTooLong(t *testing.T) {
	const usual = `title = "t"
about = "a"
[[scene]]
title = "s"
scenario = "trainer-six-step"
caption = "c"
[[scene.change]]
after = "5 ms"
set.run = { settle = "1 ms" }
say = "off"
[[scene]]
title = "s"
scenario = "trainer-six-step"
set.run = { settle = "2 ms" }
probe = "diagnose"
caption = "c"
`
	const enough = 20_000
	if _, err := load("x.toml", []byte(usual), enough); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		old, fresh string
		strides    int
		says       string
	}{
		{`"1 ms"`, `"1e4 s"`, enough, "x.toml:9: scene.change.set"},
		{`"2 ms"`, `"1e4 s"`, enough, "x.toml:13: scene.scenario"},
		{"", "", 50, "x.toml:5: scene.scenario"},
		{"", "", 1500, "x.toml:13: scene.scenario"}, // by the probe
	} {
		_, err := load("x.toml", []byte(strings.Replace(usual, tt.old, tt.fresh, 1)), tt.strides)
		want := tt.says + ": its run is too long: all runs of a lesson together may take 2000000 steps from event to event; settle and measure less, or give a slower carrier"
		if found, ok := err.(file.Findings); !ok || len(found) != 1 || found[0].Error() != want {
			t.Errorf("%q for %q and %d strides: %v\nwant %s", tt.fresh, tt.old, tt.strides, err, want)
		}
	}
}
