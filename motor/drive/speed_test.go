package drive

import (
	"fmt"
	"math"
	"testing"
	"time"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor"
)

// fixedStep carries machine B's currents in the rotor's frame by the classical Runge-Kutta method in steps of
// h, a shorter one up to each gate edge: what one would write at first.
type fixedStep struct {
	m      motor.Machine
	supply float64
	omega  float64
	edges  pattern.Stream
	t, h   float64
	i      motor.DQ
}

func (f *fixedStep) slope(i motor.DQ, t float64, v inverter.ABC) motor.DQ {
	return f.m.Slope(i, motor.Park(v, f.omega*t), f.omega)
}

func (f *fixedStep) step(h float64, v inverter.ABC) {
	at := func(k motor.DQ, h float64) motor.DQ { return motor.DQ{D: f.i.D + h*k.D, Q: f.i.Q + h*k.Q} }
	a := f.slope(f.i, f.t, v)
	b := f.slope(at(a, h/2), f.t+h/2, v)
	c := f.slope(at(b, h/2), f.t+h/2, v)
	d := f.slope(at(c, h), f.t+h, v)
	f.i = at(motor.DQ{D: (a.D + 2*b.D + 2*c.D + d.D) / 6, Q: (a.Q + 2*b.Q + 2*c.Q + d.Q) / 6}, h)
	f.t += h
}

// to carries on to time end and returns how many edges it passed.
func (f *fixedStep) to(end float64) (edges int) {
	for f.t < end {
		v := f.edges.Gates().Poles(f.supply).Star()
		until := min(f.edges.Peek(), end)
		for f.t < until {
			h := min(f.h, until-f.t)
			f.step(h, v)
			if until-f.t < 1e-15 {
				f.t = until
			}
		}
		for f.edges.Peek() <= until {
			f.edges.Next()
			edges++
		}
	}
	return edges
}

func newFixedStep(s Scenario, h float64) *fixedStep {
	edges, err := pattern.New(s.Gating.Settings)
	if err != nil {
		panic(err)
	}
	return &fixedStep{m: s.Machine, supply: s.Supply.Voltage, omega: s.Shaft.Speed * float64(s.Machine.PolePairs), edges: edges, h: h}
}

// apart returns how far two currents lie apart, in A.
func apart(got, want motor.DQ) float64 { return math.Hypot(got.D-want.D, got.Q-want.Q) }

// BenchmarkAgainstFixedStep runs the same tenth of a second both ways, the fixed step being the longest
// that is as exact after a fiftieth, and tells how many times as many events a second the drive handles. The fixed step is spared
// diodes, energies and records, which the drive keeps.
func BenchmarkAgainstFixedStep(b *testing.B) {
	const end = 0.02
	s := traction(8e3)
	fine := newFixedStep(s, 5e-8)
	fine.to(end)
	drive := func(end float64) *Drive {
		d, err := New(s)
		if err == nil {
			err = d.Advance(end)
		}
		if err != nil {
			b.Fatal(err)
		}
		return d
	}
	x := drive(end).Now()
	ours := max(apart(motor.DQ{D: x.ID, Q: x.IQ}, fine.i), 1e-9)
	h := 20e-6
	for ; h > 1e-7; h *= 0.8 {
		f := newFixedStep(s, h)
		if f.to(end); apart(f.i, fine.i) <= ours {
			break
		}
	}
	var events, edges int
	var mine, theirs time.Duration
	b.ReportAllocs()
	for b.Loop() {
		start := time.Now()
		events += drive(0.1).Events()
		middle := time.Now()
		edges += newFixedStep(s, h).to(0.1)
		mine += middle.Sub(start)
		theirs += time.Since(middle)
	}
	b.ReportMetric(h*1e6, "µs-step")
	b.ReportMetric(ours*1e9, "nA-error")
	b.ReportMetric(float64(events)/mine.Seconds(), "events/s")
	b.ReportMetric(float64(edges)/theirs.Seconds(), "fixed-events/s")
	b.ReportMetric(float64(events)/mine.Seconds()/(float64(edges)/theirs.Seconds()), "ratio")
}

// BenchmarkFlatCost tells the cost of an event after a thousand, a hundred thousand and a million of them.
func BenchmarkFlatCost(b *testing.B) {
	for _, before := range []int{1e3, 1e5, 1e6} {
		b.Run(fmt.Sprint(before), func(b *testing.B) {
			d, err := New(traction(8e3))
			if err != nil {
				b.Fatal(err)
			}
			for d.Events() < before {
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
		})
	}
}
