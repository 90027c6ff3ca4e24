package duty

import (
	"math"
	"testing"

	"sextant/inverter/device"
	"sextant/inverter/heat"
)

var chains = device.Heat{
	Switch: heat.Chain{{Resistance: 0.06, Time: 0.05}, {Resistance: 0.04, Time: 0.5}},
	Diode:  heat.Chain{{Resistance: 0.09, Time: 0.04}, {Resistance: 0.06, Time: 0.4}},
	Case:   heat.Chain{{Resistance: 0.02, Time: 3}},
}

// Powers that change from second to second, against small steps of the differential equations
// R C dy/dt = R P - y by the rule of Heun.
func TestStepsAreExact(t *testing.T) {
	w := newWarmth(&chains)
	type state struct{ channel, diode, box [2]float64 }
	var s state
	slope := func(c heat.Chain, y [2]float64, p float64) (d [2]float64) {
		for i := range c {
			d[i] = (c[i].Resistance*p - y[i]) / c[i].Time
		}
		return d
	}
	heun := func(c heat.Chain, y *[2]float64, p, h float64) {
		a := slope(c, *y, p)
		var z [2]float64
		for i := range z {
			z[i] = y[i] + h*a[i]
		}
		b := slope(c, z, p)
		for i := range y {
			y[i] += h * (a[i] + b[i]) / 2
		}
	}
	for _, x := range []struct{ channel, diode, dt float64 }{{500, 100, 1}, {0, 300, 0.2}, {900, 0, 0.01}, {0, 0, 2}, {200, 200, 5}} {
		w.step(x.channel, x.diode, x.dt)
		const n = 20_000
		for range n {
			heun(chains.Switch, &s.channel, x.channel, x.dt/n)
			heun(chains.Diode, &s.diode, x.diode, x.dt/n)
			heun(chains.Case, &s.box, x.channel+x.diode, x.dt/n)
		}
		channel, diode := w.junctions()
		box := s.box[0]
		if want := s.channel[0] + s.channel[1] + box; math.Abs(channel-want) > 1e-4 {
			t.Errorf("switch %g K, want %g", channel, want)
		}
		if want := s.diode[0] + s.diode[1] + box; math.Abs(diode-want) > 1e-4 {
			t.Errorf("diode %g K, want %g", diode, want)
		}
	}
}

// The rise from cold is power times the transient thermal impedance, IEC 60747-9; where diode and switch are of
// one chip, that of both powers.
func TestStepResponse(t *testing.T) {
	one := chains
	one.Diode = nil
	w := newWarmth(&one)
	w.step(70, 30, 0.1)
	channel, diode := w.junctions()
	if want := 100*0.0591307 + 100*0.02*(1-math.Exp(-0.1/3)); math.Abs(channel-want) > 1e-4 || diode != channel {
		t.Errorf("%g and %g K, want %g", channel, diode, want)
	}
}

func TestBattery(t *testing.T) {
	s := Battery{Capacity: 1000, Charge: 0.9, ChargeLimit: 50}.full()
	s.pass(-100, 0.5) // 25 are beyond the limit
	if s.returned != 25 || s.refused != 25 {
		t.Errorf("under a limit: %+v", s)
	}
	s.pass(-40, 2) // 5 do not fit
	s.pass(10, 5)
	if s.returned != 100 || s.refused != 30 || s.drawn != 50 || s.charge() != 0.95 {
		t.Errorf("%+v", s)
	}
	s.pass(1000, 1)
	if s.short != 50 || s.charge() != 0 || s.drawn != 1050 {
		t.Errorf("empty: %+v", s)
	}
	endless := Battery{}.full()
	endless.pass(-1e9, 1)
	if endless.refused != 0 || endless.returned != 1e9 || endless.charge() != 0 {
		t.Errorf("without end: %+v", endless)
	}
}
