package envelope_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sextant/inverter/device"
	"sextant/inverter/loss"
	"sextant/motor/envelope"
	"sextant/motor/pair"
)

// TestGrid: speeds and torques go in even steps, from one limit by no torque to the other, and a cell holds what its
// heat was asked for.
func TestGrid(t *testing.T) {
	p := hauler()
	p.Drag = 1
	const torques = 4
	speeds := envelope.Speeds(9000*rpm, 7)
	for k, speed := range speeds {
		if want := 1500 * rpm * float64(k); !scalar.EqualWithinAbsOrRel(speed, want, 1e-12, 1e-12) {
			t.Errorf("speed %d is %g rad/s, want %g", k, speed, want)
		}
	}
	m, err := envelope.MapOf(&p, speeds, torques, func(x loss.Point) (float64, error) { return x.Current, nil })
	if err != nil {
		t.Fatal(err)
	}
	if len(m.Cells) != len(speeds) || len(m.Edges) != len(speeds) {
		t.Fatalf("%d columns with %d edges of %d speeds", len(m.Cells), len(m.Edges), len(speeds))
	}
	for k, column := range m.Cells {
		e := envelope.EdgeAt(&p, speeds[k])
		if m.Edges[k] != e || len(column) != 2*torques+1 || column[0].State != e.Braking || column[2*torques].State != e.Motoring {
			t.Fatalf("column %d runs from %+v to %+v in %d cells, want %+v", k, column[0], column[len(column)-1], len(column), e)
		}
		for j, c := range column {
			want := e.Motoring.Torque * float64(j-torques) / torques
			if j < torques {
				want = e.Braking.Torque * float64(torques-j) / torques
			}
			if c.Speed != speeds[k] || !scalar.EqualWithinAbs(c.Torque, want, 1e-9) {
				t.Errorf("cell %d of column %d makes %g N m at %g rad/s, want %g at %g", j, k, c.Torque, c.Speed, want, speeds[k])
			}
			if c.Bridge != math.Hypot(c.Current.D, c.Current.Q) {
				t.Errorf("cell %d of column %d has the heat of another point: %g", j, k, c.Bridge)
			}
		}
	}
}

// TestFirstError: of all that goes wrong, what is said is of the least speed.
func TestFirstError(t *testing.T) {
	p := hauler()
	_, err := envelope.MapOf(&p, envelope.Speeds(900*rpm, 10), 1, func(x loss.Point) (float64, error) {
		if x.Frequency < 29 {
			return 0, nil
		}
		return 0, fmt.Errorf("%.0f Hz", x.Frequency)
	})
	if err == nil || err.Error() != "33 Hz" { // four pole pairs at 500 rpm
		t.Errorf("%v", err)
	}
}

// TestHeatOf: the heat of a bridge is that of all six positions.
func TestHeatOf(t *testing.T) {
	p := hauler()
	d, err := device.Open("igbt-750")
	if err != nil {
		t.Fatal(err)
	}
	heat := envelope.HeatOf(&d, 125)
	for _, torque := range []float64{-100, 20, 140} {
		s, ok := p.Making(torque, 3000*rpm)
		if !ok {
			t.Fatal("not to be had")
		}
		x := p.Asks(&s)
		got, err := heat(x)
		x.Fixed, x.Junction = true, 125
		want, err2 := loss.Of(&d, x)
		if errors.Join(err, err2) != nil || !scalar.EqualWithinRel(got, want.Bridge, 1e-5) {
			t.Errorf("%g N m: %g W, want %g W (%v)", torque, got, want.Bridge, errors.Join(err, err2))
		}
	}
	if _, err := heat(loss.Point{}); err == nil {
		t.Error("a point without a supply has heat")
	}
}

// TestEfficiency: what comes out at the far end over what goes in at the near one; where both ends are fed, all of it is
// heat.
func TestEfficiency(t *testing.T) {
	for _, tt := range []struct{ torque, copper, bridge, want float64 }{
		{90, 50, 50, 0.9},   // 900 W of 1000 W
		{-100, 50, 50, 0.9}, // 900 W of 1000 W, the other way
		{-5, 50, 50, 0},     // 50 W from the shaft and 50 W from the supply
		{-10, 50, 50, 0},    // 100 W from the shaft, none to the supply
		{0, 50, 50, 0},
		{9e-3, 5e-3, 5e-3, 0.9}, // less than a watt
		{-1e-2, 5e-3, 5e-3, 0.9},
	} {
		c := envelope.Cell{State: pair.State{Torque: tt.torque, Speed: 10, Copper: tt.copper}, Bridge: tt.bridge}
		if got := c.Efficiency(); !scalar.EqualWithinAbs(got, tt.want, 1e-12) {
			t.Errorf("%+v: %g", tt, got)
		}
	}
}

// TestSpan: a picture ends short of the top speed, or at two and a half corner speeds.
func TestSpan(t *testing.T) {
	for _, tt := range []struct{ corner, top, low, high float64 }{
		{100, 200, 199.9, 199.99999},
		{100, 1000, 250, 250},
		{100, math.Inf(1), 250, 250},
	} {
		m := envelope.Marks{Corner: tt.corner, Top: tt.top}
		if got := m.Span(); !(got >= tt.low && got <= tt.high) {
			t.Errorf("%+v: %g", tt, got)
		}
	}
}

// TestNoTorque: where drag takes more than there is, or the voltage holds no current, nothing is commanded.
func TestNoTorque(t *testing.T) {
	p := hauler()
	p.Drag = 1000
	for _, speed := range []float64{3000 * rpm, -3000 * rpm} {
		e := envelope.EdgeAt(&p, speed)
		idle := e.Motoring
		if speed < 0 {
			idle = e.Braking
		}
		if idle != (pair.State{Speed: speed}) {
			t.Errorf("at %g rad/s a machine that cannot turn itself idles with %+v", speed, idle)
		}
	}
	p.Drag = 0
	top := envelope.MarksOf(&p).Top
	if e := envelope.EdgeAt(&p, 1.01*top); e.Motoring != (pair.State{Speed: 1.01 * top}) {
		t.Errorf("beyond the top speed: %+v", e.Motoring)
	}
}
