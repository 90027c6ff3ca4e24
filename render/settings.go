package render

import (
	"math"
	"strconv"

	"sextant/inverter/pattern"
	"sextant/motor/drive"
)

// mostSettings is how many rows of settings the ledger has room for.
const mostSettings = 6

// settings lists what the supply and the gating are set to, the most telling first.
func (p *pen) settings() [][2]string {
	s := p.v.Scenario
	if s == nil {
		return nil
	}
	g := &s.Gating
	rows := [][2]string{{"pattern", g.Kind.String()}, {"supply", quantity(s.Supply.Voltage, "V")}}
	add := func(name, value string) { rows = append(rows, [2]string{name, value}) }
	switch {
	case g.Follow == drive.Rotor:
		add("follows", "rotor")
		add("advance", degrees(g.Advance))
		if g.Chop > 0 && g.Chop < 1 {
			add("chop", strconv.FormatFloat(g.Chop, 'f', 3, 64))
		}
	case g.Follow == drive.Current && g.SpeedLoop:
		add("asked speed", figures(g.SpeedCommand*30/math.Pi, 5000)+" rpm")
	case g.Follow == drive.Current:
		add("asked d", quantity(g.ID, "A"))
		add("asked q", quantity(g.IQ, "A"))
	case g.Kind < pattern.AllOff:
		add("frequency", quantity(g.Frequency, "Hz"))
		if g.Kind.Compares() {
			add("modulation", strconv.FormatFloat(g.Modulation, 'f', 3, 64))
		}
	}
	switch {
	case g.Follow == drive.Clock && !g.Kind.Compares() && g.Kind != pattern.PulsedLow:
	case g.Carrier > 0:
		add("carrier", quantity(g.Carrier, "Hz"))
	case g.CarrierRatio > 0:
		add("carrier ratio", strconv.FormatFloat(g.CarrierRatio, 'g', 4, 64))
	}
	if g.DeadTime > 0 {
		add("dead time", quantity(g.DeadTime, "s"))
	}
	return rows[:min(len(rows), mostSettings)]
}
