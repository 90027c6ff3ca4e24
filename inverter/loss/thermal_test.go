package loss_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sextant/inverter"
	"sextant/inverter/device"
	"sextant/inverter/heat"
	"sextant/inverter/loss"
	"sextant/inverter/pattern"
)

// TestRipple: as the turn gets slow, the peak of a junction comes to what it is when the rotor stands where
// that switch carries most; as it gets fast, to the mean. The energies here do not know the temperature.
func TestRipple(t *testing.T) {
	d := open(t, "illustrative")
	d.Channel = device.NewDrop([]float64{25}, []float64{0.8}, []float64{2e-3})
	d.Diode = device.NewDrop([]float64{25}, []float64{0.9}, []float64{1.5e-3})
	// A sine's loss is not greatest exactly where the current is, so the comparison stands without modulation.
	p := worked(pattern.SineTriangle)
	p.Fixed, p.Modulation, p.Lag = false, 0, 0
	for e := range d.Switching.CurrentExponent {
		d.Switching.CurrentExponent[e] = 1
	}
	cold := flat(t, d)
	p.Frequency = 0
	stands := of(t, cold, p).Standstill[inverter.UHigh].SwitchJunction
	previous := stands.Mean
	for _, f := range []float64{1e-4, 0.1, 1, 10, 100, 1000} {
		p.Frequency = f
		r := of(t, cold, p)
		peak, mean := r.Upper.SwitchJunction.Peak, r.Upper.SwitchJunction.Mean
		if peak > previous+1e-6 || peak < mean {
			t.Errorf("%g Hz: peak %g C after %g C, mean %g C", f, peak, previous, mean)
		}
		previous = peak
		switch f {
		case 1e-4:
			check(t, "peak of a slow turn", peak, stands.Mean, 1e-5)
		case 1000:
			check(t, "peak of a fast turn", peak, mean, 5e-3)
		}
	}
}

