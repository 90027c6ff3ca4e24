package motor

import (
	"math"
	"testing"
)

// from returns the polynomial with these zeros, times k.
func from(k float64, zeros ...float64) polynomial {
	p := polynomial{k}
	for _, z := range zeros {
		var q polynomial
		for i := range p[:4] {
			q[i+1] += p[i]
			q[i] -= z * p[i]
		}
		p = q
	}
	return p
}

// TestZeros: a polynomial that is made of its zeros has those between the ends and no others, be it that it crosses or only
// touches there, or that they are the ends themselves.
func TestZeros(t *testing.T) {
	for _, tt := range []struct {
		p    polynomial
		want []float64
	}{
		{from(3), nil},
		{from(0), nil},
		{from(2, 0.3), []float64{0.3}},
		{from(-2, 1.5), nil},
		{from(1, -0.5, 0.25), []float64{-0.5, 0.25}},
		{from(1, 0.5, 0.5), []float64{0.5}}, // touches
		{from(-7, -0.25, -0.25, 0.75), []float64{-0.25, 0.75}},
		{from(1, -1, 1), []float64{-1, 1}}, // at the ends
		{from(1, -2, 0.5, 3), []float64{0.5}},
		{from(1e3, -0.9, -0.1, 0.2, 0.8), []float64{-0.9, -0.1, 0.2, 0.8}},
		{from(1e-3, -0.5, -0.5, 0.5, 0.5), []float64{-0.5, 0.5}},
		{polynomial{1, 0, 1}, nil}, // x² + 1
	} {
		zs := tt.p.zerosIn(-1, 1)
		var got []float64 // without doubles
		for _, x := range zs.x[:zs.n] {
			if n := len(got); n == 0 || math.Abs(x-got[n-1]) > 1e-6 {
				got = append(got, x)
			}
		}
		ok := len(got) == len(tt.want)
		for i := range got {
			ok = ok && math.Abs(got[i]-tt.want[i]) < 1e-7
		}
		if !ok {
			t.Errorf("%v has zeros at %v, want %v", tt.p, got, tt.want)
		}
	}
}

// TestAngles: sums of harmonics with zeros that are known, all round the turn.
func TestAngles(t *testing.T) {
	for _, tt := range []struct {
		h    harmonics2
		want []float64 // in degrees, rising
	}{
		{harmonics2{c1: 1}, []float64{90, 270}},
		{harmonics2{s1: 1}, []float64{0, 180}},
		{harmonics2{k: -0.5, c1: 1}, []float64{60, 300}},
		{harmonics2{c2: 1}, []float64{45, 135, 225, 315}},
		{harmonics2{k: 0.5, s2: 1}, []float64{105, 165, 285, 345}},
		{harmonics2{k: 1, c1: 1}, []float64{180}}, // touches
		{harmonics2{k: 2, c1: 1}, nil},
	} {
		zs := tt.h.angles()
		hits := make([]bool, len(tt.want))
		for _, x := range zs.x[:zs.n] {
			near := false
			for i, w := range tt.want {
				if math.Abs(math.Remainder(x-w*math.Pi/180, 2*math.Pi)) < 1e-6 {
					near, hits[i] = true, true
				}
			}
			if !near {
				t.Errorf("%+v has a zero at %g degrees, want %v", tt.h, x*180/math.Pi, tt.want)
			}
		}
		for i, hit := range hits {
			if !hit {
				t.Errorf("%+v has no zero at %g degrees", tt.h, tt.want[i])
			}
		}
	}
}
