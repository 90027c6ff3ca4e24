package drive

import (
	"math"
	"testing"

	"sextant/inverter"
)

func BenchmarkStride(b *testing.B) {
	p := newPlant(&Scenario{Supply: Supply{Voltage: 350}, Machine: machineB})
	var s Switches
	legs := [3]leg{legOf(true, false, &s, &s), legOf(false, true, &s, &s), legOf(false, true, &s, &s)}
	var n network
	n.wire(&legs, [3]int8{1, 1, 1}, &p)
	st := state{i: inverter.Vector{Alpha: 10}, speed: 3000 * math.Pi / 30, link: 350}
	var x stride
	b.ReportAllocs()
	for b.Loop() {
		x.take(&st, 20e-6, &n, &p)
	}
}
