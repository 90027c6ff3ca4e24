package loss_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sextant/inverter"
	"sextant/inverter/device"
	"sextant/inverter/loss"
	"sextant/inverter/pattern"
)

const rad = math.Pi / 180

// open returns a built-in device.
func open(t *testing.T, name string) *device.Device {
	t.Helper()
	d, err := device.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	return &d
}

// of returns the result at a point.
func of(t *testing.T, d *device.Device, p loss.Point) loss.Result {
	t.Helper()
	r, err := loss.Of(d, p)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// check compares numbers by name to a relative tolerance.
func check(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !scalar.EqualWithinAbsOrRel(got, want, 1e-12, tolerance) {
		t.Errorf("%s: %.8g, want %.8g", what, got, want)
	}
}

// worked is the operating point of the worked examples.
func worked(k pattern.Kind) loss.Point {
	return loss.Point{
		Pattern: k, Supply: 350, Current: 300, Modulation: 0.8, Lag: math.Acos(0.85), Frequency: 200, Carrier: 10e3,
		Fixed: true, Junction: 125, Sink: 65,
	}
}

// TestWorkedExample: the illustrative device at 125 C, 350 V, 300 A, M = 0.8, cos φ = 0.85, 10 kHz. Its drops
// there are 0.82 V + 1.98 mΩ and 0.88 V + 1.46 mΩ, its energies 15.2, 19.0 and 8.2 mJ; the rest follows from
// the averages a = 1/(2π) + M cos φ/8, b = 1/8 + M cos φ/(3π) and 1/π, 0.365943 of the energy: Casanellas,
// IEE Proc. EPA 141 (1994) 235; IEC 61800-9-2.
func TestWorkedExample(t *testing.T) {
	d := open(t, "illustrative")
	r := of(t, d, worked(pattern.SineTriangle))
	check(t, "switch conduction", r.Mean.Conduction, 95.194, 1e-5)
	check(t, "turn-on", r.Mean.TurnOn, 30.505, 2e-5)
	check(t, "turn-off", r.Mean.TurnOff, 38.131, 2e-5)
	check(t, "diode conduction", r.Mean.Diode, 26.521, 2e-5)
	check(t, "recovery", r.Mean.Recovery, 23.306, 3e-5)
	check(t, "switch", r.Mean.Switch(), 163.830, 1e-5)
	check(t, "diode", r.Mean.Rectifier(), 49.827, 1e-5)
	check(t, "bridge", r.Bridge, 1281.94, 1e-5)
	check(t, "output", r.Output, 53550, 1e-12)
	e, ok := r.Efficiency()
	if !ok {
		t.Error("no efficiency")
	}
	check(t, "efficiency", 100*e, 97.6621, 1e-6)

	r = of(t, d, worked(pattern.SpaceVector))
	check(t, "space-vector switch conduction", r.Mean.Conduction, 95.253, 1e-5)
	check(t, "space-vector diode conduction", r.Mean.Diode, 26.478, 2e-5)
	check(t, "space-vector bridge", r.Bridge, 1282.04, 1e-5)
}

// TestWorkedTemperatures: the same on a sink of 65 C, temperatures solved: switch 0.10, diode 0.15 and shared
// 0.02 K/W, a linear system whose solution is in three decimals.
func TestWorkedTemperatures(t *testing.T) {
	d := open(t, "illustrative")
	for _, tt := range []struct {
		kind                       pattern.Kind
		channel, diode, at, bridge float64
	}{
		{pattern.SineTriangle, 84.760, 76.011, 69.065, 1219.52},
		{pattern.SpaceVector, 84.765, 76.005, 69.065, 1219.59},
	} {
		p := worked(tt.kind)
		p.Fixed = false
		r := of(t, d, p)
		check(t, "switch junction", r.Mean.SwitchJunction.Mean, tt.channel, 1e-5)
		check(t, "diode junction", r.Mean.DiodeJunction.Mean, tt.diode, 1e-5)
		check(t, "case", r.Mean.Case, tt.at, 1e-5)
		check(t, "bridge", r.Bridge, tt.bridge, 1e-5)
		if r.Settling.Change > 1e-9 || r.Settling.Rounds < 3 || r.Settling.Runaway {
			t.Errorf("settled %+v", r.Settling)
		}
		if peak := r.Mean.SwitchJunction.Peak; !(peak > r.Mean.SwitchJunction.Mean && peak < r.Mean.SwitchJunction.Mean+3) {
			t.Errorf("peak %g C at 200 Hz", peak)
		}
	}
}

// TestStandstill: the same device at 125 C with 300 A in U and half the duty: d (V I + r I²).
func TestStandstill(t *testing.T) {
	d := open(t, "illustrative")
	p := worked(pattern.SineTriangle)
	p.Frequency, p.Modulation = 0, 0
	r := of(t, d, p)
	// The voltage leads, but at no modulation it is of no matter.
	u := r.Standstill[inverter.UHigh]
	check(t, "conduction", u.Conduction, 212.10, 1e-5)
	check(t, "switching", u.TurnOn+u.TurnOff, 215.62, 3e-5)
	check(t, "diode conduction", r.Standstill[inverter.ULow].Diode, 197.70, 1e-5)
	if r.Standstill[inverter.ULow].Conduction != 0 || u.Diode != 0 {
		t.Error("an IGBT conducts in reverse")
	}
	// Against the average at M = 0, the threshold's part is π times as much, the slope's 4 times.
	turning := p
	turning.Frequency = 100
	for _, tt := range []struct {
		threshold, resistance float64
		ratio                 float64
	}{{1, 0, math.Pi}, {0, 1e-3, 4}} {
		plain := *d
		plain.Channel = device.NewDrop([]float64{25}, []float64{tt.threshold}, []float64{tt.resistance})
		got := of(t, &plain, p).Standstill[inverter.UHigh].Conduction / of(t, &plain, turning).Mean.Conduction
		check(t, "standstill over average", got, tt.ratio, 1e-9)
	}
}

// shape returns a and b of P = V a I + r b I², for the switch and the diode of an upper and a lower position.
func shape(t *testing.T, p loss.Point) (upper, lower [4]float64) {
	t.Helper()
	d := open(t, "illustrative")
	d.Technology = device.SiIGBT
	for k, drop := range []device.Drop{
		device.NewDrop([]float64{25}, []float64{1}, []float64{0}),
		device.NewDrop([]float64{25}, []float64{0}, []float64{1}),
	} {
		x := *d
		x.Channel, x.Diode = drop, drop
		p.Current, p.Fixed = 1, true
		r := of(t, &x, p)
		upper[k], upper[2+k] = r.Upper.Conduction, r.Upper.Diode
		lower[k], lower[2+k] = r.Lower.Conduction, r.Lower.Diode
	}
	return upper, lower
}

// TestConduction: averages of conduction from Casanellas, IEE Proc. EPA 141 (1994) 235, Bierhoff & Fuchs,
// PESC 2004, and IEC 61800-9-2, in six decimals; of the zero sequences other than the third harmonic by
// independent quadrature.
func TestConduction(t *testing.T) {
	for _, tt := range []struct {
		kind   pattern.Kind
		m, cos float64
		want   [4]float64 // switch a, b, diode a, b
	}{
		{pattern.SineTriangle, 0.8, 0.85, [4]float64{0.244155, 0.197150, 0.074155, 0.052850}},
		{pattern.SineTriangle, 1, 1, [4]float64{0.284155, 0.231103, 0.034155, 0.018897}},
		{pattern.SineTriangle, 0.8, -0.85, [4]float64{0.074155, 0.052850, 0.244155, 0.197150}}, // generating
		{pattern.ThirdHarmonic, 0.8, 0.85, [4]float64{0.244155, 0.197415, 0.074155, 0.052585}},
		{pattern.ThirdHarmonic, 1, 1, [4]float64{0.284155, 0.227567, 0.034155, 0.022433}},
		{pattern.SpaceVector, 0.8, 0.85, [4]float64{0.244155, 0.197481, 0.074155, 0.052519}},
		{pattern.SpaceVector, 1, 1, [4]float64{0.284155, 0.226725, 0.034155, 0.023275}},
		{pattern.Clamped60, 0.8, 0.85, [4]float64{0.244155, 0.196606, 0.074155, 0.053394}},
		{pattern.Clamped30, 0.8, 0.85, [4]float64{0.244155, 0.198355, 0.074155, 0.051645}},
	} {
		p := worked(tt.kind)
		p.Modulation, p.Lag = tt.m, math.Acos(tt.cos)
		upper, lower := shape(t, p)
		for k := range upper {
			if !scalar.EqualWithinAbs(upper[k], tt.want[k], 1e-6) || !scalar.EqualWithinAbs(lower[k], tt.want[k], 1e-6) {
				t.Errorf("%v, M %g, cos %g, term %d: %.7f and %.7f, want %.6f", tt.kind, tt.m, tt.cos, k, upper[k], lower[k], tt.want[k])
			}
		}
	}
}

// TestThirdHarmonicAnyPhase holds the quadrature against the closed form at any power factor:
// b = 1/8 ± [M cos φ/(3π) - M3 cos 3φ/(15π)], Bierhoff & Fuchs, PESC 2004, with M3 = M/6.
func TestThirdHarmonicAnyPhase(t *testing.T) {
	for lag := -180.0; lag <= 180; lag += 17 {
		p := worked(pattern.ThirdHarmonic)
		p.Modulation, p.Lag = 1.1, lag*rad
		got, _ := shape(t, p)
		term := 1.1 * (math.Cos(p.Lag)/(3*math.Pi) - math.Cos(3*p.Lag)/(6*15*math.Pi))
		check(t, "a", got[0], 1/(2*math.Pi)+1.1*math.Cos(p.Lag)/8, 1e-9)
		check(t, "b", got[1], 0.125+term, 1e-9)
		check(t, "b of the diode", got[3], 0.125-term, 1e-9)
	}
}

// TestLopsided: under clamped-high the upper and the lower position differ, under clamped-low they have
// changed places; figures by independent quadrature in six decimals.
func TestLopsided(t *testing.T) {
	high := [4]float64{0.297833, 0.239782, 0.127833, 0.094820} // upper switch, upper diode
	low := [4]float64{0.190477, 0.155180, 0.020477, 0.010218}
	for _, k := range []pattern.Kind{pattern.ClampedHigh, pattern.ClampedLow} {
		upper, lower := shape(t, worked(k))
		if k == pattern.ClampedLow {
			upper, lower = lower, upper
		}
		for i := range upper {
			if !scalar.EqualWithinAbs(upper[i], high[i], 6e-7) || !scalar.EqualWithinAbs(lower[i], low[i], 6e-7) {
				t.Errorf("%v term %d: %.7f, %.7f; want %.6f, %.6f", k, i, upper[i], lower[i], high[i], low[i])
			}
		}
		r := of(t, open(t, "illustrative"), worked(k))
		if !r.Differ {
			t.Errorf("%v: upper and lower are said to be alike", k)
		}
		check(t, "mean", r.Mean.Conduction, (r.Upper.Conduction+r.Lower.Conduction)/2, 1e-12)
	}
}

// plainMOSFET is a channel of 5 mΩ with a diode of 3 V + 4 mΩ.
func plainMOSFET(t *testing.T) *device.Device {
	d := open(t, "sic-750")
	d.Channel = device.NewDrop([]float64{25}, []float64{0}, []float64{5e-3})
	d.Diode = device.NewDrop([]float64{25}, []float64{3}, []float64{4e-3})
	return d
}

// TestBothWays: through a channel that conducts both ways a leg's current always meets one resistance: R I²/4
// a switch and 3/2 R I² a bridge, at any modulation, power factor and pattern.
func TestBothWays(t *testing.T) {
	d := plainMOSFET(t)
	for _, k := range []pattern.Kind{pattern.SineTriangle, pattern.SpaceVector, pattern.Clamped30, pattern.ClampedHigh, pattern.SixStep180, pattern.AllLow} {
		for _, cos := range []float64{-0.6, 0.2, 0.85} {
			p := worked(k)
			p.Carrier, p.Lag = 10e3, math.Acos(cos)
			r := of(t, d, p)
			check(t, k.String()+" bridge", 3*(r.Upper.Conduction+r.Lower.Conduction), 675, 1e-9)
			check(t, k.String()+" diode", r.Mean.Diode, 0, 0)
			if k == pattern.ClampedHigh && cos == 0.85 {
				check(t, "upper share", r.Upper.Conduction/(5e-3*300*300), 0.33460, 2e-5)
				check(t, "lower share", r.Lower.Conduction/(5e-3*300*300), 0.16540, 3e-5)
			} else if !r.Differ {
				check(t, k.String(), r.Mean.Conduction, 112.5, 1e-9)
			}
		}
	}
}

// TestDeadTime: in dead time the diode takes 2 td fc of its leg's current: 0.5 us at 20 kHz.
func TestDeadTime(t *testing.T) {
	p := worked(pattern.SineTriangle)
	p.Carrier, p.DeadTime = 20e3, 0.5e-6
	r := of(t, plainMOSFET(t), p)
	check(t, "channel", r.Mean.Conduction, 110.25, 1e-9)
	check(t, "diode", r.Mean.Diode, 0.02*(3*300/math.Pi+4e-3*300*300/4), 1e-9) // 7.530 W
	check(t, "recovery at any dead time", of(t, plainMOSFET(t), worked(pattern.SineTriangle)).Mean.Recovery*2, r.Mean.Recovery, 1e-12)
}

// TestThirdQuadrant: where the channel would drop more than the diode beside it, they share, so that both
// drop the same.
func TestThirdQuadrant(t *testing.T) {
	d := plainMOSFET(t)
	d.Diode = device.NewDrop([]float64{25}, []float64{0.7}, []float64{2e-3})
	c, di := d.Channel.At(25), d.Diode.At(25)
	channel, diode, volts := device.Share(c, di, 300)
	check(t, "channel drop", c.Voltage(channel), volts, 1e-12)
	check(t, "diode drop", di.Voltage(diode), volts, 1e-12)
	check(t, "sum", channel+diode, 300, 1e-12)
	if channel, diode, _ := device.Share(c, di, 139); channel != 139 || diode != 0 {
		t.Errorf("below the knee of 140 A the diode carries %g A", diode)
	}
	p := worked(pattern.SineTriangle)
	with, without := of(t, d, p), of(t, plainMOSFET(t), p)
	if with.Bridge-without.Bridge > -20 || with.Mean.Diode <= 0 {
		t.Errorf("the diode's help changes %g W to %g W", without.Bridge, with.Bridge)
	}
}

// TestEnergyAverage: the mean of i^c over the half of a turn is Γ((c+1)/2)/(2√π Γ(c/2+1)) of the peak's.
func TestEnergyAverage(t *testing.T) {
	for _, tt := range []struct{ exponent, want float64 }{
		{1, 0.318310}, {0.5, 0.381380}, {0.6, 0.365943}, {0.7, 0.352158}, {1.3, 0.292413}, {2, 0.25},
	} {
		d := open(t, "illustrative")
		for e := range d.Switching.CurrentExponent {
			d.Switching.CurrentExponent[e] = tt.exponent
		}
		p := worked(pattern.SineTriangle)
		r := of(t, d, p)
		whole := p.Carrier * d.EnergyOf(device.TurnOn, p.Current, p.Supply, 125)
		if got := r.Mean.TurnOn / whole; !scalar.EqualWithinAbs(got, tt.want, 6e-7) {
			t.Errorf("exponent %g: %.7f, want %.6f", tt.exponent, got, tt.want)
		}
		exact := math.Gamma((tt.exponent+1)/2) / (2 * math.Sqrt(math.Pi) * math.Gamma(tt.exponent/2+1))
		check(t, "turn-off", r.Mean.TurnOff/(p.Carrier*d.EnergyOf(device.TurnOff, p.Current, p.Supply, 125)), exact, 1e-7)
	}
}

// TestClamped: switching losses over those of an unclamped pattern, for energy in proportion to current;
// Hava, Kerkman, Lipo, IEEE Trans. PE-14 (1999) 49, in five decimals.
func TestClamped(t *testing.T) {
	d := open(t, "illustrative")
	for _, tt := range []struct {
		kind pattern.Kind
		at   map[float64]float64
	}{
		{pattern.Clamped60, map[float64]float64{0: 0.5, 30: 0.56699, 45: 0.64645, 60: 0.75, 75: 0.83652, 90: 0.86603}},
		{pattern.Clamped30, map[float64]float64{0: 0.63397, 30: 0.68301, 45: 0.70711, 60: 0.68301, 90: 0.63397}},
		{pattern.ClampedHigh, map[float64]float64{0: 0.56699, 30: 0.625, 60: 0.71651, 90: 0.75}},
		{pattern.ClampedLow, map[float64]float64{0: 0.56699, 30: 0.625, 60: 0.71651, 90: 0.75}},
	} {
		for lag, want := range tt.at {
			for _, sign := range []float64{1, -1} {
				p := worked(tt.kind)
				p.Lag = sign * lag * rad
				r := of(t, d, p)
				p.Pattern = pattern.SpaceVector
				if got := r.Mean.TurnOn / of(t, d, p).Mean.TurnOn; !scalar.EqualWithinAbs(got, want, 6e-6) {
					t.Errorf("%v, current %g degrees behind: %.6f, want %.5f", tt.kind, sign*lag, got, want)
				}
			}
		}
	}
}

// TestSixStep: each switch turns on and off once a turn. A lagging current is in the switch's own diode
// when it turns on, so that only turning off costs; a leading one, mirrored, also the recovery opposite.
func TestSixStep(t *testing.T) {
	d := open(t, "illustrative")
	p := worked(pattern.SixStep180)
	r := of(t, d, p)
	sin := math.Sin(p.Lag)
	check(t, "turn-off", r.Mean.TurnOff, p.Frequency*d.EnergyOf(device.TurnOff, p.Current*sin, p.Supply, 125), 1e-12)
	if r.Mean.TurnOn != 0 || r.Mean.Recovery != 0 {
		t.Errorf("a lagging current's turning on costs %g and %g W", r.Mean.TurnOn, r.Mean.Recovery)
	}
	check(t, "output", r.Output, 3*p.Supply/math.Pi*p.Current*math.Cos(p.Lag), 1e-9)
	p.Lag = -p.Lag
	r = of(t, d, p)
	check(t, "turn-on", r.Mean.TurnOn, p.Frequency*d.EnergyOf(device.TurnOn, p.Current*sin, p.Supply, 125), 1e-12)
	check(t, "recovery", r.Mean.Recovery, p.Frequency*d.EnergyOf(device.Recovery, p.Current*sin, p.Supply, 125), 1e-12)
	if r.Mean.TurnOff != 0 {
		t.Errorf("a leading current's turning off costs %g W", r.Mean.TurnOff)
	}

	// A dead time of 50 us is 3.6 degrees at 200 Hz; by then the leading current has grown.
	p.DeadTime = 50e-6
	later := p.Current * math.Sin(-p.Lag+3.6*rad)
	check(t, "late turn-on", of(t, d, p).Mean.TurnOn, p.Frequency*d.EnergyOf(device.TurnOn, later, p.Supply, 125), 1e-12)
	p.DeadTime = 0

	// Conduction of 180 degrees: ∫ i over the gated half turn where i > 0, I (1+cos φ)/2π and I (1-cos φ)/2π.
	p.Lag = 40 * rad
	upper, _ := shape(t, p)
	check(t, "switch a", upper[0], (1+math.Cos(p.Lag))/(2*math.Pi), 1e-9)
	check(t, "diode a", upper[2], (1-math.Cos(p.Lag))/(2*math.Pi), 1e-9)
	// The carrier patterns driven to six-step are the same.
	q := worked(pattern.SpaceVector)
	q.Modulation, q.Lag = pattern.SixStepModulation, p.Lag
	check(t, "space-vector in six-step", of(t, d, q).Bridge, of(t, d, p).Bridge, 1e-12)
}

// TestDiodesOnly: with no gate on, each current goes to the rail that its sign says: a rectifier, which gives the
// supply V times 3/π of the peak current. With all lower switches on nothing goes there.
func TestDiodesOnly(t *testing.T) {
	p := worked(pattern.AllOff)
	r := of(t, open(t, "illustrative"), p)
	check(t, "output", r.Output, -3/math.Pi*p.Supply*p.Current, 1e-9)
	if r.Mean.Switch() != 0 || r.Mean.Recovery != 0 {
		t.Errorf("%+v", r.Mean.Losses)
	}
	p.Pattern = pattern.AllLow
	if r := of(t, open(t, "illustrative"), p); math.Abs(r.Output) > 1e-6 || r.Upper.Sum() != 0 {
		t.Errorf("all low: %g W, upper %+v", r.Output, r.Upper.Losses)
	}
}

// TestLawOfHeat: whatever the pattern, the switch and the diode that a current goes through share all of it:
// with one drop for all, 1 V, the bridge makes 6 I/π of heat.
func TestLawOfHeat(t *testing.T) {
	for _, k := range pattern.Kinds() {
		if k == pattern.ByHand {
			continue
		}
		for _, m := range []float64{0, 0.5, 1.05, 1.2, 1.27} {
			for lag := -170.0; lag < 180; lag += 50 {
				p := worked(k)
				p.Modulation, p.Lag, p.DeadTime, p.Duty = m, lag*rad, 3e-6, 0.4
				upper, lower := shape(t, p)
				check(t, k.String(), upper[0]+upper[2]+lower[0]+lower[2], 2/math.Pi, 1e-8)
				check(t, k.String(), upper[1]+upper[3]+lower[1]+lower[3], 0.5, 1e-8)
			}
		}
	}
}
