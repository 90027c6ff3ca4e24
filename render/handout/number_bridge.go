package handout

import (
	"math"
	"math/rand/v2"
	"slices"
	"sync"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/inverter/spectrum"
)

func supplyOf(r *rig) float64 { return r.supply }

var (
	voltage   = draw{"V", "V", around(supplyOf)}
	frequency = draw{"f", "Hz", around(func(r *rig) float64 { return r.frequency })}
	carrier   = draw{"fc", "Hz", around(func(r *rig) float64 { return r.carrier })}
	depth     = draw{"M", "", between(0.5, 0.98, 0.02)}
)

// of returns what asks for one pattern.
func of(k pattern.Kind) func(*rig) bool { return func(r *rig) bool { return r.kind == k } }

// byKind makes a question for each stepped pattern, whose working differs.
func byKind(q question, working map[pattern.Kind]string) (all []question) {
	for _, k := range []pattern.Kind{pattern.SixStep180, pattern.SixStep120, pattern.TwelveStep150} {
		if text, ok := working[k]; ok {
			x := q
			x.suits, x.working, x.name = of(k), text, q.name+" "+k.String()
			if q.suits != nil {
				x.suits = func(r *rig) bool { return r.kind == k && q.suits(r) }
			}
			all = append(all, x)
		}
	}
	return all
}

// table returns a figure of the table of steps.
func table(of func(t *pattern.Table) float64) func(*rig, values) (float64, error) {
	return func(r *rig, v values) (float64, error) {
		t, err := pattern.Steps(r.kind, v["V"])
		return of(&t), err
	}
}

var steppedQuestions = slices.Concat(
	byKind(question{
		name: "phase fundamental", given: []draw{voltage}, unit: "V",
		ask:    "The supply is <V>. How high is the peak of the fundamental of a phase voltage?",
		answer: table(func(t *pattern.Table) float64 { return t.PhaseFundamental }),
	}, map[pattern.Kind]string{
		pattern.SixStep180:    "û_{1} = 2/π · V = 2/π · <V>",
		pattern.SixStep120:    "û_{1} = √3/π · V = √3/π · <V>",
		pattern.TwelveStep150: "û_{1} = 6/π · sin 15° · (2/3 + 1/√3) · V = 0.6149 · <V>",
	}),
	byKind(question{
		name: "phase rms", given: []draw{voltage}, unit: "V",
		ask:    "The supply is <V>. What is the rms value of a phase voltage, all harmonics included?",
		answer: table(func(t *pattern.Table) float64 { return t.PhaseRMS }),
	}, map[pattern.Kind]string{
		pattern.SixStep180:    "U = √2/3 · V = √2/3 · <V>",
		pattern.SixStep120:    "U = V/√6 = <V>/√6",
		pattern.TwelveStep150: "U = √7/6 · V = √7/6 · <V>",
	}),
	byKind(question{
		name: "line rms", given: []draw{voltage}, unit: "V",
		ask:    "The supply is <V>. What does a true-rms voltmeter read between two terminals?",
		answer: table(func(t *pattern.Table) float64 { return t.LineRMS }),
	}, map[pattern.Kind]string{
		pattern.SixStep180:    "U = √(2/3) · V = √(2/3) · <V>",
		pattern.SixStep120:    "U = V/√2 = <V>/√2",
		pattern.TwelveStep150: "U = √21/6 · V = √21/6 · <V>",
	}),
	byKind(question{
		name: "harmonic", given: []draw{voltage, {"n", "", among(5, 7, 11, 13)}}, unit: "V",
		ask: "The supply is <V>. How high is the peak of the harmonic of order <n> of a phase voltage?",
		answer: func(r *rig, v values) (float64, error) {
			w, err := spectrum.Of(pattern.Settings{Kind: r.kind, Frequency: 50}, spectrum.Phase, v["V"], 0)
			if err != nil {
				return 0, err
			}
			h := make([]spectrum.Harmonic, int(v["n"]))
			w.Harmonics(h)
			return h[len(h)-1].Peak, nil
		},
	}, map[pattern.Kind]string{
		pattern.SixStep180: "û_{n} = 2 V/(π n) = 2 · <V>/(π · <n>)",
		pattern.SixStep120: "û_{n} = √3 V/(π n) = √3 · <V>/(π · <n>)",
	}),
	byKind(question{
		name: "step", given: []draw{frequency}, unit: "s",
		ask: "The frequency is <f>. How long does one step last?",
		answer: func(r *rig, v values) (float64, error) {
			s, err := pattern.New(pattern.Settings{Kind: r.kind, Frequency: v["f"]})
			if err != nil {
				return 0, err
			}
			first, _ := s.Next()
			second, _ := s.Next()
			return second - first, nil
		},
	}, map[pattern.Kind]string{
		pattern.SixStep180:    "t = 1/(6 f) = 1/(6 · <f>)",
		pattern.SixStep120:    "t = 1/(6 f) = 1/(6 · <f>)",
		pattern.TwelveStep150: "t = 1/(12 f) = 1/(12 · <f>)",
	}),
)

