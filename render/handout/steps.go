package handout

import (
	"fmt"
	"math/rand/v2"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// sixths draws a supply near the rig's of which thirds and halves are whole volts.
func sixths(r *rig, rng *rand.Rand) float64 {
	unit := 6.0
	if r.supply > 120 {
		unit = 30
	}
	n := max(int(r.supply*(0.7+0.6*rng.Float64())/unit), 1)
	return unit * float64(n)
}

// turnOf returns the table of steps of a rig's pattern, begun at a random step.
func turnOf(r *rig, rng *rand.Rand) (pattern.Table, error) {
	t, err := pattern.Steps(r.kind, sixths(r, rng))
	if err != nil {
		return t, err
	}
	k := rng.IntN(len(t.Steps))
	t.Steps = append(append([]pattern.Step(nil), t.Steps[k:]...), t.Steps[:k]...)
	return t, nil
}

// switchingTable is one turn to be filled in; its first row is given.
func switchingTable(r *rig, rng *rand.Rand) (Exercise, error) {
	t, err := turnOf(r, rng)
	if err != nil {
		return Exercise{}, err
	}
	table := Table{Groups: []Group{
		{"", []string{"from", "to", "switches on", "vector at"}},
		{"pole voltages, V", []string{"U", "V", "W"}},
		{"line voltages, V", []string{"UV", "VW", "WU"}},
		{"phase voltages, V", []string{"U", "V", "W"}},
	}}
	for i, s := range t.Steps {
		cells := append(row(true, degrees(s.From), degrees(s.To)), row(i == 0, s.Gates.String(), degrees(s.Field))...)
		for _, v := range []inverter.ABC{s.Pole, s.Line, s.Phase} {
			cells = append(cells, row(i == 0, whole(v[0]), whole(v[1]), whole(v[2]))...)
		}
		table.Rows = append(table.Rows, cells)
	}
	supply := Given{"V", t.Supply, "V"}
	ask := fmt.Sprintf("Fill in one electrical turn of the pattern %v on a supply of %s. Angles are those of the fundamental's voltage vector; the first row is an example.", r.kind, supply.text())
	working := "Line UV = pole U - pole V; phase U = (2 pole U - pole V - pole W)/3."
	if !t.Steps[0].Gates.Complete() || !t.Steps[1].Gates.Complete() {
		ask += " A terminal with neither switch on lies at the star point of a resistive load."
	}
	return Exercise{
		Name: "switching table", Ask: ask, Table: &table, Points: len(t.Steps), Answer: "The table filled in:", Working: working,
		Given: []Given{supply},
	}, nil
}

// degrees returns an angle in degrees as it is written, from 0 to 359.
func degrees(deg float64) string {
	for deg < 0 {
		deg += 360
	}
	for deg >= 360 {
		deg -= 360
	}
	return whole(deg) + "°"
}
