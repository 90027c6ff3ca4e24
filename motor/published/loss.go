package published

import (
	"math"

	"sextant/inverter/device"
	"sextant/inverter/heat"
	"sextant/inverter/loss"
	"sextant/inverter/pattern"
)

// point is the operating point of the worked figures: 350 V, 300 A, M = 0.8, 10 kHz, junctions at 125 °C.
func point(k pattern.Kind, factor float64) loss.Point {
	return loss.Point{
		Pattern: k, Supply: 350, Current: 300, Modulation: 0.8, Lag: math.Acos(factor), Frequency: 200, Carrier: 10e3,
		Fixed: true, Junction: 125, Sink: device.UsualSink,
	}
}

// lossOf returns a figure of the illustrative device, changed, at a point.
func lossOf(p loss.Point, change func(*device.Device), of func(*loss.Result) float64) func() (float64, error) {
	return func() (float64, error) {
		d, err := device.Open("illustrative")
		if err != nil {
			return 0, err
		}
		if change != nil {
			change(&d)
		}
		r, err := loss.Of(&d, p)
		if err != nil {
			return 0, err
		}
		return of(&r), nil
	}
}

// dropping makes the switch drop so many V and Ω.
func dropping(volts, ohms float64) func(*device.Device) {
	return func(d *device.Device) {
		d.Channel = device.NewDrop([]float64{25}, []float64{volts}, []float64{ohms})
	}
}

func losses() []Check {
	conduction := func(r *loss.Result) float64 { return r.Mean.Conduction }
	bridge := func(r *loss.Result) float64 { return r.Bridge }
	meanShare := func(k pattern.Kind) func() (float64, error) {
		return lossOf(point(k, 0.85), dropping(1, 0), func(r *loss.Result) float64 { return conduction(r) / 300 })
	}
	squareShare := func(k pattern.Kind) func() (float64, error) {
		return lossOf(point(k, 0.85), dropping(0, 1), func(r *loss.Result) float64 { return conduction(r) / 300 / 300 })
	}
	clamped := func(k pattern.Kind, lag float64) func() (float64, error) {
		at := func(k pattern.Kind) func() (float64, error) {
			return lossOf(point(k, math.Cos(lag*math.Pi/180)), nil, func(r *loss.Result) float64 { return r.Mean.TurnOn })
		}
		return func() (float64, error) {
			part, err := at(k)()
			if err != nil {
				return 0, err
			}
			whole, err := at(pattern.SpaceVector)()
			return part / whole, err
		}
	}
	recovery := func(r *loss.Result) float64 { return r.Mean.Recovery }
	mosfet := func(d *device.Device) {
		dropping(0, 5e-3)(d)
		d.Technology = device.SiCMOSFET
		d.Diode = device.NewDrop([]float64{25}, []float64{3}, []float64{4e-3})
	}
	solved := point(pattern.SineTriangle, 0.85)
	solved.Fixed = false
	efficiency := func(r *loss.Result) float64 {
		x, _ := r.Efficiency()
		return 100 * x
	}
	return []Check{
		{Quantity: "sine, M = 0.8, cos 0.85: switch's mean over I", Figure: "0.244155", Basis: Formula, Source: casanellas, ours: meanShare(pattern.SineTriangle)},
		{Quantity: "switch's mean square over I^2", Figure: "0.197150", Basis: Formula, Source: casanellas, ours: squareShare(pattern.SineTriangle)},
		{Quantity: "the same, third harmonic added", Figure: "0.197415", Basis: Formula, Source: bierhoff, ours: squareShare(pattern.ThirdHarmonic)},
		{Quantity: "the same, space-vector", Figure: "0.197481", Basis: Computed, Source: bierhoff, ours: squareShare(pattern.SpaceVector)},
		{Quantity: "switching over unclamped: clamped-60, 30 deg", Figure: "0.56699", Basis: Formula, Source: hava, ours: clamped(pattern.Clamped60, 30)},
		{Quantity: "clamped-30, 45 deg", Figure: "0.70711", Basis: Formula, Source: hava, ours: clamped(pattern.Clamped30, 45)},
		{Quantity: "clamped-high, 60 deg", Figure: "0.71651", Basis: Formula, Source: hava, ours: clamped(pattern.ClampedHigh, 60)},
		{Quantity: "illustrative device, 300 A: recovery of a diode", Unit: "W", Figure: "23.306", Basis: Formula, Source: iecLosses, ours: lossOf(point(pattern.SineTriangle, 0.85), nil, recovery)},
		{Quantity: "bridge", Unit: "W", Figure: "1281.94", Basis: Formula, Source: casanellas, ours: lossOf(point(pattern.SineTriangle, 0.85), nil, bridge)},
		{Quantity: "efficiency", Unit: "%", Figure: "97.6621", Basis: Formula, Source: casanellas, ours: lossOf(point(pattern.SineTriangle, 0.85), nil, efficiency)},
		{Quantity: "switch on a sink of 65 C", Unit: "C", Figure: "84.760", Basis: Formula, Source: casanellas, ours: lossOf(solved, nil, func(r *loss.Result) float64 { return r.Mean.SwitchJunction.Mean })},
		{Quantity: "5 mohm both ways, 300 A, cos 0.85: bridge", Unit: "W", Figure: "675.00", Basis: Formula, Source: casanellas,
			ours: lossOf(point(pattern.SpaceVector, 0.85), mosfet, func(r *loss.Result) float64 { return 6 * conduction(r) })},
		{Quantity: "mean supply current", Unit: "A", Figure: "153.000", Basis: Formula, Source: kolar,
			ours: lossOf(point(pattern.SpaceVector, 0.85), nil, func(r *loss.Result) float64 { return r.Output / 350 })},
	}
}

func heats() []Check {
	pairs := heat.Chain{{Resistance: 0.06, Time: 0.05}, {Resistance: 0.04, Time: 0.5}}
	pulse := heat.Cycle{{Length: 2.5e-3, From: 500, To: 500}, {Length: 2.5e-3}}
	peak := func(c heat.Cycle) func() (float64, error) {
		return known(heat.Steady(heat.Load{Chain: pairs, Cycle: c}).Peak)
	}
	half := func(hz float64) heat.Cycle {
		const n = 720
		p := func(i int) float64 { return 1000 * max(0, math.Sin(2*math.Pi*float64(i)/n)) }
		c := make(heat.Cycle, n)
		for i := range c {
			c[i] = heat.Cell{Length: 1 / hz / n, From: p(i), To: p(i + 1)}
		}
		return c
	}
	const straight = "the sine is made of 720 straight lines"
	return []Check{
		{Quantity: "0.06 K/W, 0.05 s; 0.04, 0.5: Z(10 ms)", Unit: "K/W", Figure: "0.0116682", Basis: Formula, Source: foster, ours: known(pairs.Step(0.01))},
		{Quantity: "Z(0.5 s)", Unit: "K/W", Figure: "0.0852821", Basis: Formula, Source: foster, ours: known(pairs.Step(0.5))},
		{Quantity: "500 W for 2.5 of 5 ms, peak", Unit: "K", Figure: "25.3999", Basis: Formula, Source: foster, ours: peak(pulse)},
		{Quantity: "half sine of 1000 W, 1 Hz, peak", Unit: "K", Figure: "74.673", Basis: Formula, Source: foster, Within: 1e-4, Because: straight, ours: peak(half(1))},
		{Quantity: "the same at 50 Hz", Unit: "K", Figure: "34.100", Basis: Formula, Source: foster, Within: 1e-4, Because: straight, ours: peak(half(50))},
	}
}
