package plots

import (
	"testing"

	"sextant/motor/drive"
	"sextant/motor/scenario"
)

// BenchmarkRecord tells what recording adds to a run of some 900 events.
func BenchmarkRecord(b *testing.B) {
	s, err := scenario.Open("hauler-pwm")
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := drive.Simulate(s, NewRecorder(&s, 1600)); err != nil {
			b.Fatal(err)
		}
	}
}
