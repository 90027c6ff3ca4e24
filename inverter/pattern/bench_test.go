package pattern_test

import (
	"testing"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

var sink inverter.Gates

// BenchmarkEdge times one edge of each pattern; a switching event of the bridge.
func BenchmarkEdge(b *testing.B) {
	base := pattern.Settings{Frequency: 100, Modulation: 0.8, Carrier: 8000, Duty: 0.5}
	run := func(name string, s pattern.Settings) {
		b.Run(name, func(b *testing.B) {
			x, err := pattern.New(s)
			if err != nil {
				b.Fatal(err)
			}
			b.ReportAllocs()
			for b.Loop() {
				_, sink = x.Next()
			}
		})
	}
	for _, k := range pattern.Kinds() {
		if !k.Stepped() && !k.NeedsCarrier() {
			continue
		}
		s := base
		s.Kind = k
		run(k.String(), s)
		if k.Clamps() {
			s.Sampling = pattern.Natural
			run(k.String()+"/natural", s)
		}
	}
	s := base
	s.Kind, s.Sampling = pattern.SpaceVector, pattern.RegularDouble
	run("space-vector/regular-double", s)
	s = base
	s.Kind, s.DeadTime = pattern.SpaceVector, 2e-6
	run("space-vector/dead-time", s)
}
