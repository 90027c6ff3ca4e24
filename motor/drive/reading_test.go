package drive

import (
	"math"
	"math/cmplx"
	"testing"

	"sextant/inverter"
)

// A reading observes a run and sums up what its instants show, by name; [Meter] has the same from its own integrals.
type reading struct {
	omega  float64 // of the fundamental, rad/s
	sum    map[string]float64
	lines  [3][5]complex128 // by order from 1: of the phases, the torque, the supply
	link   [2]float64       // V, the least and the most seen
	torque [2]float64       // N m
	peak   [3]float64       // A
	turns  float64          // A
}

// wave returns ∫ f e^(-jωt) dt.
func (s *stretch) wave(omega float64, f func(x *Instant) float64) complex128 {
	real := s.over(func(x *Instant) float64 { return f(x) * math.Cos(omega*x.Time) })
	imag := s.over(func(x *Instant) float64 { return f(x) * math.Sin(omega*x.Time) })
	return complex(real, -imag)
}

func (r *reading) Observe(s *Segment) {
	if s.T1 <= s.T0 {
		return
	}
	x := stretchOf(s)
	add := func(name string, f func(x *Instant) float64) { r.sum[name] += x.over(f) }
	add("time", func(*Instant) float64 { return 1 })
	add("link", func(x *Instant) float64 { return x.Link })
	add("supply", func(x *Instant) float64 { return x.Supply })
	add("supply²", func(x *Instant) float64 { return x.Supply * x.Supply })
	add("power", func(x *Instant) float64 { return x.Power.Supply })
	add("drawn", func(x *Instant) float64 { return x.LinkCurrent })
	add("drawn²", func(x *Instant) float64 { return x.LinkCurrent * x.LinkCurrent })
	add("charge²", func(x *Instant) float64 { return (x.Supply - x.LinkCurrent) * (x.Supply - x.LinkCurrent) })
	add("speed", func(x *Instant) float64 { return x.RPM() })
	add("torque", func(x *Instant) float64 { return x.Torque })
	add("i_d", func(x *Instant) float64 { return x.ID })
	add("i_q", func(x *Instant) float64 { return x.IQ })
	add("shaft", func(x *Instant) float64 { return x.Power.Shaft })
	add("copper", func(x *Instant) float64 { return x.Power.Copper })
	add("turns²", func(x *Instant) float64 { return x.Turns * x.Turns })
	for _, k := range inverter.Phases {
		add("i "+k.String(), func(x *Instant) float64 { return x.Current[k] })
		add("i² "+k.String(), func(x *Instant) float64 { return x.Current[k] * x.Current[k] })
		for n := range r.lines {
			r.lines[n][k] += x.wave(float64(n+1)*r.omega, func(x *Instant) float64 { return x.Current[k] })
		}
		way, device := x.from.Ways[k], inverter.Low(k).String()
		if way.Upper() {
			device = inverter.High(k).String()
		}
		if !way.Channel() {
			device += " diode"
		}
		add(device, func(x *Instant) float64 { return math.Abs(x.Current[k]) })
		add(device+"²", func(x *Instant) float64 { return x.Current[k] * x.Current[k] })
		add("heat "+device[:2], func(x *Instant) float64 {
			if way.Upper() {
				return (x.Link - x.Pole[k]) * x.Current[k]
			}
			return -x.Pole[k] * x.Current[k]
		})
	}
	for n := range r.lines {
		r.lines[n][3] += x.wave(float64(n+1)*r.omega, func(x *Instant) float64 { return x.Torque })
		r.lines[n][4] += x.wave(float64(n+1)*r.omega, func(x *Instant) float64 { return x.Supply })
	}
	const fine = 16
	for j := range fine + 1 {
		y := s.At(s.T0 + x.h*float64(j)/fine)
		r.link[0], r.link[1] = min(r.link[0], y.Link), max(r.link[1], y.Link)
		r.torque[0], r.torque[1] = min(r.torque[0], y.Torque), max(r.torque[1], y.Torque)
		r.turns = max(r.turns, math.Abs(y.Turns))
		for k, i := range y.Current {
			r.peak[k] = max(r.peak[k], math.Abs(i))
		}
	}
}

