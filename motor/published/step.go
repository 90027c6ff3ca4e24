package published

import (
	"math"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/inverter/spectrum"
)

// table returns a figure of a stepped pattern's turn on 350 V.
func table(k pattern.Kind, of func(pattern.Table) float64) func() (float64, error) {
	return func() (float64, error) {
		t, err := pattern.Steps(k, 350)
		return of(t), err
	}
}

// wave returns a figure of a voltage that settings make.
func wave(s pattern.Settings, v spectrum.Voltage, supply float64, of func(spectrum.Wave) float64) func() (float64, error) {
	return func() (float64, error) {
		if s.Frequency == 0 {
			s.Frequency = 50
		}
		w, err := spectrum.Of(s, v, supply, 0)
		if err != nil {
			return 0, err
		}
		return of(w), nil
	}
}

// peak returns the amplitude of an order.
func peak(order int) func(spectrum.Wave) float64 {
	return func(w spectrum.Wave) float64 {
		h := make([]spectrum.Harmonic, order)
		w.Harmonics(h)
		return h[order-1].Peak
	}
}

// share returns the amplitude of an order in per cent of the fundamental's.
func share(order int) func(spectrum.Wave) float64 {
	return func(w spectrum.Wave) float64 { return 100 * peak(order)(w) / peak(1)(w) }
}

func thd(w spectrum.Wave) float64 {
	x, _ := w.THD()
	return 100 * x
}

func weightedTHD(w spectrum.Wave) float64 {
	x, _ := w.WeightedTHD()
	return 100 * x
}

func steps() []Check {
	fundamental := func(t pattern.Table) float64 { return t.PhaseFundamental }
	phase := func(t pattern.Table) float64 { return t.PhaseRMS }
	line := func(t pattern.Table) float64 { return t.LineRMS }
	six := pattern.Settings{Kind: pattern.SixStep180}
	twelve := pattern.Settings{Kind: pattern.TwelveStep150}
	return []Check{
		{Quantity: "180 degrees, 350 V: phase fundamental, peak", Unit: "V", Figure: "222.817", Basis: Formula, Source: mohan, ours: table(pattern.SixStep180, fundamental)},
		{Quantity: "phase voltage, rms", Unit: "V", Figure: "164.992", Basis: Formula, Source: mohan, ours: table(pattern.SixStep180, phase)},
		{Quantity: "line voltage, rms", Unit: "V", Figure: "285.774", Basis: Formula, Source: mohan, ours: table(pattern.SixStep180, line)},
		{Quantity: "line voltage, THD", Unit: "%", Figure: "31.0842", Basis: Formula, Source: mohan, ours: wave(six, spectrum.Line, 350, thd)},
		{Quantity: "line voltage, weighted THD", Unit: "%", Figure: "4.63804", Basis: Formula, Source: holmes, ours: wave(six, spectrum.Line, 350, weightedTHD)},
		{Quantity: "5th over the fundamental", Unit: "%", Figure: "20.0000", Basis: Formula, Source: rashid, ours: wave(six, spectrum.Phase, 350, share(5))},
		{Quantity: "7th over the fundamental", Unit: "%", Figure: "14.2857", Basis: Formula, Source: rashid, ours: wave(six, spectrum.Phase, 350, share(7))},
		{Quantity: "120 degrees, 350 V: phase fundamental, peak", Unit: "V", Figure: "192.965", Basis: Formula, Source: bimbhra, ours: table(pattern.SixStep120, fundamental)},
		{Quantity: "line voltage, rms", Unit: "V", Figure: "247.487", Basis: Formula, Source: bimbhra, ours: table(pattern.SixStep120, line)},
		{Quantity: "150 degrees, 350 V: phase voltage, rms", Unit: "V", Figure: "154.335", Basis: Formula, Source: stepped, ours: table(pattern.TwelveStep150, phase)},
		{Quantity: "line voltage, THD", Unit: "%", Figure: "16.8633", Basis: Formula, Source: stepped, ours: wave(twelve, spectrum.Line, 350, thd)},
	}
}

