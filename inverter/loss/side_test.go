package loss_test

import (
	"math"
	"testing"

	"sextant/inverter"
	"sextant/inverter/device"
	"sextant/inverter/loss"
	"sextant/inverter/pattern"
)

// TestStandstillOfEachLeg: at a standstill each leg has its own share of the vector of the current, i cos(angle - axis), and
// turns to heat what a leg that carries just that would in U.
func TestStandstillOfEachLeg(t *testing.T) {
	d := open(t, "igbt-750")
	p := worked(pattern.SineTriangle)
	p.Frequency, p.Modulation = 0, 0
	for _, deg := range []float64{0, 30, 77, 200, 301} {
		p.Angle = deg * rad
		r := of(t, d, p)
		sum := 0.0
		for _, x := range r.Standstill {
			sum += x.Sum()
		}
		check(t, "bridge", r.Bridge, sum, 1e-12)
		check(t, "mean", r.Mean.Sum(), sum/6, 1e-12)
		for _, leg := range inverter.Phases {
			i := p.Current * math.Cos(p.Angle-leg.Axis())
			alone := p
			alone.Angle, alone.Current = 0, math.Abs(i)
			drives, returns := inverter.High(leg), inverter.Low(leg)
			if i < 0 {
				drives, returns = returns, drives
			}
			one := of(t, d, alone).Standstill
			check(t, "conduction of "+drives.String(), r.Standstill[drives].Conduction, one[inverter.UHigh].Conduction, 1e-6)
			check(t, "turn-on of "+drives.String(), r.Standstill[drives].TurnOn, one[inverter.UHigh].TurnOn, 1e-6)
			check(t, "diode beside "+returns.String(), r.Standstill[returns].Diode, one[inverter.ULow].Diode, 1e-6)
			check(t, "recovery beside "+returns.String(), r.Standstill[returns].Recovery, one[inverter.ULow].Recovery, 1e-6)
			if idle := r.Standstill[returns].Conduction + r.Standstill[drives].Diode; idle > 1e-6 {
				t.Errorf("%v: %g W in what carries nothing", leg, idle)
			}
		}
	}
}

// TestEachAtItsTemperature: where a rail is clamped upper and lower position are as warm as their own heat makes them, and that
// heat is what they would have were all held at the temperature of the one asked.
func TestEachAtItsTemperature(t *testing.T) {
	d := open(t, "igbt-750")
	for _, k := range []pattern.Kind{pattern.ClampedHigh, pattern.ClampedLow} {
		p := worked(k)
		p.Fixed = false
		r := of(t, d, p)
		if math.Abs(r.Upper.SwitchJunction.Mean-r.Lower.SwitchJunction.Mean) < 0.5 {
			t.Fatalf("%v: both are as warm, %g and %g C", k, r.Upper.SwitchJunction.Mean, r.Lower.SwitchJunction.Mean)
		}
		for side, x := range map[string]loss.Position{"upper": r.Upper, "lower": r.Lower} {
			at := func(temperature float64) loss.Losses {
				held := p
				held.Fixed, held.Junction = true, temperature
				if side == "upper" {
					return of(t, d, held).Upper.Losses
				}
				return of(t, d, held).Lower.Losses
			}
			channel, diode := at(x.SwitchJunction.Mean), at(x.DiodeJunction.Mean)
			check(t, side+" conduction", x.Conduction, channel.Conduction, 1e-9)
			check(t, side+" turn-on", x.TurnOn, channel.TurnOn, 1e-9)
			check(t, side+" turn-off", x.TurnOff, channel.TurnOff, 1e-9)
			check(t, side+" diode", x.Diode, diode.Diode, 1e-9)
			check(t, side+" recovery", x.Recovery, diode.Recovery, 1e-9)
		}
	}
}

// TestPulsedLow: with the lower switches pulsed and the upper ones off, what flows into a leg is carried by the lower channel while
// it is on, later by the dead time, and else by the upper diode; what flows out of it, by the lower diode all along. Each period
// of the former costs what it does under a sine, and at a duty of 1 nothing switches.
func TestPulsedLow(t *testing.T) {
	d := open(t, "igbt-750")
	p := worked(pattern.PulsedLow)
	p.Duty = 1
	all := of(t, d, p)
	sine := of(t, d, worked(pattern.SineTriangle))
	if x := all.Lower.TurnOn + all.Lower.TurnOff + all.Upper.Sum(); x != 0 || all.Lower.Conduction == 0 {
		t.Errorf("%g W where nothing switches", x)
	}
	for _, duty := range []float64{0, 0.3, 0.5, 0.9} {
		p.Duty, p.DeadTime = duty, 2e-6
		on := max(0, duty-2e-6*p.Carrier)
		r := of(t, d, p)
		check(t, "lower channel", r.Lower.Conduction, on*all.Lower.Conduction, 1e-9)
		check(t, "lower diode", r.Lower.Diode, all.Lower.Diode, 1e-9)
		check(t, "upper diode", r.Upper.Diode, (1-on)*all.Lower.Diode, 1e-9)
		switches := 1.0
		if duty == 0 {
			switches = 0
		}
		check(t, "turn-on", r.Lower.TurnOn, switches*sine.Upper.TurnOn, 1e-6)
		check(t, "turn-off", r.Lower.TurnOff, switches*sine.Upper.TurnOff, 1e-6)
		check(t, "recovery", r.Upper.Recovery, switches*sine.Lower.Recovery, 1e-6)
		if x := r.Upper.Conduction + r.Upper.TurnOn + r.Upper.TurnOff + r.Lower.Recovery; x != 0 {
			t.Errorf("duty %g: %g W in what does nothing", duty, x)
		}
	}
}