// What a meter sums up of any random run is what its instants show. A miss is a part of the largest of its kind.
func TestMeterReads(t *testing.T) {
	worst := map[string]float64{}
	for seed := range uint64(90) {
		s := besetOf(seed)
		d, err := New(s)
		if err != nil {
			continue // gates that short the supply at once
		}
		const hertz = 2 // so slow that the longest stride is no more than a few radians of the third order
		r := reading{omega: 2 * math.Pi * hertz, sum: map[string]float64{}}
		r.link, r.torque = [2]float64{math.Inf(1), math.Inf(-1)}, [2]float64{math.Inf(1), math.Inf(-1)}
		m := newMeter(hertz)
		f := series{omega: r.omega, lines: make([][5]complex128, len(r.lines))}
		d.Watch(m)
		d.Watch(&r)
		d.Watch(&f)
		if err := d.Advance(s.Run.Measure); !allowed(err) {
			t.Errorf("seed %d: %v", seed, err)
		}
		time := r.sum["time"]
		if time == 0 {
			continue
		}
		sum := m.summary()
		near := func(name string, got, want, size, within float64) {
			off := math.Abs(got-want) / size
			if off <= 1e-12 || got == want {
				return
			}
			worst[name] = max(worst[name], off)
			if !(off < within) {
				t.Errorf("seed %d, %s: %g, instants show %g", seed, name, got, want)
			}
		}
		mean := func(name string) float64 { return r.sum[name] / time }
		root := func(name string) float64 { return math.Sqrt(mean(name)) }
		amps, volts := 1e-3, s.Supply.Voltage
		for _, i := range r.peak {
			amps = max(amps, i)
		}
		near("time", sum.To-sum.From, time, time, 1e-9)
		p := &sum.Supply
		near("link", p.VoltageMean, mean("link"), volts, 1e-5)
		near("supply", p.CurrentMean, mean("supply"), amps, 1e-5)
		source := amps
		if c := s.Supply; c.Capacitance > 0 && c.Resistance > 0 { // what the source gives is what two voltages leave
			source += 1e-2 * volts / c.Resistance
		}
		near("supply's rms", p.CurrentRMS, root("supply²"), source, 1e-5)
		near("power", p.Power, mean("power"), volts*amps, 1e-5)
		near("drawn rms", p.LinkRMS, root("drawn²"), amps, 1e-5)
		ripple := math.Sqrt(max(mean("drawn²")-mean("drawn")*mean("drawn"), 0))
		if r.sum["charge²"] > 0 {
			ripple = root("charge²")
		}
		near("capacitor", p.Capacitor, ripple, source, 1e-5)
		near("link's ripple", p.LinkRipple, r.link[1]-r.link[0], volts, 1e-3)
		x := &sum.Machine
		near("speed", x.SpeedMean, mean("speed"), max(math.Abs(mean("speed")), 1), 1e-9)
		torque := max(math.Abs(r.torque[0]), math.Abs(r.torque[1]), 1e-3)
		near("torque", x.TorqueMean, mean("torque"), torque, 1e-5)
		near("torque's ripple", x.TorqueRipple, r.torque[1]-r.torque[0], torque, 3e-4)
		near("i_d", x.IDMean, mean("i_d"), amps, 1e-5)
		near("i_q", x.IQMean, mean("i_q"), amps, 1e-5)
		near("shaft", x.ShaftPower, mean("shaft"), max(volts*amps, math.Abs(mean("shaft"))), 1e-5)
		near("copper", x.CopperLoss, mean("copper"), max(mean("copper"), 1e-6), 1e-5)
		swaps := false
		for _, f := range s.Faults {
			swaps = swaps || f.Kind == PhaseSwap
		}
		for k, p := range sum.Phases {
			if !swaps { // means of a window in which leads change places are of none of them
				near("mean", p.CurrentMean, mean("i "+p.Phase.String()), amps, 1e-5)
				near("rms", p.CurrentRMS, root("i² "+p.Phase.String()), amps, 1e-5)
				near("fundamental", p.FundamentalPeak, 2/time*cmplx.Abs(r.lines[0][k]), amps, 1e-4)
			}
			near("peak", p.CurrentPeak, r.peak[k], amps, 1e-3)
		}
		for _, x := range sum.Switches {
			name := x.Switch.String()
			near("channel's mean", x.ChannelMean, mean(name), amps, 1e-3) // of a quadrature across a kink
			near("channel's rms", x.ChannelRMS, root(name+"²"), amps, 1e-5)
			near("diode's mean", x.DiodeMean, mean(name+" diode"), amps, 1e-5)
			near("diode's rms", x.DiodeRMS, root(name+" diode²"), amps, 1e-5)
			near("heat", x.Conduction, mean("heat "+name), volts*amps, 1e-6)
		}
		for n, h := range f.summary() {
			for k, x := range [5][2]float64{{h.U, h.UAngle}, {h.V, h.VAngle}, {h.W, h.WAngle}, {h.Torque, h.TorqueAngle}, {h.Supply, h.SupplyAngle}} {
				size := [5]float64{amps, amps, amps, torque, source}[k]
				near("harmonic", cmplx.Abs(cmplx.Rect(x[0], x[1]*math.Pi/180)-2/complex(time, 0)*r.lines[n][k])+size, size, size, 1e-4)
			}
		}
		if x := sum.Turns; x != nil {
			near("turns", x.CurrentRMS, root("turns²"), max(r.turns, amps), 1e-5)
			near("turns' peak", x.CurrentPeak, r.turns, max(r.turns, amps), 1e-3)
		}
	}
	t.Logf("missed at most: %v", worst)
}