// fast is a carrier so much faster than the fundamental that its ratio does not show in five figures.
const fast = 999

// fundamentals remembers those that were worked out, over the supply: a fast carrier has many edges.
var fundamentals sync.Map

// fundamental returns the peak of the fundamental of a voltage, the carrier being fast.
func fundamental(k pattern.Kind, of spectrum.Voltage, supply, m float64) (float64, error) {
	s := pattern.Settings{Kind: k, Frequency: 50, Modulation: m, CarrierRatio: fast}
	key := struct {
		pattern.Settings
		spectrum.Voltage
	}{s, of}
	if peak, ok := fundamentals.Load(key); ok {
		return supply * peak.(float64), nil
	}
	w, err := spectrum.Of(s, of, 1, 0)
	if err != nil {
		return 0, err
	}
	var h [1]spectrum.Harmonic
	w.Harmonics(h[:])
	fundamentals.Store(key, h[0].Peak)
	return supply * h[0].Peak, nil
}

func compares(r *rig) bool { return r.kind.Compares() }

// injects reports whether the pattern adds a zero sequence.
func injects(r *rig) bool { return compares(r) && r.kind != pattern.SineTriangle }

var carrierQuestions = []question{
	{
		name: "carrier phase fundamental", suits: compares, given: []draw{voltage, depth}, unit: "V",
		ask:     "The supply is <V>, the modulation index <M> and the carrier fast. How high is the peak of the fundamental of a phase voltage?",
		working: "û_{1} = M · V/2 = <M> · <V>/2",
		answer: func(r *rig, v values) (float64, error) {
			return fundamental(r.kind, spectrum.Phase, v["V"], v["M"])
		},
	},
	{
		name: "carrier line rms", suits: compares, given: []draw{voltage, depth}, unit: "V",
		ask:     "The supply is <V>, the modulation index <M> and the carrier fast. What is the rms value of the fundamental between two terminals?",
		working: "U_{1} = √3/√2 · M · V/2 = √3/√2 · <M> · <V>/2",
		answer: func(r *rig, v values) (float64, error) {
			peak, err := fundamental(r.kind, spectrum.Line, v["V"], v["M"])
			return peak / math.Sqrt2, err
		},
	},
	{
		name: "greatest sine-triangle", suits: of(pattern.SineTriangle), given: []draw{voltage}, unit: "V",
		ask:     "The supply is <V>. What is the highest peak of a phase voltage's fundamental before the reference is clipped?",
		working: "û_{1} = V/2 = <V>/2",
		answer:  func(r *rig, v values) (float64, error) { return r.kind.Linear() * v["V"] / 2, nil },
	},
	{
		name: "greatest with zero sequence", suits: injects, given: []draw{voltage}, unit: "V",
		ask:     "The supply is <V>. What is the highest peak of a phase voltage's fundamental before the reference is clipped?",
		working: "û_{1} = V/√3 = <V>/√3",
		answer:  func(r *rig, v values) (float64, error) { return r.kind.Linear() * v["V"] / 2, nil },
	},
	{
		name: "index", suits: compares, given: []draw{voltage, {"U", "V", func(r *rig, rng *rand.Rand) float64 {
			return figures2(r.supply * (0.16 + 0.14*rng.Float64()))
		}}}, unit: "",
		ask:     "A machine needs phase voltages of <U> peak. Which modulation index gives them on a supply of <V>?",
		working: "M = 2 û/V = 2 · <U>/<V>",
		answer: func(r *rig, v values) (float64, error) {
			one, err := fundamental(r.kind, spectrum.Phase, v["V"], 0.5)
			return 0.5 * v["U"] / one, err // in proportion, as long as nothing is clipped
		},
	},
	{
		name: "active time", suits: compares, unit: "s",
		given:   []draw{{"M", "", between(0.5, 0.98, 0.02)}, {"a", "deg", between(8, 52, 1)}, carrier},
		ask:     "The carrier has <fc>, the modulation index is <M>, and the reference vector stands at <a>. For how long in a carrier period is the state U+ V- W- on?",
		working: "t = √3/2 · M/f_{c} · sin(60° - θ) = √3/2 · <M>/<fc> · sin(60° - <a>)",
		answer: func(r *rig, v values) (float64, error) {
			return stateTime(periodOf(r.kind, v["M"], v["a"]*math.Pi/180, v["fc"]), inverter.Active[0]), nil
		},
	},
	{
		name: "dead time", suits: compares, given: []draw{voltage, carrier, {"td", "s", between(1e-6, 4e-6, 2e-7)}}, unit: "V",
		ask:     "The supply is <V>, the carrier has <fc> and the dead time is <td>. How much lower is the mean voltage of a leg, while its current flows out to the machine?",
		working: "ΔU = t_{d} · f_{c} · V = <td> · <fc> · <V>",
		answer:  deadTimeDrop,
	},
	{
		name: "sideband", suits: of(pattern.SineTriangle), unit: "Hz",
		given:   []draw{{"f", "Hz", between(20, 120, 1)}, {"N", "", among(21, 27, 33, 39, 45, 51)}},
		ask:     "The fundamental has <f> and the carrier <N> times as much. Of the lines above the carrier's frequency, at which lies the highest in the voltage between two terminals, with a modulation index of 0.8?",
		working: "f = f_{c} + 2 f_{1} = (<N> + 2) · <f>",
		answer: func(_ *rig, v values) (float64, error) {
			w, err := spectrum.Of(pattern.Settings{Kind: pattern.SineTriangle, Frequency: v["f"], Modulation: 0.8, CarrierRatio: v["N"]}, spectrum.Line, 1, 0)
			if err != nil {
				return 0, err
			}
			n := int(v["N"])
			h := make([]spectrum.Harmonic, n+10)
			w.Harmonics(h)
			best := h[n]
			for _, x := range h[n:] {
				if x.Peak > best.Peak {
					best = x
				}
			}
			return float64(best.Order) * v["f"], nil
		},
	},
}

