package main

import (
	"math"
	"strings"

	"sextant/inverter/loss"
	"sextant/render/plots"
)

// figure returns the picture of the comparison.
func (l *losses) figure(found []loss.Result) *plots.Losses {
	f := &plots.Losses{Title: "What the bridge turns to heat", Subtitle: strings.Split(l.described(), "\n"), Theme: l.plot.theme}
	for i, r := range found {
		const six = 6
		m := &r.Mean
		bar := plots.LossBar{Name: l.devices[i].short(), Parts: []plots.LossPart{
			{Name: "channel", Watts: six * m.Conduction},
			{Name: "diode", Watts: six * m.Diode},
			{Name: "turn-on", Watts: six * m.TurnOn},
			{Name: "turn-off", Watts: six * m.TurnOff},
			{Name: "recovery", Watts: six * m.Recovery},
		}}
		if !l.point.Fixed {
			bar.Note = "hottest junction " + fixed(r.Peak(), 0) + " °C"
		}
		if r.Settling.Runaway {
			bar.Note = "thermal runaway"
		}
		f.Bars = append(f.Bars, bar)
	}
	s := &l.sweep
	if !s.set {
		return f
	}
	f.Curves = &plots.LossCurves{Label: s.of.Label(), Unit: unitOf[s.of], Watts: make([][]float64, len(found)), Here: math.NaN()}
	for _, p := range s.points {
		f.Curves.X = append(f.Curves.X, p.at)
		for i, r := range p.results {
			f.Curves.Watts[i] = append(f.Curves.Watts[i], r.Bridge)
		}
	}
	for _, e := range s.evens {
		r, err := loss.Of(&l.devices[e.a].device, l.point.With(s.of, e.at))
		if err == nil {
			f.Curves.BreakEven = append(f.Curves.BreakEven, plots.LossMark{X: e.at, Watts: r.Bridge, Name: "break-even " + s.of.Dimension().Format(e.at, 3)})
		}
	}
	if here := l.point.Of(s.of); here >= s.from && here <= s.to {
		f.Curves.Here = here
	}
	return f
}
