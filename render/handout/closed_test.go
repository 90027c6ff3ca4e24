package handout

import (
	"math"
	"strings"

	"sextant/inverter/pattern"
)

// closed are the answers to the questions for numbers as books have them, from the given values and the rig alone; they
// use none of the model.
//
// Steps: Mohan, Undeland, Robbins, Power Electronics, 3rd ed., ch. 8. Machine: Krishnan, Permanent Magnet Synchronous and
// Brushless DC Motor Drives, ch. 3. Heat: Casanellas, IEE Proc. Electr. Power Appl. 141 (1994) 235.
var closed = map[string]func(r *rig, v values) float64{
	"phase fundamental six-step-180":    func(_ *rig, v values) float64 { return 2 / math.Pi * v["V"] },
	"phase fundamental six-step-120":    func(_ *rig, v values) float64 { return math.Sqrt(3) / math.Pi * v["V"] },
	"phase fundamental twelve-step-150": func(_ *rig, v values) float64 { return twelve * v["V"] },
	"phase rms six-step-180":            func(_ *rig, v values) float64 { return math.Sqrt2 / 3 * v["V"] },
	"phase rms six-step-120":            func(_ *rig, v values) float64 { return v["V"] / math.Sqrt(6) },
	"phase rms twelve-step-150":         func(_ *rig, v values) float64 { return math.Sqrt(7) / 6 * v["V"] },
	"line rms six-step-180":             func(_ *rig, v values) float64 { return math.Sqrt(2./3) * v["V"] },
	"line rms six-step-120":             func(_ *rig, v values) float64 { return v["V"] / math.Sqrt2 },
	"line rms twelve-step-150":          func(_ *rig, v values) float64 { return math.Sqrt(21) / 6 * v["V"] },
	"harmonic six-step-180":             func(_ *rig, v values) float64 { return 2 * v["V"] / (math.Pi * v["n"]) },
	"harmonic six-step-120":             func(_ *rig, v values) float64 { return math.Sqrt(3) * v["V"] / (math.Pi * v["n"]) },
	"step six-step-180":                 func(_ *rig, v values) float64 { return 1 / (6 * v["f"]) },
	"step six-step-120":                 func(_ *rig, v values) float64 { return 1 / (6 * v["f"]) },
	"step twelve-step-150":              func(_ *rig, v values) float64 { return 1 / (12 * v["f"]) },

	"carrier phase fundamental":   func(_ *rig, v values) float64 { return v["M"] * v["V"] / 2 },
	"carrier line rms":            func(_ *rig, v values) float64 { return math.Sqrt(1.5) * v["M"] * v["V"] / 2 },
	"greatest sine-triangle":      func(_ *rig, v values) float64 { return v["V"] / 2 },
	"greatest with zero sequence": func(_ *rig, v values) float64 { return v["V"] / math.Sqrt(3) },
	"index":                       func(_ *rig, v values) float64 { return 2 * v["U"] / v["V"] },
	"active time":                 func(_ *rig, v values) float64 { return before(v["M"], v["a"]) / v["fc"] },
	"dead time":                   func(_ *rig, v values) float64 { return v["td"] * v["fc"] * v["V"] },
	"sideband":                    func(_ *rig, v values) float64 { return (v["N"] + 2) * v["f"] },

	"standing current":             func(_ *rig, v values) float64 { return v["V"] / (1.5 * v["R"]) },
	"coil current six-step-180":    func(_ *rig, v values) float64 { return 2 / math.Pi * v["V"] / impedance(v) },
	"coil current six-step-120":    func(_ *rig, v values) float64 { return math.Sqrt(3) / math.Pi * v["V"] / impedance(v) },
	"coil current twelve-step-150": func(_ *rig, v values) float64 { return twelve * v["V"] / impedance(v) },

	"frequency":        func(_ *rig, v values) float64 { return v["p"] * v["n"] / 60 },
	"emf":              func(_ *rig, v values) float64 { return math.Sqrt(3) * omega(v) * v["psi"] },
	"generating speed": func(_ *rig, v values) float64 { return 60 * v["V"] / (2 * math.Pi * v["p"] * math.Sqrt(3) * v["psi"]) },
	"torque":           func(_ *rig, v values) float64 { return 1.5 * v["p"] * v["psi"] * v["iq"] },
	"reluctance torque": func(_ *rig, v values) float64 {
		return 1.5 * v["p"] * (v["psi"]*v["iq"] + (v["Ld"]-v["Lq"])*v["id"]*v["iq"])
	},
	"terminal voltage": func(_ *rig, v values) float64 {
		return math.Hypot(omega(v)*v["L"]*v["iq"], v["R"]*v["iq"]+omega(v)*v["psi"])
	},
	"short":                  func(_ *rig, v values) float64 { return omega(v) * v["psi"] / math.Hypot(v["R"], omega(v)*v["L"]) },
	"characteristic current": func(_ *rig, v values) float64 { return v["psi"] / v["L"] },
	"copper":                 func(_ *rig, v values) float64 { return 1.5 * v["R"] * v["iq"] * v["iq"] },
	"supply current": func(_ *rig, v values) float64 {
		return 1.5 * (v["R"]*v["iq"] + omega(v)*v["psi"]) * v["iq"] / v["V"]
	},

	"switching heat": func(_ *rig, v values) float64 {
		return v["fc"] * (v["Eon"] + v["Eoff"]) / math.Pi * v["I"] / v["Ir"]
	},
	"conduction heat": func(_ *rig, v values) float64 {
		x := v["M"] * v["pf"]
		return v["V0"]*v["I"]*(1/(2*math.Pi)+x/8) + v["r"]*v["I"]*v["I"]*(1./8+x/(3*math.Pi))
	},
	"junction": func(_ *rig, v values) float64 { return v["Ts"] + v["P"]*(v["Rj"]+v["Rc"]) },
}

