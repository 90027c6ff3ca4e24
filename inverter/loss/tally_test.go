package loss_test

import (
	"math"
	"slices"
	"testing"

	"sextant/inverter"
	"sextant/inverter/device"
	"sextant/inverter/loss"
	"sextant/inverter/pattern"
)

// tally adds up what leg U of a bridge turns to heat under a sine current, from one real edge of its gates to
// the next: conduction by quadrature, switchings by the current of their instants. It is another way to what
// loss.Of finds, and shares with it only the device. Energies are over one repetition, for upper and lower.
func tally(t *testing.T, d *device.Device, p loss.Point) (upper, lower loss.Losses) {
	t.Helper()
	turn, err := pattern.Settings{
		Kind: p.Pattern, Frequency: p.Frequency, Modulation: p.Modulation, Carrier: p.Carrier, DeadTime: p.DeadTime,
	}.Repeat()
	if err != nil {
		t.Fatal(err)
	}
	current := func(at float64) float64 { return p.Current * math.Cos(2*math.Pi*p.Frequency*at-p.Lag) }
	sides := [2]*loss.Losses{&upper, &lower}
	channel, diode := d.Channel.At(p.Junction), d.Diode.At(p.Junction)
	// conduct adds the heat of a stretch without edges.
	conduct := func(from, to float64, on [2]bool) {
		steps := int(math.Ceil((to - from) * p.Frequency * 720))
		for k := range steps {
			h := (to - from) / float64(steps)
			i := current(from + (float64(k)+0.5)*h)
			drives := 0
			if i < 0 {
				drives, i = 1, -i
			}
			h /= turn.Length
			switch returns := 1 - drives; {
			case on[drives]:
				sides[drives].Conduction += h * i * channel.Voltage(i)
			case on[returns] && d.Technology.BothWays():
				c, x, v := device.Share(channel, diode, i)
				sides[returns].Conduction += h * c * v
				sides[returns].Diode += h * x * v
			default:
				sides[returns].Diode += h * i * diode.Voltage(i)
			}
		}
	}
	gates := func(g inverter.Gates) [2]bool { return [2]bool{g.Has(inverter.UHigh), g.Has(inverter.ULow)} }
	at, on := 0.0, gates(turn.Start)
	for _, e := range append(turn.Edges, pattern.Edge{Time: turn.Length, Gates: turn.Start}) {
		conduct(at, e.Time, on)
		now, i := gates(e.Gates), current(e.Time)
		for side, sign := range []float64{1, -1} {
			if sign*i <= 0 { // the side's diode carries the current
				continue
			}
			energy := func(of device.Event) float64 { return d.EnergyOf(of, i, p.Supply, p.Junction) / turn.Length }
			if now[side] && !on[side] {
				sides[side].TurnOn += energy(device.TurnOn)
				sides[1-side].Recovery += energy(device.Recovery)
			}
			if !now[side] && on[side] {
				sides[side].TurnOff += energy(device.TurnOff)
			}
		}
		at, on = e.Time, now
	}
	return upper, lower
}

// TestTally compares averages with the tally of real edges and prints the table of all patterns. At 81 carrier
// periods a turn patterns without jumps come within 0.2 % of a position's heat. Clamped ones begin and end each
// stretch anywhere in a period, one of few that switch, and so do clipped ones: they are compared at 801. Of
// six-step both are exact.
func TestTally(t *testing.T) {
	t.Log("pattern           device    upper W  tallied   differs  lower differs")
	for _, k := range pattern.Kinds() {
		if !k.Stepped() && !k.Compares() {
			continue
		}
		for _, name := range []string{"igbt-750", "sic-750"} {
			d := open(t, name)
			for _, m := range []float64{0.8, 1.2} {
				for _, lag := range []float64{-20, 35, 75, 150} {
					p := worked(k)
					ratio := 81.0
					if k.Clamps() || m > k.Linear() {
						ratio, p.Frequency = 801, 20
					}
					p.Carrier, p.DeadTime, p.Lag, p.Modulation = ratio*p.Frequency, 1e-6, lag*rad, m
					if k.Stepped() {
						p.DeadTime = 0.01 / p.Frequency // so long that edges which are late by it meet another current
					}
					r := of(t, d, p)
					upper, lower := tally(t, d, p)
					du, dl := r.Upper.Sum()/upper.Sum()-1, r.Lower.Sum()/lower.Sum()-1
					if lag == 35 && m == 0.8 {
						t.Logf("%-16v  %-8s %8.2f %8.2f  %7.3f %%  %7.3f %%", k, name, r.Upper.Sum(), upper.Sum(), 100*du, 100*dl)
					}
					tolerance := 0.002
					switch {
					case k.Stepped():
						tolerance = 1e-4 // of the tally's own steps
					case m > k.Linear():
						tolerance = 0.005 // pulses near the rails come and go
					}
					if math.Abs(du) > tolerance || math.Abs(dl) > tolerance {
						t.Errorf("%v, %s, M %g, %g degrees: upper %.3f W, tallied %.3f; lower %.3f W, tallied %.3f", k, name, m, lag, r.Upper.Sum(), upper.Sum(), r.Lower.Sum(), lower.Sum())
					}
				}
			}
		}
	}
}

