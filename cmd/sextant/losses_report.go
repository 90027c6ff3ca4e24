package main

import (
	"sextant/inverter"
	"sextant/inverter/device"
	"sextant/inverter/loss"
)

// lossesReport is what --json prints.
type lossesReport struct {
	Devices []deviceLosses `json:"devices"`
	Sweep   *sweepReport   `json:"sweep,omitempty"`
}

// deviceLosses is of one device. Switch and diode are one of six: the mean of all, where they differ.
type deviceLosses struct {
	Device     string            `json:"device"`
	Name       string            `json:"name"`
	Technology device.Technology `json:"technology"`
	positionLosses
	Upper      *positionLosses    `json:"upper,omitempty"`
	Lower      *positionLosses    `json:"lower,omitempty"`
	Positions  []standstillLosses `json:"positions,omitempty"`
	Bridge     float64            `json:"bridge_w"`
	Output     float64            `json:"output_w"`
	Efficiency *float64           `json:"efficiency_percent"` // null where nothing comes out
	Settling   loss.Settling      `json:"settling"`
	Notices    []string           `json:"notices"`
	Limit      *limitReport       `json:"limit,omitempty"`
}

type positionLosses struct {
	Switch switchLosses `json:"switch"`
	Diode  diodeLosses  `json:"diode"`
}

type switchLosses struct {
	Conduction float64 `json:"conduction_w"`
	TurnOn     float64 `json:"turn_on_w"`
	TurnOff    float64 `json:"turn_off_w"`
	Junction   float64 `json:"junction_c"`
	Peak       float64 `json:"junction_peak_c"`
}

type diodeLosses struct {
	Conduction float64 `json:"conduction_w"`
	Recovery   float64 `json:"recovery_w"`
	Junction   float64 `json:"junction_c"`
	Peak       float64 `json:"junction_peak_c"`
}

// standstillLosses is of one position at standstill.
type standstillLosses struct {
	At inverter.Switch `json:"at"`
	positionLosses
}

type sweepReport struct {
	Of        string           `json:"of"` // the key of the quantity
	Points    []map[string]any `json:"points"`
	BreakEven []map[string]any `json:"break_even"`
}

func positionOf(p loss.Position) positionLosses {
	return positionLosses{
		switchLosses{p.Conduction, p.TurnOn, p.TurnOff, p.SwitchJunction.Mean, p.SwitchJunction.Peak},
		diodeLosses{p.Diode, p.Recovery, p.DiodeJunction.Mean, p.DiodeJunction.Peak},
	}
}

func (l *losses) report(found []loss.Result, limits []limitReport) lossesReport {
	r := lossesReport{Devices: l.reports(found)}
	for i := range limits {
		r.Devices[i].Limit = &limits[i]
	}
	if !l.sweep.set {
		return r
	}
	key := l.sweep.of.Key()
	r.Sweep = &sweepReport{Of: key, BreakEven: []map[string]any{}}
	for _, p := range l.sweep.points {
		r.Sweep.Points = append(r.Sweep.Points, map[string]any{key: p.at, "devices": l.reports(p.results)})
	}
	for _, e := range l.sweep.evens {
		r.Sweep.BreakEven = append(r.Sweep.BreakEven, map[string]any{key: e.at, "devices": []string{l.devices[e.a].asked, l.devices[e.b].asked}})
	}
	return r
}

func (l *losses) reports(results []loss.Result) []deviceLosses {
	reports := make([]deviceLosses, len(results))
	for i, r := range results {
		d := &l.devices[i]
		x := deviceLosses{
			Device: d.asked, Name: d.device.Name, Technology: d.device.Technology,
			positionLosses: positionOf(r.Mean), Bridge: r.Bridge, Output: r.Output,
			Settling: r.Settling, Notices: append([]string{}, r.Notices...),
		}
		e, ok := r.Efficiency()
		x.Efficiency = percent(e, ok)
		if r.Differ {
			upper, lower := positionOf(r.Upper), positionOf(r.Lower)
			x.Upper, x.Lower = &upper, &lower
		}
		for _, s := range inverter.Switches {
			if p, ok := r.Standstill[s]; ok {
				x.Positions = append(x.Positions, standstillLosses{s, positionOf(p)})
			}
		}
		reports[i] = x
	}
	return reports
}
