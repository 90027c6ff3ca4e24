package handout

import (
	"fmt"
	"math"
	"math/rand/v2"

	"sextant/inverter"
)

// sketch gives gate signals, under which voltages are to be drawn.
func sketch(r *rig, rng *rand.Rand) (Exercise, error) {
	if r.kind.Stepped() {
		return sketchTurn(r, rng)
	}
	return sketchPeriod(r, rng)
}

// sketchTurn is of one electrical turn of steps.
func sketchTurn(r *rig, rng *rand.Rand) (Exercise, error) {
	t, err := turnOf(r, rng)
	if err != nil {
		return Exercise{}, err
	}
	start := t.Steps[0].From
	w := &waves{axis: "angle of the fundamental's voltage vector", x0: start, x1: start + 360}
	for i, x := 0, start; i < len(t.Steps); i++ {
		w.edges, w.gates = append(w.edges, x), append(w.gates, t.Steps[i].Gates)
		x += t.Steps[i].To - t.Steps[i].From
	}
	w.shown = upperOf(w.gates)
	for k := range 13 {
		x := tick{at: start + 30*float64(k)}
		if k%2 == 0 {
			x.label = degrees(x.at)
		}
		w.ticks = append(w.ticks, x)
	}
	ask := fmt.Sprintf("The gate signals are those of one turn of the pattern %v on a supply of %s.", r.kind, Given{Value: t.Supply, Unit: "V"}.text())
	return w.exercise(ask, t.Supply, rng), nil
}

// upperOf returns the switches whose signals tell all: the upper three where the lower ones are their opposites.
func upperOf(gates []inverter.Gates) []inverter.Switch {
	for _, g := range gates {
		if !g.Complete() {
			return inverter.Switches[:]
		}
	}
	return []inverter.Switch{inverter.UHigh, inverter.VHigh, inverter.WHigh}
}

// sketchPeriod is of one period of a carrier.
func sketchPeriod(r *rig, rng *rand.Rand) (Exercise, error) {
	for range tries {
		m := between(0.5, 0.96, 0.02)(r, rng)
		angle := float64(rng.IntN(360))
		fc := carrier.of(r, rng)
		supply := sixths(r, rng)
		p := periodOf(r.kind, m, angle*math.Pi/180, fc)
		w := &waves{axis: "time, µs", x1: 1e6 * p.length, gates: p.gates}
		shortest := math.Inf(1)
		for i, t := range p.edges {
			w.edges = append(w.edges, 1e6*t)
			shortest = min(shortest, (p.end(i)-t)/p.length)
		}
		if shortest < 0.035 || tied(r.kind, reference(m, angle*math.Pi/180)) {
			continue // too narrow to be drawn by hand, or not to be foretold
		}
		w.shown = upperOf(w.gates)
		w.ticks = ticks(0, w.x1, 24)
		ask := fmt.Sprintf("The gate signals are those of one carrier period of the pattern %v at %s on a supply of %s; a lower switch is on while its upper one is off.",
			r.kind, Given{Value: fc, Unit: "Hz"}.text(), Given{Value: supply, Unit: "V"}.text())
		x := w.exercise(ask, supply, rng)
		x.Given = append(x.Given, Given{"M", m, ""}, Given{"a", angle, "deg"}, Given{"fc", fc, "Hz"})
		return x, nil
	}
	return Exercise{}, fmt.Errorf("exercise sketch: no carrier period of %v has pulses wide enough to draw", r.kind)
}

// exercise asks for three voltages.
func (w *waves) exercise(ask string, supply float64, rng *rand.Rand) Exercise {
	w.most = 1.1 * supply
	for k := -6; k <= 6; k++ {
		x := tick{at: supply * float64(k) / 6}
		if k%3 == 0 {
			x.label = whole(x.at)
		}
		w.levels = append(w.levels, x)
	}
	a, b := inverter.Phase(rng.IntN(3)), inverter.Phase(rng.IntN(3))
	line := a.String() + a.Next().String()
	w.lanes = []lane{
		{name: "pole " + a.String(), phase: a}, {name: "line " + line, phase: a}, {name: "phase " + b.String(), phase: b},
	}
	for _, g := range w.gates {
		pole := g.Poles(supply)
		for i, x := range []float64{pole[a], pole.Lines()[a], pole.Star()[b]} {
			w.lanes[i].values = append(w.lanes[i].values, x)
		}
	}
	ask += fmt.Sprintf(" Sketch under them the pole voltage of %v, taken from the negative rail, the line voltage %s and the phase voltage of %v.", a, line, b)
	return Exercise{
		Name: "sketch", Ask: ask, Figure: w, Points: 6, Answer: "The curves drawn:",
		Working: fmt.Sprintf("Line %s = pole %v - pole %v; phase %v = pole %v - (pole U + pole V + pole W)/3.", line, a, a.Next(), b, b),
		Given:   []Given{{"V", supply, "V"}},
	}
}
