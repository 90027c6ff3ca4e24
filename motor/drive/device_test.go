package drive

import (
	"errors"
	"math"
	"strings"
	"testing"

	"sextant/inverter"
	"sextant/inverter/device"
	"sextant/inverter/loss"
	"sextant/inverter/pattern"
)

// using returns switches of a built-in device with their junctions at 125 °C.
func using(t *testing.T, name string) Switches {
	t.Helper()
	d, err := device.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	return Switches{Use: name, Device: &d, Fixed: true, Junction: 125}
}

// pointOf returns the operating point of a run with one harmonic of a scenario that [sinusoidal] made.
func pointOf(s *Scenario, sum *Summary) loss.Point {
	h, x := sum.Harmonics[0], &s.Switches
	return loss.Point{
		Pattern: s.Gating.Kind, Supply: s.Supply.Voltage, Current: h.U, Modulation: s.Gating.Modulation,
		Lag: -h.UAngle * math.Pi / 180, Frequency: s.Gating.Frequency, Carrier: s.Gating.CarrierRatio * s.Gating.Frequency,
		DeadTime: s.Gating.DeadTime, Sink: x.Sink, Fixed: x.Fixed, Junction: x.Junction,
	}
}

// meanOf returns the mean heat of a position, in W: conduction, turn-on, turn-off, recovery.
func meanOf(sum *Summary) [4]float64 {
	var m [4]float64
	for _, x := range sum.Switches {
		for i, w := range [4]float64{x.Conduction, x.TurnOn, x.TurnOff, x.Recovery} {
			m[i] += w / 6
		}
	}
	return m
}