// flat returns d with energies that are the same at all temperatures.
func flat(t *testing.T, d *device.Device) *device.Device {
	t.Helper()
	const text = `name = "flat"
technology = "si-igbt"
voltage = 750
current = 400
channel = { temperature = ["25 C"], threshold = [0.8], resistance = [0.002] }
diode = { temperature = ["25 C"], threshold = [0.9], resistance = [0.0015] }
[energy]
voltage = 400
current = 400
temperature = ["25 C"]
turn_on = [0.014]
turn_off = [0.018]
recovery = [0.007]
current_exponent = [1, 1, 1]
voltage_exponent = [1.3, 1.3, 0.6]
[heat]
switch_to_case = [{ resistance = 0.06, time = 0.05 }, { resistance = 0.04, time = 0.5 }]
diode_to_case = [{ resistance = 0.09, time = 0.04 }, { resistance = 0.06, time = 0.4 }]
case_to_sink = { resistance = 0.02, time = 3 }
`
	x, err := device.Load("flat.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return &x
}

// TestSwing integrates the differential equations of switch, diode and shared case over many turns, from the
// closed forms of the powers of a sine-triangle, and finds the same peaks. At M = 1, φ = 0 the switch turns
// i V d + i² r d and fc E i/iref to heat, d = (1+cos θ)/2, the diode the rest of the other half turn.
func TestSwing(t *testing.T) {
	d := flat(t, nil)
	p := worked(pattern.SineTriangle)
	p.Fixed, p.Modulation, p.Lag, p.Frequency = false, 1, 0, 2
	r := of(t, d, p)
	scale := func(e device.Event) float64 { return p.Carrier * d.EnergyOf(e, 1, p.Supply, 25) }
	on, recovery := scale(device.TurnOn)+scale(device.TurnOff), scale(device.Recovery)
	power := func(theta float64) (sw, di float64) {
		i, duty := p.Current*math.Cos(theta), (1+math.Cos(theta))/2
		if i > 0 {
			return duty*i*(0.8+0.002*i) + on*i, 0
		}
		return 0, duty*-i*(0.9-0.0015*i) + recovery*-i
	}
	chains := []heat.Chain{d.Heat.Switch, d.Heat.Diode, d.Heat.Case}
	var rise [3][2]float64
	const steps = 4000
	peak := [2]float64{}
	turns := 40
	h := 1 / p.Frequency / steps
	for k := range turns * steps {
		sw, di := power(2 * math.Pi * (float64(k) + 0.5) / steps)
		for c, in := range []float64{sw, di, sw + di} {
			for j, pair := range chains[c] {
				e := math.Exp(-h / pair.Time)
				rise[c][j] = rise[c][j]*e + pair.Resistance*in*(1-e)
			}
		}
		if k >= (turns-1)*steps {
			base := p.Sink + rise[2][0]
			peak[0] = max(peak[0], base+rise[0][0]+rise[0][1])
			peak[1] = max(peak[1], base+rise[1][0]+rise[1][1])
		}
	}
	check(t, "switch peak", r.Upper.SwitchJunction.Peak, peak[0], 1e-4)
	check(t, "diode peak", r.Upper.DiodeJunction.Peak, peak[1], 1e-4)
	check(t, "lower switch peak", r.Lower.SwitchJunction.Peak, peak[0], 1e-4)
}

// TestOneChip: where the diode is of the switch's chip, both have one temperature, that of the heat of both.
func TestOneChip(t *testing.T) {
	d := open(t, "sic-750")
	p := worked(pattern.SpaceVector)
	p.Fixed, p.DeadTime = false, 1e-6
	r := of(t, d, p)
	if r.Mean.SwitchJunction != r.Mean.DiodeJunction {
		t.Errorf("switch %v, diode %v", r.Mean.SwitchJunction, r.Mean.DiodeJunction)
	}
	check(t, "junction", r.Mean.SwitchJunction.Mean, p.Sink+r.Mean.Sum()*(d.Heat.Switch.Resistance()+d.Heat.Case.Resistance()), 1e-9)
}

// TestOneChipRipple: the peak of a chip that is switch and diode comes to what it is where the rotor stands at that switch's
// greatest current, as the turn gets slow, and to the mean of the heat of both, as it gets fast.
func TestOneChipRipple(t *testing.T) {
	d := plainMOSFET(t)
	energies := flat(t, d).Switching
	d.Switching = energies
	p := worked(pattern.SineTriangle)
	p.Fixed, p.Modulation, p.Lag, p.Frequency = false, 0, 0, 0
	stands := of(t, d, p).Standstill[inverter.UHigh].SwitchJunction.Mean
	p.Frequency = 1e-4
	slow := of(t, d, p).Upper
	check(t, "peak of a slow turn", slow.SwitchJunction.Peak, stands, 1e-5)
	p.Frequency = 1e4
	fast := of(t, d, p).Upper
	check(t, "peak of a fast turn", fast.SwitchJunction.Peak, p.Sink+fast.Sum()*(d.Heat.Switch.Resistance()+d.Heat.Case.Resistance()), 5e-3)
	if slow.SwitchJunction != slow.DiodeJunction || fast.SwitchJunction != fast.DiodeJunction {
		t.Errorf("one chip is at two temperatures: %v and %v", slow, fast)
	}
}

// TestRunaway: a channel whose resistance grows with temperature, on a poor path for its heat. With a
// resistance of r0 (1 + a (T - 25)), T = sink + R I²/4 r0 (1 + a (T - 25)) has an answer only while
// R I²/4 r0 a is below 1.
func TestRunaway(t *testing.T) {
	d := plainMOSFET(t)
	const r0, a = 2e-3, 1.0 / 125
	d.Channel = device.NewDrop([]float64{25, 150}, []float64{0, 0}, []float64{r0, 2 * r0})
	d.Diode = device.NewDrop([]float64{25}, []float64{300}, []float64{0})
	p := worked(pattern.AllLow)
	p.Fixed, p.Carrier = false, 0
	edge := func(path float64) float64 { return math.Sqrt(2 / (path * r0 * a)) } // current of the lower switch, which conducts all
	const path = 0.13
	for _, tt := range []struct {
		share float64
		runs  bool
	}{{0.5, false}, {0.9, false}, {1.01, true}, {2, true}} {
		p.Current = tt.share * edge(path)
		r := of(t, d, p)
		if r.Settling.Runaway != tt.runs {
			t.Errorf("at %g of the edge: %+v, %v", tt.share, r.Settling, r.Notices)
		}
		if said := strings.Contains(strings.Join(r.Notices, "; "), "thermal runaway"); said != tt.runs {
			t.Errorf("at %g of the edge: %v", tt.share, r.Notices)
		}
		if tt.share == 0.5 {
			gain := 0.25
			check(t, "junction", r.Lower.SwitchJunction.Mean, (p.Sink+gain*125-gain*25)/(1-gain), 1e-9)
		}
	}
}

// TestLimit: at the greatest current, and at the greatest carrier, the hottest junction is at its limit.
func TestLimit(t *testing.T) {
	for _, name := range []string{"igbt-750", "sic-750"} {
		for _, f := range []float64{0, 1, 200} {
			d := open(t, name)
			p := worked(pattern.SpaceVector)
			p.Fixed, p.Frequency, p.DeadTime = false, f, 0.5e-6
			current, bounded, err := loss.GreatestCurrent(d, p, 140)
			if err != nil || !bounded {
				t.Fatalf("%s: %v, %v", name, bounded, err)
			}
			r := of(t, d, p.With(loss.Current, current))
			check(t, name+" at its greatest current", r.Peak(), 140, 1e-6)
			carrier, bounded, err := loss.GreatestCarrier(d, p, 140)
			if err != nil || !bounded {
				t.Fatalf("%s: %v, %v", name, bounded, err)
			}
			r = of(t, d, p.With(loss.Carrier, carrier))
			check(t, name+" at its greatest carrier", r.Peak(), 140, 1e-6)
		}
	}
	d, p := open(t, "igbt-750"), worked(pattern.SpaceVector)
	if x, bounded, err := loss.GreatestCurrent(d, p, 60); x != 0 || !bounded || err != nil {
		t.Errorf("below the sink's temperature: %g A, %v, %v", x, bounded, err)
	}
	p.Current = 0
	if _, bounded, err := loss.GreatestCarrier(d, p, 150); bounded || err != nil {
		t.Errorf("without a current the carrier is bounded: %v", err)
	}
}

func TestBreakEven(t *testing.T) {
	a, b := open(t, "igbt-750"), open(t, "sic-750")
	p := worked(pattern.SpaceVector)
	x, err := loss.BreakEven(a, b, p, loss.Current, 100, 2000)
	if err != nil {
		t.Fatal(err)
	}
	check(t, "losses at break-even", of(t, a, p.With(loss.Current, x)).Bridge, of(t, b, p.With(loss.Current, x)).Bridge, 1e-6)
}

// TestBreakEvenAtZero: a channel of 1 V and 1 mΩ drops as much as one of 1 V and 2 mΩ at no current alone, where no
// part of the answer is small enough to end the search by.
func TestBreakEvenAtZero(t *testing.T) {
	a, b := open(t, "illustrative"), open(t, "illustrative")
	a.Channel = device.NewDrop([]float64{25}, []float64{1}, []float64{1e-3})
	b.Channel = device.NewDrop([]float64{25}, []float64{1}, []float64{2e-3})
	x, err := loss.BreakEven(b, a, worked(pattern.SpaceVector), loss.Current, 0, 300)
	if err != nil || !(x >= 0 && x < 1e-6) {
		t.Errorf("break-even at %g A, %v", x, err)
	}
}

// TestBreakEvenRefused: an end that cannot be calculated is said, whichever it is and whatever is varied.
func TestBreakEvenRefused(t *testing.T) {
	a, b := open(t, "igbt-750"), open(t, "sic-750")
	for _, tt := range []struct {
		of   loss.Quantity
		good float64
		bad  []float64
	}{
		{loss.Current, 100, []float64{-1, 1e12}},
		{loss.Carrier, 10e3, []float64{-1, 0}},
		{loss.Modulation, 0.8, []float64{-1}},
		{loss.PowerFactor, 0.8, []float64{-2, 2}},
		{loss.Supply, 350, []float64{0, 1e12}},
		{loss.Frequency, 100, []float64{-1}},
	} {
		for _, bad := range append(tt.bad, math.NaN(), math.Inf(1), math.Inf(-1)) {
			for _, ends := range [][2]float64{{tt.good, bad}, {bad, tt.good}} {
				x, err := loss.BreakEven(a, b, worked(pattern.SpaceVector), tt.of, ends[0], ends[1])
				if key, _, _ := strings.Cut(fmt.Sprint(err), ":"); err == nil || key != tt.of.Key() && key != tt.of.String() {
					t.Errorf("%v from %g to %g: %g, %v", tt.of, ends[0], ends[1], x, err)
				}
			}
		}
	}
}

// TestClippedOutput: a sine reference clipped at 1 gives the fundamental (2/π)(M asin(1/M) + √(1-1/M²));
// Mohan, Undeland, Robbins, Power Electronics, 3rd ed., section 8-2 (overmodulation).
func TestClippedOutput(t *testing.T) {
	p := worked(pattern.SineTriangle)
	for _, m := range []float64{1.0001, 1.1, 1.25} {
		p.Modulation = m
		gives := 2 / math.Pi * (m*math.Asin(1/m) + math.Sqrt(1-1/(m*m)))
		check(t, "output", of(t, open(t, "illustrative"), p).Output, 0.75*gives*p.Current*p.Supply*math.Cos(p.Lag), 1e-8)
	}
}

// TestMeanSupplyCurrent: (3/4) M I cos φ, whatever the zero sequence, standing or turning.
func TestMeanSupplyCurrent(t *testing.T) {
	for _, k := range []pattern.Kind{pattern.SineTriangle, pattern.SpaceVector, pattern.Clamped30, pattern.ClampedHigh} {
		for _, f := range []float64{0, 200} {
			p := worked(k)
			p.Frequency, p.Angle = f, 0.3
			check(t, k.String(), of(t, open(t, "illustrative"), p).Output/p.Supply, 153, 1e-9)
		}
	}
}

func TestNotices(t *testing.T) {
	d := open(t, "sic-1200")
	quiet := worked(pattern.SpaceVector)
	quiet.Supply, quiet.Fixed = 700, false
	if r := of(t, d, quiet); len(r.Notices) > 0 {
		t.Errorf("nothing is doubtful, but %q", r.Notices)
	}
	for says, change := range map[string]func(*loss.Point){
		"above the rated 1200 V":          func(p *loss.Point) { p.Supply = 1300 },
		"above the rated 400 A":           func(p *loss.Point) { p.Current = 500 },
		"channel curve ends at 800 A":     func(p *loss.Point) { p.Current = 900 },
		"energy curve ends at 800 A":      func(p *loss.Point) { p.Current = 900 },
		"far from the supply":             func(p *loss.Point) { p.Supply = 350 },
		"only 10 carrier periods a turn":  func(p *loss.Point) { p.Frequency = 1000 },
		"modulation is beyond 1.155":      func(p *loss.Point) { p.Modulation = 1.2 },
		"above its limit of 175 C":        func(p *loss.Point) { p.Sink = 165 },
		"beyond the data, which are held": func(p *loss.Point) { p.Sink = 140 },
	} {
		p := quiet
		change(&p)
		if r := of(t, d, p); !strings.Contains(strings.Join(r.Notices, "\n"), says) {
			t.Errorf("%q is not said: %q", says, r.Notices)
		}
	}
}

func TestRefused(t *testing.T) {
	d := open(t, "igbt-750")
	for says, change := range map[string]func(*loss.Point){
		"supply: 0 V":             func(p *loss.Point) { p.Supply = 0 },
		"supply: is not":          func(p *loss.Point) { p.Supply = math.NaN() },
		"current: -1 A":           func(p *loss.Point) { p.Current = -1 },
		"current: is not":         func(p *loss.Point) { p.Current = math.Inf(1) },
		"power_factor: is not":    func(p *loss.Point) { p.Lag = math.Acos(2) },
		"frequency: -1 Hz":        func(p *loss.Point) { p.Frequency = -1 },
		"modulation: 2 is out":    func(p *loss.Point) { p.Modulation = 2 },
		"carrier: space-vector":   func(p *loss.Point) { p.Carrier = 0 },
		"dead_time: ":             func(p *loss.Point) { p.DeadTime = 1 },
		"pattern: by-hand has no": func(p *loss.Point) { p.Pattern = pattern.ByHand },
		"junction: 2000 C is out": func(p *loss.Point) { p.Junction = 2000 },
		"sink: -300 C is out":     func(p *loss.Point) { p.Fixed, p.Sink = false, -300 },
	} {
		p := worked(pattern.SpaceVector)
		change(&p)
		if _, err := loss.Of(d, p); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q is not said: %v", says, err)
		}
	}
}

