package handout

import (
	"io"
	"testing"

	"sextant/inverter/pattern"
)

// BenchmarkSheet draws a sheet's values and works out its answers.
func BenchmarkSheet(b *testing.B) {
	x, err := OfPattern(pattern.SpaceVector)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for n := 1; b.Loop(); n++ {
		if _, err := x.Sheet(1, n); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkWritePDF writes a sheet with its key.
func BenchmarkWritePDF(b *testing.B) {
	x, err := OfPattern(pattern.SpaceVector)
	if err != nil {
		b.Fatal(err)
	}
	s, err := x.Sheet(1, 1)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if err := WritePDF(io.Discard, A4, Both, []*Sheet{s}); err != nil {
			b.Fatal(err)
		}
	}
}
