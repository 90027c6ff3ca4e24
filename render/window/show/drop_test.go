package show

import (
	"strings"
	"testing"
	"testing/fstest"

	"sextant/motor/scenario"
)

func TestDropAFile(t *testing.T) {
	s := open(t, "trainer-pwm")
	good, err := scenario.Open("passive-rl")
	if err != nil {
		t.Fatal(err)
	}
	s.Drop(fstest.MapFS{"mine.toml": {Data: scenario.TOML(good)}, "note.txt": {Data: []byte("x")}})
	if s.Scenario() != "mine.toml" || !strings.HasPrefix(s.Message(), "Loaded") {
		t.Errorf("shown is %s; message %q", s.Scenario(), s.Message())
	}
	s.Drop(fstest.MapFS{"bad.toml": {Data: []byte("[supply]\nvoltage = \"350 A\"\n")}})
	if s.Scenario() != "mine.toml" || !strings.Contains(s.Message(), "bad.toml:2: supply.voltage") {
		t.Errorf("shown is %s; message %q", s.Scenario(), s.Message())
	}
	s.Drop(fstest.MapFS{"picture.png": {Data: []byte("x")}})
	if !strings.Contains(s.Message(), ".toml") {
		t.Errorf("message %q", s.Message())
	}
}