// sine returns settings of a carrier pattern with a carrier so fast that it does not matter to how many digits
// tables have.
func sine(k pattern.Kind, m float64) pattern.Settings {
	return pattern.Settings{Kind: k, Modulation: m, CarrierRatio: 201}
}

func carriers() []Check {
	const n = 201
	pole := func(m float64, order int) func() (float64, error) {
		return wave(sine(pattern.SineTriangle, m), spectrum.Pole, 2, peak(order))
	}
	line := func(order int) func() (float64, error) {
		rms := func(w spectrum.Wave) float64 { return peak(order)(w) / math.Sqrt2 }
		return wave(sine(pattern.SineTriangle, 0.8), spectrum.Line, 1, rms)
	}
	sampled := func(s pattern.Sampling, order int) func() (float64, error) {
		return wave(pattern.Settings{Kind: pattern.SineTriangle, Sampling: s, Modulation: 0.8, CarrierRatio: 21}, spectrum.Pole, 2, peak(order))
	}
	over := pattern.Settings{Kind: pattern.SineTriangle, Modulation: 1.2, CarrierRatio: 501}
	lag := func(w spectrum.Wave) float64 {
		var h [1]spectrum.Harmonic
		w.Harmonics(h[:])
		return -h[0].Angle * 180 / math.Pi
	}
	regular := pattern.Settings{Kind: pattern.SineTriangle, Sampling: pattern.Regular, Modulation: 0.8, CarrierRatio: 21}
	return []Check{
		{Quantity: "pole over V/2: M = 0.2, carrier's order", Figure: "1.242", Basis: Printed, Source: mohanTable1, ours: pole(0.2, n)},
		{Quantity: "M = 0.8, carrier's order", Figure: "0.818", Basis: Printed, Source: mohanTable1, ours: pole(0.8, n)},
		{Quantity: "M = 0.8, two beside the carrier", Figure: "0.220", Basis: Printed, Source: mohanTable1, ours: pole(0.8, n+2)},
		{Quantity: "M = 0.8, one beside twice the carrier", Figure: "0.314", Basis: Printed, Source: mohanTable1, ours: pole(0.8, 2*n-1)},
		{Quantity: "M = 1, carrier's order", Figure: "0.601", Basis: Printed, Source: mohanTable1, ours: pole(1, n)},
		{Quantity: "line over V, M = 0.8: fundamental, rms", Figure: "0.490", Basis: Printed, Source: mohanTable2, ours: line(1)},
		{Quantity: "two beside the carrier", Figure: "0.135", Basis: Printed, Source: mohanTable2, ours: line(n + 2)},
		{Quantity: "one beside twice the carrier", Figure: "0.1925", Basis: Formula, Source: mohanTable2, ours: line(2*n + 1)},
		{Quantity: "pole: M = 0.8, THD", Unit: "%", Figure: "145.774", Basis: Formula, Source: holmes, ours: wave(sine(pattern.SineTriangle, 0.8), spectrum.Pole, 2, thd)},
		{Quantity: "sampled, M = 0.8, N = 21: regular-double, order 23", Figure: "0.23430", Basis: Formula, Source: bowes, Within: 2e-5 / 0.2343,
			Because: "the series' coefficient alone; orders fold back at N = 21", ours: sampled(pattern.RegularDouble, 23)},
		{Quantity: "regular, order 19", Figure: "0.20159", Basis: Formula, Source: bowes, Within: 2e-5 / 0.20159,
			Because: "the series' coefficient alone; orders fold back at N = 21", ours: sampled(pattern.Regular, 19)},
		{Quantity: "regular, lag of the fundamental", Unit: "deg", Figure: "8.571", Basis: Formula, Source: holmes, Within: 1e-4,
			Because: "as above", ours: wave(regular, spectrum.Pole, 2, lag)},
		{Quantity: "overmodulated, over V/2: M = 1.2, fundamental", Figure: "1.1045", Basis: Formula, Source: hava, Within: 1e-4,
			Because: "of a carrier without end; ours has 501 periods a turn", ours: wave(over, spectrum.Pole, 2, peak(1))},
	}
}