// What is tallied over a run is what averages over a turn come to (Casanellas, IEE Proc. EPA 141 (1994) 235;
// Bierhoff, Fuchs, PESC 2004), but for the ripple: with a carrier 400 times as fast as the fundamental, currents are
// sines to 0.7 %.
func TestTallyAgainstAverages(t *testing.T) {
	t.Log("tallied / averaged, W          conduction          turn-on         turn-off         recovery       all")
	for kind := pattern.SineTriangle; kind <= pattern.ClampedLow; kind++ {
		for _, name := range []string{"igbt-750", "sic-750"} {
			for _, factor := range []float64{0.85, -0.85} {
				s := sinusoidal(kind, factor)
				s.Gating.DeadTime = 0.5e-6
				s.Switches = using(t, name)
				sum, err := Simulation{Scenario: s, Orders: 1}.Run()
				if err != nil {
					t.Fatal(err)
				}
				p := pointOf(&s, &sum)
				p.Lag += s.Gating.Phase
				r, err := loss.Of(s.Switches.Device, p)
				if err != nil {
					t.Fatal(err)
				}
				got, mean := meanOf(&sum), r.Mean.Losses
				want := [4]float64{mean.Conduction + mean.Diode, mean.TurnOn, mean.TurnOff, mean.Recovery}
				all := 0.0
				for i := range got {
					all += got[i]
					if math.Abs(got[i]/want[i]-1) > 0.015 { // of the ripple, and of where clamping begins and ends in a period
						t.Errorf("%v, %s, power factor %g: part %d is %.4g W, averaged %.4g", kind, name, factor, i, got[i], want[i])
					}
				}
				t.Logf("%-15v %-8s %5.2f  %7.2f / %7.2f  %6.2f / %6.2f  %6.2f / %6.2f  %6.3f / %6.3f  %+.2f %%", kind, name, factor,
					got[0], want[0], got[1], want[1], got[2], want[2], got[3], want[3], 100*(all/mean.Sum()-1))
				near(t, kind.String()+" "+name, all, mean.Sum(), 4e-3)
			}
		}
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
case_to_sink   = { resistance = 0.1, time = 1 }
`

// lossless returns switches of the free device.
func lossless(t *testing.T) Switches {
	t.Helper()
	d, err := device.Load("free.toml", []byte(free))
	if err != nil {
		t.Fatal(err)
	}
	return Switches{Use: "free.toml", Device: &d, Fixed: true, Junction: 25}
}

// Coils on six-step lag: each switch takes over from the diode beside it, for nothing, and breaks, once a turn, what the
// current has come to at half of it: by the exact exponentials of Rashid's example, 220 V, 5 Ω, 23 mH, 60 Hz, half a
// turn after the current -i0 the same the other way. That goes for edges at the ends of the window, too.
func TestNaturalCommutationIsFree(t *testing.T) {
	s := passive(pattern.SixStep180, 220, 5, 23e-3, 60, 20)
	i, decay := 0.0, math.Exp(-5/23e-3/60/6)
	for range 40 { // half turns; the sign turned at each
		for _, v := range []float64{220. / 3, 440. / 3, 220. / 3} {
			i = v/5 + (i-v/5)*decay
		}
		i = -i
	}
	want := 60 * 1e-3 * -i * 220 / 100
	for _, deg := range []float64{0, 17, 90} {
		s.Gating.Phase = deg * math.Pi / 180
		s.Switches = lossless(t)
		sum := simulate(t, s)
		for _, x := range sum.Switches {
			near(t, x.Switch.String()+" turn-off", x.TurnOff, want, 1e-9)
			if x.TurnOn != 0 || x.Recovery != 0 || x.Conduction != 0 {
				t.Errorf("%v, %g degrees: turn-on %g W, recovery %g W, conduction %g W", x.Switch, deg, x.TurnOn, x.Recovery, x.Conduction)
			}
		}
		near(t, "all", sum.Device.Switching, 6*want, 1e-9)
	}
}

// A direct current of i through a chopped leg: each period the upper switch turns on and off at it, and the lower
// diode recovers; a negative one, mirrored.
func TestTallyOfDirectCurrent(t *testing.T) {
	for _, sign := range []float64{1, -1} {
		y := tally{device: lossless(t).Device, to: 1, link: 200}
		y.ways[inverter.V] = inverter.LowerDiode
		over, on, recovers := inverter.UpperChannel, inverter.VHigh, inverter.VLow
		if sign < 0 {
			y.ways[inverter.V] = inverter.UpperDiode
			over, on, recovers = inverter.LowerChannel, inverter.VLow, inverter.VHigh
		}
		y.commute(inverter.V, over, sign*3, 150)
		y.ways[inverter.V] = over
		y.commute(inverter.V, map[float64]inverter.Way{1: inverter.LowerDiode, -1: inverter.UpperDiode}[sign], sign*5, 150)
		var want [6][3]float64
		want[on] = [3]float64{device.TurnOn: 3e-3 * 2, device.TurnOff: 5e-3 * 1.5}
		want[recovers] = [3]float64{device.Recovery: 3e-3 * 2}
		for k := range want {
			for e := range want[k] {
				if math.Abs(y.energy[k][e]-want[k][e]) > 1e-15 {
					t.Errorf("sign %g, %v, %v: %g J, want %g", sign, inverter.Switch(k), device.Event(e), y.energy[k][e], want[k][e])
				}
			}
		}
	}
}

// Junctions settle where averages over a turn, solved for themselves, say that they do; and the heat in the summary is
// that at the temperatures in it.
func TestJunctionsSettle(t *testing.T) {
	for _, name := range []string{"igbt-750", "sic-750"} {
		s := sinusoidal(pattern.SineTriangle, 0.85)
		s.Switches = using(t, name)
		s.Switches.Fixed, s.Switches.Junction, s.Switches.Sink = false, 0, 65
		sum, err := Simulation{Scenario: s, Orders: 1}.Run()
		if err != nil {
			t.Fatal(err)
		}
		r, err := loss.Of(s.Switches.Device, pointOf(&s, &sum))
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range sum.Switches {
			near(t, name+" rise of the switch", x.Junction-65, r.Mean.SwitchJunction.Mean-65, 0.01)
			near(t, name+" rise of the diode", x.DiodeJunction-65, r.Mean.DiodeJunction.Mean-65, 0.01)
			c, d := s.Switches.Device.Channel.At(x.Junction), s.Switches.Device.Diode.At(x.DiodeJunction)
			heat := c.Threshold*x.ChannelMean + c.Resistance*x.ChannelRMS*x.ChannelRMS + d.Threshold*x.DiodeMean + d.Resistance*x.DiodeRMS*x.DiodeRMS
			near(t, name+" conduction", x.Conduction, heat, 1e-4) // of what 0.01 K makes
		}
		near(t, name+" bridge", sum.Energy.Bridge/(sum.To-sum.From), sum.Device.Conduction, 1e-9)
	}
}

func TestRunaway(t *testing.T) {
	s := sinusoidal(pattern.SpaceVector, 0.85)
	s.Switches = using(t, "mosfet-100") // with five times its current
	s.Switches.Fixed, s.Switches.Junction, s.Switches.Sink = false, 0, 65
	_, err := Simulate(s)
	var wrong *KeyError
	if !errors.As(err, &wrong) || wrong.Key != "switches.sink" || !strings.Contains(err.Error(), "runaway") {
		t.Errorf("the error is %v", err)
	}
}

// A digitised channel is laid a line through: by its points at half the rated current and at all of it, or, where that would
// begin below zero, by none and half of it (common practice). One whose line is given keeps it.
func TestLineThroughACurve(t *testing.T) {
	curved := strings.Replace(free, "[channel]\ntemperature = [\"25 C\"]\nthreshold   = [0]\nresistance  = [0]", "[channel]\ncurve = \"x.csv\"", 1)
	for points, want := range map[string]Switches{
		"25,0,0\n25,50,1.5\n25,100,2\n":                     {ChannelThreshold: 1, ChannelResistance: 0.01},
		"25,0,0\n25,50,1\n25,100,3\n":                       {ChannelResistance: 0.02},
		"25,0,0\n25,50,1\n25,100,2\n":                       {ChannelResistance: 0.02},
		"25,0,0\n25,50,1.5\n25,100,2\n125,0,0\n125,100,3\n": {ChannelThreshold: 0.5, ChannelResistance: 0.02},
	} {
		d, err := device.LoadWith("x.toml", []byte(curved), func(string, string) (string, []byte, error) {
			return "x.csv", []byte("temperature_c,current_a,voltage_v\n" + points), nil
		})
		if err != nil {
			t.Fatal(err)
		}
		s := Switches{Use: "x.toml", Device: &d}
		got := s.at(junction{channel: 75, diode: 25})
		if math.Abs(got.ChannelThreshold-want.ChannelThreshold) > 1e-12 || math.Abs(got.ChannelResistance-want.ChannelResistance) > 1e-12 {
			t.Errorf("%q: %g V and %g ohm, want %g and %g", points, got.ChannelThreshold, got.ChannelResistance, want.ChannelThreshold, want.ChannelResistance)
		}
	}
	s := using(t, "igbt-750")
	c, d := s.Device.Channel.At(80), s.Device.Diode.At(60)
	if got := s.at(junction{80, 60}); got.ChannelThreshold != c.Threshold || got.ChannelResistance != c.Resistance ||
		got.DiodeThreshold != d.Threshold || got.DiodeResistance != d.Resistance || got.BothWays {
		t.Errorf("%+v, want %+v and %+v", got, c, d)
	}
	s.Fixed, s.Junction, s.Sink = false, 125, 40
	if got, want := s.Cold(), s.at(junction{40, 40}); got != want {
		t.Errorf("%+v on a cold sink, want %+v", got, want)
	}
	s.Fixed = true
	if got, want := s.Cold(), s.at(junction{125, 125}); got != want {
		t.Errorf("%+v held at 125 C, want %+v", got, want)
	}
}
