package canvas

import (
	"testing"

	"gonum.org/v1/plot/vg"
)

func TestApart(t *testing.T) {
	bars := func(n int, at func(i int) float64) vg.Path {
		var p vg.Path
		for i := range n {
			x := vg.Length(at(i))
			p.Move(vg.Point{X: x})
			p.Line(vg.Point{X: x + 1})
			p.Line(vg.Point{X: x + 1, Y: 9})
			p.Line(vg.Point{X: x, Y: 9})
			p.Close()
		}
		return p
	}
	tests := []struct {
		name string
		path vg.Path
		want bool
	}{
		{"one", bars(1, func(int) float64 { return 0 }), true},
		{"pulses", bars(5000, func(i int) float64 { return float64(2 * i) }), true},
		{"pulses that touch", bars(5000, func(i int) float64 { return float64(i) }), true},
		{"from right to left", bars(100, func(i int) float64 { return float64(-2 * i) }), true},
		{"overlapping", bars(100, func(i int) float64 { return 0.9 * float64(i) }), false},
		{"overlapping, many", bars(5000, func(i int) float64 { return 0.9 * float64(i) }), false},
		{"the last on the first", bars(5000, func(i int) float64 { return 2 * float64(i%4999) }), false},
	}
	for _, tt := range tests {
		var o Outline
		o.Trace(tt.path, &Place{A: 1, D: 1})
		if got := o.Apart(); got != tt.want {
			t.Errorf("%s: apart %t", tt.name, got)
		}
	}
}
