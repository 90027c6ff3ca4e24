package heat_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sextant/inverter/heat"
)

// pairs is the example network of the tests below, in K/W and s.
var pairs = heat.Chain{{Resistance: 0.06, Time: 0.05}, {Resistance: 0.04, Time: 0.5}}

// The step response Σ R (1 - exp(-t/τ)) as IEC 60747-9 and JESD51-14 define it, in seven decimals.
func TestStep(t *testing.T) {
	for _, tt := range []struct{ t, want float64 }{
		{0.01, 0.0116682}, {0.05, 0.0417337}, {0.1, 0.0591307}, {0.5, 0.0852821}, {1, 0.0945866},
	} {
		if got := pairs.Step(tt.t); !scalar.EqualWithinAbs(got, tt.want, 5e-8) {
			t.Errorf("after %g s: %.7f K/W, want %.7f", tt.t, got, tt.want)
		}
	}
	if got := pairs.Resistance(); !scalar.EqualWithinAbs(got, 0.1, 1e-15) {
		t.Errorf("steady: %g K/W", got)
	}
}

// Rectangular pulses of P, on tp of T: the peak is P Σ R (1-e^(-tp/τ))/(1-e^(-T/τ)), a geometric series.
func TestPulses(t *testing.T) {
	c := heat.Cycle{{Length: 2.5e-3, From: 500, To: 500}, {Length: 2.5e-3}}
	got := heat.Steady(heat.Load{Chain: pairs, Cycle: c})
	want := heat.Swing{Least: 24.6001, Mean: 25, Peak: 25.3999}
	if !near(got, want, 5e-5) {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// A power that stays makes R P all along, whatever the length of the one cell that it is given in, and whatever
// stands before it for no time.
func TestConstant(t *testing.T) {
	want := heat.Swing{Least: 50, Mean: 50, Peak: 50}
	for _, length := range []float64{1e-6, 1e-3, 0.05, 1, 1e3} {
		cell := heat.Cell{Length: length, From: 500, To: 500}
		for _, c := range []heat.Cycle{{cell}, {{From: 9e9, To: 9e9}, cell}} {
			if got := heat.Steady(heat.Load{Chain: pairs, Cycle: c}); !near(got, want, 1e-8) {
				t.Errorf("%v: %+v, want %+v", c, got, want)
			}
		}
	}
}

// Half a sine of 1000 W for half the turn: figures from an independent integration of the two differential
// equations over many turns, in three decimals.
func TestHalfSine(t *testing.T) {
	for _, tt := range []struct {
		hz   float64
		want heat.Swing
	}{
		{1, heat.Swing{Least: 6.718, Mean: 31.831, Peak: 74.673}},
		{5, heat.Swing{Least: 15.568, Mean: 31.831, Peak: 52.611}},
		{50, heat.Swing{Least: 29.619, Mean: 31.831, Peak: 34.100}},
		{200, heat.Swing{Least: 31.272, Mean: 31.831, Peak: 32.394}},
	} {
		got := heat.Steady(heat.Load{Chain: pairs, Cycle: halfSine(1/tt.hz, 720)})
		if !near(got, tt.want, 1e-3) {
			t.Errorf("%g Hz: %+v, want %+v", tt.hz, got, tt.want)
		}
	}
}

// halfSine is half a sine of 1000 W and as much rest, in n cells.
func halfSine(period float64, n int) heat.Cycle {
	p := func(i int) float64 { return 1000 * max(0, math.Sin(2*math.Pi*float64(i)/float64(n))) }
	c := make(heat.Cycle, n)
	for i := range c {
		c[i] = heat.Cell{Length: period / float64(n), From: p(i), To: p(i + 1)}
	}
	return c
}

// TestIntegration lets an independent method, Heun's in small steps over forty time constants, find the
// same swing of a power of ramps, jumps and jolts on two networks at once.
func TestIntegration(t *testing.T) {
	one := heat.Cycle{{Length: 0.02, From: 100, To: 300, Jolt: 0.5}, {Length: 0.01, From: 50, To: 0}, {Length: 0.03, From: 0, To: 700, Jolt: 2}}
	two := heat.Cycle{{Length: 0.02, From: 10}, {Length: 0.01, From: 0, To: 80}, {Length: 0.03, Jolt: 1}}
	base := heat.Chain{{Resistance: 0.02, Time: 0.3}}
	got := heat.Steady(heat.Load{Chain: pairs, Cycle: one}, heat.Load{Chain: base, Cycle: one}, heat.Load{Chain: base, Cycle: two})

	type state struct {
		heat.Pair
		c heat.Cycle
		y float64
	}
	var all []*state
	for _, p := range pairs {
		all = append(all, &state{Pair: p, c: one})
	}
	all = append(all, &state{Pair: base[0], c: one}, &state{Pair: base[0], c: two})
	const steps = 400
	turns := int(40 * 0.5 / one.Length())
	want := heat.Swing{Least: math.Inf(1), Peak: math.Inf(-1)}
	energy := 0.0
	for turn := range turns {
		for k := range one {
			for _, s := range all {
				s.y += s.Resistance * s.c[k].Jolt / s.Time
			}
			for i := range steps {
				sum := func() float64 { return all[0].y + all[1].y + all[2].y + all[3].y }
				if turn == turns-1 && i == 0 {
					want.Least, want.Peak = min(want.Least, sum()), max(want.Peak, sum())
				}
				before := sum()
				h := one[k].Length / steps
				for _, s := range all {
					cell := s.c[k]
					p := func(j int) float64 { return cell.From + (cell.To-cell.From)*float64(j)/steps }
					slope := func(y, p float64) float64 { return (s.Resistance*p - y) / s.Time }
					a := slope(s.y, p(i))
					b := slope(s.y+h*a, p(i+1))
					s.y += h * (a + b) / 2
				}
				if turn == turns-1 {
					energy += h * (before + sum()) / 2
					if i == steps-1 {
						want.Least, want.Peak = min(want.Least, sum()), max(want.Peak, sum())
					}
				}
			}
		}
	}
	want.Mean = energy / one.Length()
	if !near(got, want, 1e-5*want.Peak) {
		t.Errorf("%+v, integrated %+v", got, want)
	}
}

// TestExtremes: a fast cycle leaves the mean alone, a slow one reaches the steady rise of each power.
func TestExtremes(t *testing.T) {
	for _, tt := range []struct {
		period      float64
		least, peak float64
	}{{1e-9, 25, 25}, {1e6, 0, 50}} {
		c := heat.Cycle{{Length: tt.period / 2, From: 500, To: 500}, {Length: tt.period / 2}}
		got := heat.Steady(heat.Load{Chain: pairs, Cycle: c})
		if !near(got, heat.Swing{Least: tt.least, Mean: 25, Peak: tt.peak}, 1e-6) {
			t.Errorf("period %g s: %+v", tt.period, got)
		}
	}
	if got := heat.Steady(); got != (heat.Swing{}) {
		t.Errorf("without a load: %+v", got)
	}
}

func near(a, b heat.Swing, within float64) bool {
	return scalar.EqualWithinAbs(a.Least, b.Least, within) && scalar.EqualWithinAbs(a.Mean, b.Mean, within) &&
		scalar.EqualWithinAbs(a.Peak, b.Peak, within)
}
