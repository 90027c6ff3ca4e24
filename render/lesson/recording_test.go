package lesson_test

import (
	"strings"
	"testing"
)

// The recording of each fault that is to be guessed names the fault that the scene hides.
func TestRecordingNamesTheFault(t *testing.T) {
	for _, name := range []string{"guess-joint", "guess-lead", "guess-switch"} {
		l := open(t, name)
		scene := l.Scenes[len(l.Scenes)-1]
		f := scene.Moments[0].Scenario.Faults[0]
		at := f.Phase.String()
		if f.Kind.OfSwitch() {
			at = f.Switch.String()
		}
		if len(scene.Probes) != 1 || scene.Probes[0].Name != "diagnose" {
			t.Fatalf("%s: probes %v", name, scene.Probes)
		}
		want := "sextant diagnose: " + f.Kind.String() + " at " + at
		if says := strings.Join(scene.Probes[0].Says, " "); !strings.Contains(says, want) || !strings.Contains(says, "Because ") {
			t.Errorf("%s: %s", name, says)
		}
	}
}
