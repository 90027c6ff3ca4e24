package handout

import (
	"fmt"
	"math"

	"sextant/inverter/device"
	"sextant/inverter/loss"
	"sextant/inverter/pattern"
)

// deviceOf returns an invented device with the given data: energies at supply V and current I, in proportion to both.
func deviceOf(v values) (device.Device, error) {
	return device.Load("exercise.toml", fmt.Appendf(nil, `
name = "invented for an exercise"
technology = "si-igbt"
voltage = %[1]g
current = %[2]g
[channel]
temperature = ["25 C"]
threshold = [%[3]g]
resistance = [%[4]g]
[diode]
temperature = ["25 C"]
threshold = [1]
resistance = [0.001]
[energy]
voltage = %[1]g
current = %[2]g
temperature = ["25 C"]
turn_on = [%[5]g]
turn_off = [%[6]g]
recovery = [%[5]g]
current_exponent = [1, 1, 1]
voltage_exponent = [1, 1, 1]
[heat]
switch_to_case = [{ resistance = %[7]g, time = 0.1 }]
diode_to_case = [{ resistance = 0.1, time = 0.1 }]
case_to_sink = { resistance = %[8]g, time = 1 }
`, v["V"], v["Ir"], v["V0"], v["r"], v["Eon"], v["Eoff"], v["Rj"], v["Rc"]))
}

// usual holds what a question does not ask about.
func usual(v values) values {
	w := values{"V": 350, "Ir": 400, "V0": 0.9, "r": 1.5e-3, "Eon": 0.01, "Eoff": 0.01, "Rj": 0.1, "Rc": 0.02}
	for k, x := range v {
		w[k] = x
	}
	return w
}

// heats returns what one switch turns to heat at a point.
func heats(v values, p loss.Point) (loss.Losses, error) {
	d, err := deviceOf(usual(v))
	if err != nil {
		return loss.Losses{}, err
	}
	a, err := loss.AverageOf(&d, p)
	if err != nil {
		return loss.Losses{}, err
	}
	return a.At(25, 25), nil
}

var (
	peakCurrent = draw{"I", "A", around(func(r *rig) float64 { return r.current })}
	factor      = draw{"pf", "", between(0.6, 0.98, 0.02)}
)

var heatQuestions = []question{
	{
		name: "switching heat", unit: "W",
		suits: func(r *rig) bool { return compares(r) && !r.kind.Clamps() },
		given: []draw{peakCurrent, carrier, {"Ir", "A", around(func(r *rig) float64 { return 2 * r.current })},
			{"Eon", "J", between(0.002, 0.02, 0.0005)}, {"Eoff", "J", between(0.002, 0.02, 0.0005)}},
		ask:     "At the present supply a switch loses <Eon> turning <Ir> on and <Eoff> turning it off, in proportion to the current. The phase current is a sine of <I> peak, the carrier has <fc>. What does one switch turn to heat by switching?",
		working: "P = f_{c} · (E_{on} + E_{off})/π · î/I_{r} = <fc> · (<Eon> + <Eoff>)/π · <I>/<Ir>",
		answer: func(r *rig, v values) (float64, error) {
			w := values{"V": r.supply}
			for k, x := range v {
				w[k] = x
			}
			l, err := heats(w, loss.Point{Pattern: r.kind, Supply: r.supply, Current: v["I"], Modulation: 0.8, Lag: 0.5, Frequency: 50, Carrier: v["fc"]})
			return l.TurnOn + l.TurnOff, err
		},
	},
	{
		name: "conduction heat", suits: of(pattern.SineTriangle), unit: "W",
		given: []draw{peakCurrent, depth, factor, {"V0", "V", between(0.6, 1.2, 0.05)},
			{"r", "Ω", around(func(r *rig) float64 { return 0.5 / r.current })}},
		ask:     "A switch drops <V0> and <r> times the current. The phase current is a sine of <I> peak with a power factor of <pf>, the modulation index <M>. What does one switch turn to heat by conducting?",
		working: "P = V_{0} î (1/(2π) + M cos φ/8) + r î² (1/8 + M cos φ/(3π)) = <V0> · <I> · (1/(2π) + <M> · <pf>/8) + <r> · (<I>)² · (1/8 + <M> · <pf>/(3π))",
		answer: func(r *rig, v values) (float64, error) {
			l, err := heats(v, loss.Point{Pattern: r.kind, Supply: 350, Current: v["I"], Modulation: v["M"], Lag: math.Acos(v["pf"]), Frequency: 50, Carrier: 10000})
			return l.Conduction, err
		},
	},
	{
		name: "junction", suits: compares, unit: "°C",
		given: []draw{{"P", "W", between(60, 320, 5)}, {"Ts", "°C", between(40, 75, 5)},
			{"Rj", "K/W", between(0.06, 0.16, 0.01)}, {"Rc", "K/W", between(0.01, 0.04, 0.005)}},
		ask:     "A switch turns <P> to heat, its diode nothing. From junction to case it has <Rj>, from case to sink <Rc>, and the sink is at <Ts>. How warm is the junction in the mean?",
		working: "ϑ_{j} = ϑ_{s} + P · (R_{jc} + R_{cs}) = <Ts> + <P> · (<Rj> + <Rc>)",
		answer: func(_ *rig, v values) (float64, error) {
			d, err := deviceOf(usual(v))
			if err != nil {
				return 0, err
			}
			t, _ := loss.Temperatures(&d, v["Ts"], loss.Losses{Conduction: v["P"]})
			return t, nil
		},
	},
}
