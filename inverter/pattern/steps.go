package pattern

import (
	"math"

	"sextant/inverter"
)

// A Table is one electrical turn of a stepped pattern with its voltages, in V and degrees; its JSON is the
// calculator's.
type Table struct {
	Pattern Kind    `json:"pattern"`
	Supply  float64 `json:"supply_v"`
	Steps   []Step  `json:"steps"`

	PhaseFundamental float64 `json:"phase_fundamental_v"` // peak
	PhaseRMS         float64 `json:"phase_rms_v"`
	LineRMS          float64 `json:"line_rms_v"`
	LineTHD          float64 `json:"line_thd_percent"` // from the exact rms
}

// A Step is a stretch of the turn in which no switch changes. Angles are those of the fundamental voltage
// vector, Field that of the voltages of the step itself. A leg with neither switch on is held at the star
// point of a resistive load.
type Step struct {
	Number int            `json:"step"` // from 1
	From   float64        `json:"from_deg"`
	To     float64        `json:"to_deg"`
	Gates  inverter.Gates `json:"-"`
	On     []string       `json:"on"`
	Pole   inverter.ABC   `json:"pole_v"`
	Line   inverter.ABC   `json:"line_v"`
	Phase  inverter.ABC   `json:"phase_v"`
	Field  float64        `json:"field_deg"` // 0 to 360
}

// Steps returns the table of a stepped pattern under a supply in V. It fails with a *SettingError for patterns that
// have no steps and for a supply that is not a finite, positive number.
func Steps(k Kind, supply float64) (Table, error) {
	if !k.Stepped() {
		return Table{}, wrong("pattern", "%v has no table of steps; patterns that have are %v, %v and %v",
			k, SixStep180, SixStep120, TwelveStep150)
	}
	if !(supply > 0) || math.IsInf(supply, 1) {
		return Table{}, wrong("supply", "%g V is out of range; give a positive voltage", supply)
	}
	q := sequences[k]
	n := len(q.gates)
	t := Table{Pattern: k, Supply: supply, Steps: make([]Step, n)}
	width := 360 / float64(n)
	var fundamental, phase, line float64
	for i, g := range q.gates {
		pole := g.Poles(supply)
		s := Step{
			Number: i + 1, From: (float64(i) - q.lead) * width, To: (float64(i) + 1 - q.lead) * width,
			Gates: g, On: g.Names(), Pole: pole, Line: pole.Lines(), Phase: pole.Star(),
			Field: (float64(i) + 0.5 - q.lead) * width,
		}
		t.Steps[i] = s
		// Over one step, of width a about the angle m, 1/π ∫ u cos θ dθ = 2u/π sin(a/2) cos m.
		const rad = math.Pi / 180
		fundamental += 2 / math.Pi * s.Phase[inverter.U] * math.Sin(width/2*rad) * math.Cos(s.Field*rad)
		phase += s.Phase[inverter.U] * s.Phase[inverter.U] / float64(n)
		line += s.Line[inverter.U] * s.Line[inverter.U] / float64(n)
	}
	t.PhaseFundamental, t.PhaseRMS, t.LineRMS = fundamental, math.Sqrt(phase), math.Sqrt(line)
	first := fundamental * sqrt3 / math.Sqrt2 // rms of the line voltage's fundamental
	t.LineTHD = 100 * math.Sqrt(line/(first*first)-1)
	return t, nil
}
