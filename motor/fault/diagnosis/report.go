package diagnosis

import (
	"fmt"
	"math/cmplx"
	"slices"

	"sextant/inverter"
	"sextant/motor/fault/signature"
)

// A Report is what a capture says, named and in units as in its JSON.
type Report struct {
	Verdict     Fault    `json:"verdict"`
	At          string   `json:"at"` // a phase or a switch; empty for healthy and unclear
	Confidence  float64  `json:"confidence"`
	Because     string   `json:"because"`
	Ranked      []Ranked `json:"ranked"`
	Fundamental float64  `json:"fundamental_hz"`
	Samples     int      `json:"samples"`

	File     string  `json:"file"`
	From     float64 `json:"from_s"` // of the whole turns that the signs are of
	To       float64 `json:"to_s"`
	Turns    int     `json:"turns"`
	Sequence string  `json:"sequence"` // in which the currents follow each other: "U V W" or "U W V"
	Signs    *Signs  `json:"signs"`    // null where there is no whole turn
	// Alike is other faults whose currents look the same, so that something else must tell; an empty place is any.
	Alike    []Suspect `json:"alike"`
	Next     []string  `json:"next"` // what to look at next, safest and easiest first
	Cautions []string  `json:"cautions"`
	Notes    []string  `json:"notes"`

	reversed string // the phase whose clamp sits the wrong way round
}

// Signs is what the ranking goes by.
type Signs struct {
	Amplitude    float64      `json:"fundamental_peak_a"`
	Phases       []PhaseSigns `json:"phases"`
	MeanVector   float64      `json:"mean_vector_percent"` // over the fundamental's peak, as all the others
	MeanAngle    float64      `json:"mean_vector_deg"`
	Negative     float64      `json:"negative_sequence_percent"`
	Even         float64      `json:"even_orders_percent"`
	Odd          float64      `json:"odd_orders_percent"`
	SumMean      float64      `json:"sum_mean_percent"`
	SumLine      float64      `json:"sum_fundamental_percent"`
	SpeedChange  float64      `json:"speed_change_percent"` // over the turns
	Noise        float64      `json:"noise_rms_a"`
	RecorderStep float64      `json:"recorder_step_a"`
}

// PhaseSigns is of one phase. Shortfall is 0.5198 less the normalised mean absolute value.
type PhaseSigns struct {
	Phase       inverter.Phase `json:"phase"`
	Mean        float64        `json:"current_mean_a"`
	RMS         float64        `json:"current_rms_a"`
	Fundamental float64        `json:"fundamental_peak_a"`
	Shortfall   float64        `json:"mean_absolute_shortfall"`
}

// shown is how many suspects a report lists, and least the score from which on.
const (
	shown = 5
	least = 0.005
	// nearlyAlike is the score above which a fault that a scenario's simulation has compared is named with the verdict.
	nearlyAlike = 0.03
	// little is the score below which even the likeliest suspect explains too little to be weighed against others.
	little = 0.2
	// swinging is the negative sequence from which on the field swings more than it turns, one way or the other.
	swinging = 0.8
)

func (r *Report) note(format string, args ...any) {
	r.Notes = append(r.Notes, fmt.Sprintf(format, args...))
}

// take fills the report from the verdict.
func (r *Report) take(v verdict, expected *Expected) {
	r.Verdict, r.At, r.Confidence = v.Fault, v.At, v.score
	r.Ranked = []Ranked{}
	if r.Notes == nil {
		r.Notes = []string{}
	}
	if v.signs.Signature != nil {
		r.describe(&v.signs)
		for i := range v.ranked {
			if len(r.Ranked) < shown && v.ranked[i].Score >= least {
				v.ranked[i].Why = v.signs.why(v.ranked[i])
				r.Ranked = append(r.Ranked, v.ranked[i])
			}
		}
		if expected != nil {
			expected.compare(r, &v)
		}
	}
	if v.signs.Signature == nil {
		r.Ranked = append(r.Ranked, v.ranked...)
	}
	switch {
	case v.err != nil:
		r.Because = v.err.Error()
	case v.Fault == Unclear:
		r.Because = v.undecided()
	default:
		r.Because = v.ranked[0].Why
	}
	r.Alike = v.alike()
	if v.Fault == Healthy {
		if text := unseen(); text != "" {
			r.note("not every fault is in the currents; these often leave them healthy: %s", text)
		}
	}
	r.Next = next(v)
	if r.reversed != "" {
		r.Next = append([]string{fmt.Sprintf("With the drive dead, turn the clamp of phase %s round, its arrow to the machine, and record again.", r.reversed)}, r.Next...)
	}
}

