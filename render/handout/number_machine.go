package handout

import (
	"math"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor"
	"sextant/motor/drive"
)

var (
	pairs      = draw{"p", "", among(2, 3, 4, 5, 6)}
	speed      = draw{"n", "rpm", around(func(r *rig) float64 { return r.speed })}
	flux       = draw{"psi", "Wb", around(func(r *rig) float64 { return r.machine.FluxLinkage })}
	resistance = draw{"R", "Ω", around(func(r *rig) float64 { return r.machine.Resistance })}
	inductance = draw{"L", "H", around(func(r *rig) float64 { return r.machine.InductanceD })}
	quadrature = draw{"iq", "A", around(func(r *rig) float64 { return r.current })}
)

func resists(r *rig) bool { return r.machine.Resistance > 0 }

// loadQuestions are of windings, with a magnet or without.
var loadQuestions = append([]question{{
	name: "standing current", suits: resists, unit: "A",
	given:   []draw{{"V", "V", around(func(r *rig) float64 { return 1.5 * r.machine.Resistance * r.current })}, resistance},
	ask:     "U+ V- and W- stay on, the supply is turned down to <V>, and nothing turns. Each winding has <R>. What current flows in winding U?",
	working: "i_{U} = 2/3 · V/R = 2/3 · <V>/<R>",
	answer: func(_ *rig, v values) (float64, error) {
		return inverter.Active[0].Poles(v["V"]).Star()[inverter.U] / v["R"], nil
	},
}}, byKind(question{
	name: "coil current", unit: "A",
	suits: func(r *rig) bool { return resists(r) && r.machine.Kind == motor.Passive },
	given: []draw{voltage, frequency, resistance, inductance},
	ask:   "Each of three coils in star has <R> and <L>; the supply is <V>, the frequency <f>. How high is the peak of the fundamental of a coil's current?",
	answer: func(r *rig, v values) (float64, error) {
		t, err := pattern.Steps(r.kind, v["V"])
		m := motor.Machine{Kind: motor.Passive, Resistance: v["R"], InductanceD: v["L"], InductanceQ: v["L"]}
		i := m.Current(motor.DQ{Q: t.PhaseFundamental}, 2*math.Pi*v["f"])
		return math.Hypot(i.D, i.Q), err
	},
}, map[pattern.Kind]string{
	pattern.SixStep180:    "î_{1} = û_{1}/√(R² + (2π f L)²) = 2/π · <V>/√((<R>)² + (2π · <f> · <L>)²)",
	pattern.SixStep120:    "î_{1} = û_{1}/√(R² + (2π f L)²) = √3/π · <V>/√((<R>)² + (2π · <f> · <L>)²)",
	pattern.TwelveStep150: "î_{1} = û_{1}/√(R² + (2π f L)²) = 0.6149 · <V>/√((<R>)² + (2π · <f> · <L>)²)",
})...)

// machineOf returns the machine that given values describe, and its electrical speed in rad/s.
func machineOf(v values) (m motor.Machine, omega float64) {
	m = motor.Machine{
		Kind: motor.PermanentMagnet, PolePairs: int(v["p"]), Resistance: v["R"],
		InductanceD: v["L"], InductanceQ: v["L"], FluxLinkage: v["psi"],
	}
	return m, v["p"] * v["n"] * math.Pi / 30
}

func turning(r *rig) bool       { return r.turns() }
func turningRound(r *rig) bool  { return r.turns() && r.round() && resists(r) }
func turningUneven(r *rig) bool { return r.turns() && !r.round() }