// twelve is the fundamental of twelve steps over the supply: six vectors of 2/3 and six of 1/√3, 30 degrees each.
var twelve = 6 / math.Pi * math.Sin(math.Pi/12) * (2./3 + 1/math.Sqrt(3))

func omega(v values) float64 { return v["p"] * v["n"] * 2 * math.Pi / 60 }

func impedance(v values) float64 { return math.Hypot(v["R"], 2*math.Pi*v["f"]*v["L"]) }

// before and behind are the shares of a carrier period for which the states at 0 and 60 degrees are on with a reference
// of modulation m that stands deg degrees behind the first. Van der Broeck, Skudelny, Stanke, IEEE Trans. IA-24 (1988)
// 142.
func before(m, deg float64) float64 { return math.Sqrt(3) / 2 * m * math.Sin((60-deg)*math.Pi/180) }
func behind(m, deg float64) float64 { return math.Sqrt(3) / 2 * m * math.Sin(deg*math.Pi/180) }

// references returns the three references of modulation m at an angle, bare and with the pattern's zero sequence.
func references(k pattern.Kind, m, deg float64) (bare, shaped [3]float64) {
	for i := range bare {
		bare[i] = m * math.Cos((deg-120*float64(i))*math.Pi/180)
	}
	high, low := max(bare[0], bare[1], bare[2]), min(bare[0], bare[1], bare[2])
	zero := map[pattern.Kind]float64{
		pattern.ThirdHarmonic: -m / 6 * math.Cos(3*deg*math.Pi/180),
		pattern.SpaceVector:   -(high + low) / 2,
		pattern.ClampedHigh:   1 - high,
		pattern.ClampedLow:    -1 - low,
	}
	up, down := 1-high, -1-low
	zero[pattern.Clamped60], zero[pattern.Clamped30] = down, up
	if high > -low {
		zero[pattern.Clamped60], zero[pattern.Clamped30] = up, down
	}
	for i := range shaped {
		shaped[i] = bare[i] + zero[k]
	}
	return bare, shaped
}

// voltages returns pole, line and phase voltages of switches written like "U+ V- W-": a terminal with neither on lies at
// the star point.
func voltages(on string, supply float64) (pole, line, phase [3]float64) {
	sum, driven := 0.0, 0.0
	for i, p := range []string{"U", "V", "W"} {
		switch {
		case strings.Contains(on, p+"+"):
			pole[i] = supply
			sum, driven = sum+supply, driven+1
		case strings.Contains(on, p+"-"):
			driven++
		default:
			pole[i] = math.NaN()
		}
	}
	star := sum / driven
	for i := range pole {
		if math.IsNaN(pole[i]) {
			pole[i] = star
		}
	}
	for i := range pole {
		line[i], phase[i] = pole[i]-pole[(i+1)%3], pole[i]-star
	}
	return pole, line, phase
}

// stepSwitches returns which switches a stepped pattern has on at an angle of the voltage vector: an upper one while its
// phase's axis is within half its span of the vector, a lower one while the opposite is.
func stepSwitches(k pattern.Kind, deg float64) string {
	half := map[pattern.Kind]float64{pattern.SixStep180: 90, pattern.SixStep120: 60, pattern.TwelveStep150: 75}[k]
	var on []string
	for i, p := range []string{"U", "V", "W"} {
		off := math.Abs(math.Remainder(deg-120*float64(i), 360))
		switch {
		case off < half:
			on = append(on, p+"+")
		case off > 180-half:
			on = append(on, p+"-")
		}
	}
	return strings.Join(on, " ")
}
