package loss_test

import (
	"testing"

	"sextant/inverter/device"
	"sextant/inverter/loss"
	"sextant/inverter/pattern"
)

func BenchmarkOf(b *testing.B) {
	for _, name := range []string{"igbt-750", "sic-750", "sic-1200"} {
		d, err := device.Open(name)
		if err != nil {
			b.Fatal(err)
		}
		for _, solved := range []bool{false, true} {
			p := worked(pattern.SpaceVector)
			p.Fixed = !solved
			b.Run(map[bool]string{false: name + "/fixed", true: name + "/solved"}[solved], func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if _, err := loss.Of(&d, p); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