var machineQuestions = []question{
	{
		name: "frequency", suits: turning, given: []draw{speed, pairs}, unit: "Hz",
		ask:     "A machine with <p> pole pairs turns at <n>. What is the frequency of its currents?",
		working: "f = p · n/60 = <p> · <n>/60",
		answer: func(_ *rig, v values) (float64, error) {
			s := drive.Scenario{Machine: motor.Machine{PolePairs: int(v["p"])}, Shaft: drive.Shaft{Speed: v["n"] * math.Pi / 30}}
			s.Gating.Follow = drive.Current
			return s.ElectricalFrequency(), nil
		},
	},
	{
		name: "emf", suits: turning, given: []draw{pairs, speed, flux}, unit: "V",
		ask:     "A machine with <p> pole pairs and a flux linkage of <psi> is turned at <n> with every switch off. What peak voltage lies between two of its leads?",
		working: "û = √3 · 2π/60 · p · n · ψ = √3 · 2π/60 · <p> · <n> · <psi>",
		answer: func(_ *rig, v values) (float64, error) {
			m, omega := machineOf(v)
			return math.Sqrt(3) * m.Voltage(motor.DQ{}, omega).Q, nil
		},
	},
	{
		name: "generating speed", suits: turning, given: []draw{voltage, pairs, flux}, unit: "rpm",
		ask:     "Above which speed does a machine with <p> pole pairs and a flux linkage of <psi> feed a battery of <V> through the diodes, with every switch off? Leave out the diodes' drops.",
		working: "n = 60/(2π p) · V/(√3 ψ) = 60/(2π · <p>) · <V>/(√3 · <psi>)",
		answer: func(_ *rig, v values) (float64, error) {
			m, _ := machineOf(v)
			return m.GeneratingSpeed(v["V"], 0) / v["p"] * 30 / math.Pi, nil
		},
	},
	{
		name: "torque", suits: turning, given: []draw{pairs, flux, quadrature}, unit: "N m",
		ask:     "The current vector of <iq> peak stands square on the magnet's axis. The machine has <p> pole pairs and a flux linkage of <psi>. What torque does it make?",
		working: "T = 3/2 · p · ψ · i_{q} = 3/2 · <p> · <psi> · <iq>",
		answer: func(_ *rig, v values) (float64, error) {
			m, _ := machineOf(v)
			return m.Torque(motor.DQ{Q: v["iq"]}), nil
		},
	},
	{
		name: "reluctance torque", suits: turningUneven, unit: "N m",
		given: []draw{pairs, flux, {"id", "A", around(func(r *rig) float64 { return -r.current / 2 })}, quadrature,
			{"Ld", "H", around(func(r *rig) float64 { return r.machine.InductanceD })}, {"Lq", "H", around(func(r *rig) float64 { return r.machine.InductanceQ })}},
		ask:     "A machine with <p> pole pairs, <psi>, L_{d} = <Ld> and L_{q} = <Lq> carries i_{d} = <id> and i_{q} = <iq>. What torque does it make?",
		working: "T = 3/2 · p · (ψ i_{q} + (L_{d} - L_{q}) i_{d} i_{q}) = 3/2 · <p> · (<psi> · <iq> + (<Ld> - <Lq>) · (<id>) · <iq>)",
		answer: func(_ *rig, v values) (float64, error) {
			m, _ := machineOf(v)
			m.InductanceD, m.InductanceQ = v["Ld"], v["Lq"]
			return m.Torque(motor.DQ{D: v["id"], Q: v["iq"]}), nil
		},
	},
	{
		name: "terminal voltage", suits: turningRound, given: []draw{pairs, speed, flux, resistance, inductance, quadrature}, unit: "V",
		ask:     "A machine with <p> pole pairs, <psi>, <R> and <L> turns at <n> and carries i_{q} = <iq>, i_{d} = 0. How high is the peak of its phase voltage?",
		working: "ω = 2π/60 · <p> · <n>; û = √((ω L i_{q})² + (R i_{q} + ω ψ)²) = √((ω · <L> · <iq>)² + (<R> · <iq> + ω · <psi>)²)",
		answer: func(_ *rig, v values) (float64, error) {
			m, omega := machineOf(v)
			u := m.Voltage(motor.DQ{Q: v["iq"]}, omega)
			return math.Hypot(u.D, u.Q), nil
		},
	},
	{
		name: "short", suits: turningRound, given: []draw{pairs, speed, flux, resistance, inductance}, unit: "A",
		ask:     "All lower switches are on while a machine with <p> pole pairs, <psi>, <R> and <L> turns at <n>. How high is the peak of its phase current once it is steady?",
		working: "ω = 2π/60 · <p> · <n>; î = ω ψ/√(R² + (ω L)²) = ω · <psi>/√((<R>)² + (ω · <L>)²)",
		answer: func(_ *rig, v values) (float64, error) {
			m, omega := machineOf(v)
			i := m.Current(motor.DQ{}, omega)
			return math.Hypot(i.D, i.Q), nil
		},
	},
	{
		name: "characteristic current", suits: turningRound, given: []draw{flux, inductance}, unit: "A",
		ask:     "A machine with a flux linkage of <psi> and an inductance of <L> is short-circuited at high speed. Towards what peak does its phase current tend?",
		working: "î = ψ/L = <psi>/<L>",
		answer: func(_ *rig, v values) (float64, error) {
			m, _ := machineOf(v)
			return m.CharacteristicCurrent(), nil
		},
	},
	{
		name: "copper", suits: turningRound, given: []draw{resistance, quadrature}, unit: "W",
		ask:     "Three sinusoidal currents of <iq> peak flow in windings of <R> each. How much heat do the three windings make?",
		working: "P = 3/2 · R · î² = 3/2 · <R> · (<iq>)²",
		answer: func(_ *rig, v values) (float64, error) {
			v["p"], v["psi"], v["L"] = 1, 0.1, 1e-3 // cancel: heat is what does not reach the shaft
			m, _ := machineOf(v)
			const omega = 100
			u := m.Voltage(motor.DQ{Q: v["iq"]}, omega)
			return 1.5*u.Q*v["iq"] - m.Torque(motor.DQ{Q: v["iq"]})*omega, nil
		},
	},
	{
		name: "supply current", suits: turningRound, given: []draw{voltage, pairs, speed, flux, resistance, quadrature}, unit: "A",
		ask:     "A machine with <p> pole pairs, <psi> and <R> turns at <n> with i_{q} = <iq>, i_{d} = 0. The bridge loses nothing. What mean current does its supply of <V> give?",
		working: "ω = 2π/60 · <p> · <n>; I = 3/2 · (R i_{q} + ω ψ) · i_{q}/V = 3/2 · (<R> · <iq> + ω · <psi>) · <iq>/<V>",
		answer: func(r *rig, v values) (float64, error) {
			v["L"] = r.machine.InductanceD // stores, but takes no mean power
			m, omega := machineOf(v)
			i := motor.DQ{Q: v["iq"]}
			u := m.Voltage(i, omega)
			if math.Hypot(u.D, u.Q) > v["V"]/math.Sqrt(3) {
				return 0, errRedraw // the bridge cannot give that voltage
			}
			return 1.5 * (u.D*i.D + u.Q*i.Q) / v["V"], nil
		},
	},
}
