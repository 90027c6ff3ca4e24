package drive

import (
	"testing"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// traction is machine B under space-vector gating near its steady state at 3000 rpm.
func traction(carrier float64) Scenario {
	s := turning(machineB, pattern.SpaceVector, 350, 3000, 0, 1)
	s.Gating.Frequency, s.Gating.Phase, s.Gating.Modulation = 200, 106.3309*3.14159265/180, 0.7
	s.Gating.Carrier = carrier
	return s
}

// benchmarkEvents advances a drive event by event.
func benchmarkEvents(b *testing.B, s Scenario) {
	d, err := New(s)
	if err != nil {
		b.Fatal(err)
	}
	for range 10000 {
		if err := d.AdvanceToEvent(); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportAllocs()
	for b.Loop() {
		if err := d.AdvanceToEvent(); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "events/s")
}

func BenchmarkIdeal8kHz(b *testing.B)  { benchmarkEvents(b, traction(8e3)) }
func BenchmarkIdeal20kHz(b *testing.B) { benchmarkEvents(b, traction(20e3)) }
func BenchmarkDropsAndDeadTime(b *testing.B) {
	s := traction(10e3)
	s.Gating.DeadTime = 2e-6
	s.Switches = Switches{ChannelThreshold: 0.8, ChannelResistance: 2e-3, DiodeThreshold: 0.9, DiodeResistance: 1.5e-3}
	benchmarkEvents(b, s)
}
func BenchmarkSixStep(b *testing.B) {
	s := turning(machineA, pattern.SixStep180, 350, 8000, 0, 1)
	s.Gating.Frequency, s.Gating.Phase = 8000./60*4, 2
	benchmarkEvents(b, s)
}
func BenchmarkShortedTurns(b *testing.B) {
	s := traction(8e3)
	s.Faults = []Fault{{Kind: TurnsShorted, Phase: inverter.V, Value: 0.1}}
	benchmarkEvents(b, s)
}
func BenchmarkCapacitorResistance(b *testing.B) {
	s := traction(8e3)
	s.Supply.Resistance, s.Supply.Capacitance, s.Supply.CapacitorResistance = 50e-3, 500e-6, 5e-3
	benchmarkEvents(b, s)
}