// deadTimeDrop compares how long an upper switch is on with and without a dead time, the reference standing still.
func deadTimeDrop(r *rig, v values) (float64, error) {
	if v["td"]*v["fc"] > 0.1 {
		return 0, errRedraw
	}
	on := func(deadTime float64) (float64, error) {
		s, err := pattern.New(pattern.Settings{Kind: pattern.SineTriangle, Modulation: 0.5, Carrier: v["fc"], DeadTime: deadTime})
		if err != nil {
			return 0, err
		}
		from, to := 2/v["fc"], 3/v["fc"]
		t, sum := 0.0, 0.0
		for t < to {
			g := s.Gates()
			next, _ := s.Next()
			if g.Has(inverter.UHigh) {
				sum += max(0, min(next, to)-max(t, from))
			}
			t = next
		}
		return sum, nil
	}
	without, err := on(0)
	if err != nil {
		return 0, err
	}
	with, err := on(v["td"])
	return (without - with) * v["fc"] * v["V"], err
}

// A period is a carrier period of a pattern whose reference is held: times from 0, in s, and the gates from each on.
type period struct {
	length float64
	edges  []float64
	gates  []inverter.Gates
}

// reference returns the three references of modulation m at an angle, in rad.
func reference(m, angle float64) inverter.ABC {
	return inverter.Vector{Alpha: m * math.Cos(angle), Beta: m * math.Sin(angle)}.ABC()
}

// tied reports whether a pattern that goes by the greater of the highest and the lowest reference has to choose between
// two that are as great.
func tied(k pattern.Kind, ref inverter.ABC) bool {
	high, low := max(ref[0], ref[1], ref[2]), min(ref[0], ref[1], ref[2])
	return (k == pattern.Clamped60 || k == pattern.Clamped30) && math.Abs(high+low) < 0.02
}

// periodOf returns the carrier period of a pattern with a reference of modulation m at an angle, in rad.
func periodOf(k pattern.Kind, m, angle, carrier float64) period {
	ref := reference(m, angle)
	p := period{length: 1 / carrier}
	for i, half := range []pattern.Half{
		pattern.HalfPeriod(k, ref, 0, 0.5/carrier, true),
		pattern.HalfPeriod(k, ref, 0.5/carrier, 1/carrier, false),
	} {
		p.add(float64(i)*0.5/carrier, half.Start)
		for _, e := range half.Edges[:half.N] {
			p.add(e.Time, e.Gates)
		}
	}
	return p
}

func (p *period) add(t float64, g inverter.Gates) {
	n := len(p.gates)
	switch {
	case n > 0 && p.gates[n-1] == g:
	case n > 0 && p.edges[n-1] == t:
		p.gates[n-1] = g
	default:
		p.edges, p.gates = append(p.edges, t), append(p.gates, g)
	}
}

// end returns when state i ends.
func (p *period) end(i int) float64 {
	if i+1 < len(p.edges) {
		return p.edges[i+1]
	}
	return p.length
}

// stateTime returns how long in p the gates are g.
func stateTime(p period, g inverter.Gates) (sum float64) {
	for i, x := range p.gates {
		if x == g {
			sum += p.end(i) - p.edges[i]
		}
	}
	return sum
}