// alike returns the faults that the currents cannot tell from the verdict. Those that a scenario's simulation has
// told apart are left out.
func (v *verdict) alike() []Suspect {
	all := []Suspect{}
	if v.Fault == Unclear {
		return all
	}
	for _, s := range alike(v.Suspect) {
		near := slices.ContainsFunc(v.ranked, func(r Ranked) bool { return r.Fault == s.Fault && r.Score > nearlyAlike })
		if !v.compared[s.Fault] || near {
			all = append(all, s)
		}
	}
	return all
}

// undecided says why the ranking decides nothing.
func (v *verdict) undecided() string {
	g, a := &v.signs, v.ranked[0]
	if g.even > evenBegins && cmplx.Abs(g.meanRaw) < 0.1*g.even && g.offset.size < sumBegins/2 {
		text := fmt.Sprintf("the half-waves differ (even harmonics %s) and yet there is hardly a mean (%s): ", percent(g.even), percent(cmplx.Abs(g.meanRaw)))
		if g.skew > bentBegins {
			return text + "clamps or inputs may be for alternating current only; record the direct part, too, which tells the switch"
		}
		return text + "a healthy bridge that chops only its upper or only its lower switches makes such; the drive's own scenario tells"
	}
	if len(v.ranked) < 2 || v.ranked[1].Score < least || a.Score < little {
		return fmt.Sprintf("nothing explains the signs well; %v comes nearest, at %.0f %%", a.Suspect, 100*a.Score)
	}
	b := v.ranked[1]
	text := fmt.Sprintf("no one explanation stands out: %v (%.0f %%), %v (%.0f %%)", a.Suspect, 100*a.Score, b.Suspect, 100*b.Score)
	faulty := a
	if a.Fault == Healthy {
		faulty = b
	}
	text += fmt.Sprintf("; for %v: %s", faulty.Suspect, g.why(faulty))
	if a.Fault == Healthy || b.Fault == Healthy {
		text += "; but that is little, as clamps and healthy drives err, too"
	}
	if g.Derived && (a.Fault == PhaseResistance && b.Fault == SensorGain || a.Fault == SensorGain && b.Fault == PhaseResistance) {
		text += "; with two currents recorded a clamp that reads too little looks as a bad joint does: record the third"
	}
	return text
}

func (r *Report) describe(g *signs) {
	r.Fundamental, r.From, r.To, r.Turns = g.Hz, g.From, g.To, g.Turns
	r.Sequence = "U V W"
	if g.Reversed {
		r.Sequence = "U W V"
	}
	if g.Reversed && g.Negative() < swinging {
		r.note("the currents follow each other U W V: the machine turns backwards, or two leads or two clamps are crossed; three currents cannot tell which")
	}
	length, angle := g.MeanVector()
	s := &Signs{
		Amplitude: g.amplitude, MeanVector: 100 * length, MeanAngle: degrees(angle), Negative: 100 * g.Negative(),
		Even: 100 * g.Even(), Odd: 100 * g.Odd(), SumMean: 100 * g.SumMean / g.amplitude, SumLine: 100 * cmplx.Abs(g.SumLine) / g.amplitude,
		SpeedChange: 100 * g.Drift, Noise: g.Noise, RecorderStep: g.Step,
	}
	for _, p := range inverter.Phases {
		s.Phases = append(s.Phases, PhaseSigns{p, g.Mean[p], g.RMS[p], cmplx.Abs(g.Fundamental[p]), g.shortfall[p]})
	}
	r.Signs = s
	if g.Turns == 1 {
		r.note("there is but one whole turn; three or more make surer")
	}
	if g.SumMean != 0 && !g.Derived && g.offset.size > 0.03 && g.offset.size < sumBegins {
		r.note("the currents sum to a mean of %.3g A: zero the clamps", g.SumMean)
	}
	if per := float64(g.Samples) / float64(g.Turns); per < 2*signature.Orders {
		r.note("%.0f samples a turn resolve few harmonics; 50 or more are better", per)
	}
}