// TestJolt: a device without drops that turns off once a turn, at an energy E, is hottest right then: by E R/τ for each part of
// its path, and what earlier turns have left of that, 1/(1 - e^(-T/τ)) in all.
func TestJolt(t *testing.T) {
	d, err := device.Load("free.toml", []byte(free))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range []float64{1, 10, 60} {
		p := worked(pattern.SixStep180)
		p.Fixed, p.Frequency, p.Supply, p.Current, p.Lag = false, f, 100, 40, 50*rad
		r := of(t, &d, p)
		energy := 1e-3 * 40 * math.Cos((90-50)*rad) // at 90 degrees of the voltage, 50 of the current less
		check(t, "turn-off", r.Upper.TurnOff, energy*f, 1e-9)
		if r.Upper.TurnOn+r.Upper.Recovery+r.Upper.Conduction+r.Upper.Diode != 0 {
			t.Errorf("%+v", r.Upper.Losses)
		}
		rise := func(resistance, time float64) float64 { return energy * resistance / time / -math.Expm1(-1/f/time) }
		check(t, "switch's peak", r.Upper.SwitchJunction.Peak, 65+rise(0.1, 0.01)+rise(0.2, 0.3), 1e-6)
		check(t, "diode's peak", r.Upper.DiodeJunction.Peak, 65+rise(0.2, 0.3), 1e-6)
		check(t, "lower switch's peak", r.Lower.SwitchJunction.Peak, r.Upper.SwitchJunction.Peak, 1e-9)
	}
}

// TestJoltInItsPlace: of a channel that conducts as well, and turns off at the end of that, the junction is followed by short steps
// of exponentials through a turn.
func TestJoltInItsPlace(t *testing.T) {
	d, err := device.Load("free.toml", []byte(free))
	if err != nil {
		t.Fatal(err)
	}
	d.Channel = device.NewDrop([]float64{25}, []float64{2}, []float64{0})
	for _, lag := range []float64{20, 50, 75} {
		p := worked(pattern.SixStep180)
		p.Fixed, p.Frequency, p.Supply, p.Current, p.Lag = false, 4, 100, 40, lag*rad
		r := of(t, &d, p)
		const steps = 3600
		h := 1 / p.Frequency / steps
		path := [2][2]float64{{0.1, 0.01}, {0.2, 0.3}}
		var rise [2]float64
		peak := 0.0
		for k := range 20 * steps {
			deg := float64(k%steps)/steps*360 - 180
			i := 40 * math.Cos((deg+0.05-lag)*rad)
			heat, jolt := 0.0, 0.0
			if i > 0 && deg >= -90 && deg < 90 {
				heat = 2 * i
			}
			if k%steps == steps*3/4 {
				jolt = 1e-3 * 40 * math.Cos((90-lag)*rad)
			}
			for c, x := range path {
				rise[c] += jolt * x[0] / x[1]
			}
			if k >= 19*steps {
				peak = max(peak, 65+rise[0]+rise[1])
			}
			for c, x := range path {
				fade := math.Exp(-h / x[1])
				rise[c] = rise[c]*fade + x[0]*heat*(1-fade)
			}
		}
		check(t, "peak", r.Upper.SwitchJunction.Peak-65, peak-65, 2e-3)
	}
}

// free is a device without drops whose events cost 1 mJ at 1 A and 100 V, in proportion to both.
const free = `
name = "free"
technology = "si-igbt"
voltage = 1000
current = 100
[channel]
temperature = ["25 C"]
threshold   = [0]
resistance  = [0]
[diode]
temperature = ["25 C"]
threshold   = [0]
resistance  = [0]
[energy]
voltage = 100
current = 1
temperature = ["25 C"]
turn_on  = ["1 mJ"]
turn_off = ["1 mJ"]
recovery = ["1 mJ"]
current_exponent = [1, 1, 1]
voltage_exponent = [1, 1, 1]
[heat]
switch_to_case = [{ resistance = 0.1, time = 0.01 }]
diode_to_case  = [{ resistance = 0.1, time = 0.01 }]
case_to_sink   = { resistance = 0.2, time = 0.3 }
`

// TestUnbounded: what gets no warmer is bounded by nothing but ten times the rated current, and a carrier by 1 MHz or by two dead
// times in its period.
func TestUnbounded(t *testing.T) {
	d, err := device.Load("free.toml", []byte(free))
	if err != nil {
		t.Fatal(err)
	}
	p := worked(pattern.AllLow)
	if got, bounded, err := loss.GreatestCurrent(&d, p, 100); err != nil || bounded || got != 10*d.Current {
		t.Errorf("up to %g A, %v, %v", got, bounded, err)
	}
	p = worked(pattern.SpaceVector)
	p.Current = 0
	if got, bounded, err := loss.GreatestCarrier(&d, p, 100); err != nil || bounded || got != 1e6 {
		t.Errorf("up to %g Hz, %v, %v", got, bounded, err)
	}
	p.DeadTime = 5e-6
	if got, bounded, err := loss.GreatestCarrier(&d, p, 100); err != nil || bounded || math.Abs(got-1e5) > 1 {
		t.Errorf("up to %g Hz with a dead time of 5 us, %v, %v", got, bounded, err)
	}
}