// TestNumbers: at the edges of what is allowed every figure is a number.
func TestNumbers(t *testing.T) {
	for _, name := range device.Names() {
		d := open(t, name)
		for _, k := range pattern.Kinds() {
			if k == pattern.ByHand {
				continue
			}
			for _, p := range []loss.Point{
				{Supply: 1e-3, Carrier: 1e3},
				{Supply: 350, Carrier: 1e5, Current: 1e6, Modulation: 4 / math.Pi, Frequency: 1e5, DeadTime: 1e-6, Sink: 999},
				{Supply: 1e6, Carrier: 1e3, Current: 1e5, Modulation: 1, Frequency: 1e-9, Lag: math.Pi, Duty: 1, Sink: -273},
				{Supply: 350, Carrier: 1e3, Current: 100, Modulation: 1.27, Frequency: 5, DeadTime: 4.9e-4, Lag: math.Pi / 2, Duty: 0.5},
			} {
				p.Pattern = k
				r := of(t, d, p)
				e, _ := r.Efficiency()
				for _, x := range []float64{r.Bridge, r.Output, e, r.Peak(), r.Mean.Sum(), r.Mean.SwitchJunction.Peak, r.Mean.DiodeJunction.Mean, r.Mean.Case, r.Settling.Change} {
					if math.IsNaN(x) || math.IsInf(x, 0) {
						t.Errorf("%s, %v: %+v gives %+v", name, k, p, r)
						break
					}
				}
				if r.Bridge < 0 || e < 0 || e > 1 || !scalar.EqualWithinAbsOrRel(r.Bridge, 6*r.Mean.Sum(), 1e-9, 1e-9) {
					t.Errorf("%s, %v: bridge %g W, efficiency %g", name, k, r.Bridge, e)
				}
			}
		}
	}
}