// TestTallyOfLittle: the current of a switching costs what it costs however little it is.
func TestTallyOfLittle(t *testing.T) {
	d := open(t, "igbt-750")
	for _, lag := range []float64{-35, 35} {
		p := worked(pattern.SixStep180)
		p.Lag, p.Current = lag*rad, 0.4
		r := of(t, d, p)
		upper, lower := tally(t, d, p)
		for _, x := range [][2]float64{
			{r.Upper.TurnOn, upper.TurnOn}, {r.Upper.TurnOff, upper.TurnOff}, {r.Upper.Recovery, upper.Recovery},
			{r.Lower.TurnOn, lower.TurnOn}, {r.Lower.TurnOff, lower.TurnOff}, {r.Lower.Recovery, lower.Recovery},
		} {
			check(t, "switching", x[0], x[1], 1e-4)
		}
		if r.Upper.TurnOn+r.Upper.TurnOff == 0 {
			t.Errorf("%g degrees: nothing switches", lag)
		}
	}
}

// TestKnee: six-step has a channel of 5 mΩ carry forward and back, and beside the latter, from 1 V/5 mΩ on, a diode of 1 V and
// 2 mΩ, by Kirchhoff's laws. What both turn to heat is summed over fine parts of a turn with an end at each knee.
func TestKnee(t *testing.T) {
	d := *open(t, "sic-750")
	d.Channel = device.NewDrop([]float64{25}, []float64{0}, []float64{5e-3})
	d.Diode = device.NewDrop([]float64{25}, []float64{1}, []float64{2e-3})
	for _, peak := range []float64{150, 200, 201, 250, 300, 900} {
		for _, lag := range []float64{40, 100, 180} {
			p := worked(pattern.SixStep180)
			p.Current, p.Lag, p.DeadTime = peak, lag*rad, 0
			r := of(t, &d, p)
			forward := func(i float64) float64 { return 5e-3 * i * i }
			back := func(i float64) float64 {
				if i <= 200 {
					return 5e-3 * i * i
				}
				return i * (500 + i) / 700 // v/5mΩ + (v - 1 V)/2mΩ = i
			}
			// The upper channel is on from -90 to 90 degrees of the voltage.
			cuts := []float64{-90, 90}
			for _, c := range []float64{lag - 90, lag + 90} {
				knee := math.Asin(min(1, 200/peak)) / rad
				cuts = append(cuts, c, c-knee, c+knee)
			}
			heat := 0.0
			const parts = 20000
			slices.Sort(cuts)
			for n, from := range cuts[:len(cuts)-1] {
				from, to := max(from, -90), min(cuts[n+1], 90)
				h := (to - from) / parts
				for k := range parts {
					if h <= 0 {
						break
					}
					i := peak * math.Cos((from+(float64(k)+0.5)*h-lag)*rad)
					if i > 0 {
						heat += forward(i) * h / 360
					} else {
						heat += back(-i) * h / 360
					}
				}
			}
			check(t, "conduction", r.Upper.Conduction+r.Upper.Diode, heat, 1e-8)
		}
	}
}
