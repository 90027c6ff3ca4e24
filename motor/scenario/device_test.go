package scenario

import (
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"sextant/inverter/device"
	"sextant/inverter/file"
)

const usingFile = `
[supply]
voltage = 350
[gating]
pattern = "all-off"
[machine]
kind = "passive"
resistance = 1
inductance = 1
[switches]
`

// A device is found where the scenario lies, is written by its name, and reads back the same; what is wrong with its
// file is said of that.
func TestUseOfDevice(t *testing.T) {
	folder := t.TempDir()
	here, mine := filepath.Join(folder, "scenario.toml"), filepath.Join(folder, "mine.toml")
	_, data, err := device.Find("igbt-750")
	if err == nil {
		err = os.WriteFile(mine, data, 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
	for _, lines := range []string{
		"use = \"mine.toml\"\n", "use = \"sic-1200\"\ntemperature = \"400 K\"\n", "use = \"igbt-750\"\nsink = \"0 C\"\n",
	} {
		s, err := Load(here, []byte(usingFile+lines+"[run]\nmeasure = 1\n"))
		if err != nil {
			t.Error(err)
			continue
		}
		back, err := Load(here, TOML(s))
		if err != nil || !reflect.DeepEqual(s, back) {
			t.Errorf("%s is written\n%s(%v)", lines, TOML(s), err)
		}
		if x := s.Switches; x.Fixed && x.Sink != 0 {
			t.Errorf("%s leaves a sink of %g C", lines, x.Sink)
		}
		if strings.Contains(string(TOML(s)), "channel") {
			t.Errorf("the device's drops are written again:\n%s", TOML(s))
		}
	}
	s, err := Load(here, []byte(usingFile+"use = \"sic-750\"\n[run]\nmeasure = 1\n"))
	if x := s.Switches; err != nil || x.Sink != 65 || !x.BothWays || x.ChannelResistance <= 2.4e-3 || x.DiodeThreshold >= 2.6 {
		t.Errorf("%+v, %v", x, err)
	}
	before, behind, _ := strings.Cut(string(data), "\"si-igbt\"")
	if err := os.WriteFile(mine, []byte(before+"\"igbt\""+behind), 0o600); err != nil {
		t.Fatal(err)
	}
	_, err = Load(here, []byte(usingFile+"use = \"mine.toml\"\n[run]\nmeasure = 1\n"))
	var findings file.Findings
	if !errors.As(err, &findings) || len(findings) != 1 || findings[0].Key != "technology" || findings[0].Line != 1+strings.Count(before, "\n") {
		t.Errorf("the error is %v", err)
	}
}