// greatest returns the peak of a pole's reference of modulation 1.
func greatest(k pattern.Kind) float64 {
	most := 0.0
	for i := range 36000 {
		most = max(most, pattern.Shape(k, balanced(1, 2*math.Pi*float64(i)/36000))[0])
	}
	return most
}

func balanced(m, theta float64) inverter.ABC {
	return inverter.Vector{Alpha: m * math.Cos(theta), Beta: m * math.Sin(theta)}.ABC()
}

func zeros() []Check {
	third := wave(sine(pattern.SpaceVector, 0.8), spectrum.Pole, 2, func(w spectrum.Wave) float64 { return peak(3)(w) / 0.8 })
	duty := func(k inverter.Phase) float64 {
		return (1 + pattern.Shape(pattern.SpaceVector, balanced(0.8, math.Pi/9))[k]) / 2
	}
	return []Check{
		{Quantity: "greatest linear M: sixth of third harmonic", Figure: "1.154701", Basis: Formula, Source: houldsworth, ours: known(1 / greatest(pattern.ThirdHarmonic))},
		{Quantity: "space-vector", Figure: "1.154701", Basis: Formula, Source: vanDerBroeck, ours: known(1 / greatest(pattern.SpaceVector))},
		{Quantity: "min-max: 3rd harmonic over M", Figure: "0.20675", Basis: Formula, Source: holmes, Within: 1e-3,
			Because: "of a carrier without end; ours has 201 periods a turn", ours: third},
		{Quantity: "dwell times, M = 0.8, 20 deg: duty of U", Figure: "0.841147", Basis: Formula, Source: vanDerBroeck, ours: known(duty(inverter.U))},
		{Quantity: "duty of V", Figure: "0.395811", Basis: Formula, Source: vanDerBroeck, ours: known(duty(inverter.V))},
		{Quantity: "duty of W", Figure: "0.158853", Basis: Formula, Source: vanDerBroeck, ours: known(duty(inverter.W))},
	}
}

func ripples() []Check {
	const endless = "of a carrier without end; ours has 99 periods a turn"
	ripple := func(k pattern.Kind, m float64) func() (float64, error) {
		return wave(pattern.Settings{Kind: k, Modulation: m, CarrierRatio: 99}, spectrum.Line, 1, func(w spectrum.Wave) float64 { return 99 * weightedTHD(w) })
	}
	late := func(order int) func() (float64, error) {
		s := pattern.Settings{Kind: pattern.SineTriangle, Frequency: 10, Modulation: 0.8, CarrierRatio: 1000}
		return func() (float64, error) {
			ideal, err := wave(s, spectrum.Phase, 350, peak(order))()
			if err != nil {
				return 0, err
			}
			s.DeadTime = 2e-6
			real, err := wave(s, spectrum.Phase, 350, peak(order))()
			return math.Abs(ideal - real), err
		}
	}
	return []Check{
		{Quantity: "N times weighted THD: sine-triangle, M = 0.8", Unit: "%", Figure: "49.989", Basis: Formula, Source: holmes, Within: 5e-3, Because: endless, ours: ripple(pattern.SineTriangle, 0.8)},
		{Quantity: "space-vector, M = 0.8", Unit: "%", Figure: "44.991", Basis: Formula, Source: holmes, Within: 5e-3, Because: endless, ours: ripple(pattern.SpaceVector, 0.8)},
		{Quantity: "clamped-60, M = 1", Unit: "%", Figure: "50.921", Basis: Formula, Source: holmes, Within: 5e-3, Because: endless, ours: ripple(pattern.Clamped60, 1)},
		{Quantity: "clamped-30, M = 1", Unit: "%", Figure: "45.414", Basis: Formula, Source: holmes, Within: 5e-3, Because: endless, ours: ripple(pattern.Clamped30, 1)},
		{Quantity: "dead time 2 us, 10 kHz, 350 V: off the 1st", Unit: "V", Figure: "8.913", Basis: Formula, Source: jeong, Within: 0.02, Because: "a mean over carrier periods", ours: late(1)},
		{Quantity: "off the 5th", Unit: "V", Figure: "1.783", Basis: Formula, Source: jeong, Within: 0.02, Because: "a mean over carrier periods", ours: late(5)},
	}
}
