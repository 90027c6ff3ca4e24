package drive

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/inverter/spectrum"
	"sextant/motor"
)

// coils carries the exact currents of a resistance and an inductance from edge to edge of a pattern:
// i = v/R + (i0 - v/R) e^(-t R/L).
type coils struct {
	r, l, supply float64
	t            float64 // s
	gates        inverter.Gates
	i            inverter.ABC
	squares      inverter.ABC // ∫ i² dt
}

func (c *coils) to(t float64) {
	v := c.gates.Poles(c.supply).Star()
	h, k := t-c.t, c.r/c.l
	fade := -math.Expm1(-h * k)
	for p := range c.i {
		end := v[p] / c.r
		d := c.i[p] - end
		c.squares[p] += end*end*h + 2*end*d*fade/k + d*d*-math.Expm1(-2*h*k)/(2*k)
		c.i[p] += (end - c.i[p]) * fade
	}
	c.t = t
}

// Currents and their rms in coils under every pattern that drives all legs, against the piecewise
// exponentials of the pattern's own edges. The greatest error seen is 4e-11 of the peak.
func TestCoilsAgainstExponentials(t *testing.T) {
	kinds := []pattern.Kind{
		pattern.SixStep180, pattern.SineTriangle, pattern.ThirdHarmonic, pattern.SpaceVector, pattern.Clamped60,
		pattern.Clamped30, pattern.ClampedHigh, pattern.ClampedLow,
	}
	greatest := 0.0
	for _, kind := range kinds {
		for _, f := range []float64{50, -120} {
			s := passive(kind, 350, 0.5, 2e-3, 50, 0)
			s.Gating.Settings = pattern.Settings{Kind: kind, Frequency: f, Phase: 0.4, Modulation: 0.85, Carrier: 3137}
			s.Run.Measure = 0.0333
			edges, err := pattern.New(s.Gating.Settings)
			if err != nil {
				t.Fatal(err)
			}
			want := coils{r: 0.5, l: 2e-3, supply: 350, gates: edges.Gates()}
			d, _ := watched(t, s)
			for n := 1; n <= 333; n++ {
				at := 1e-4 * float64(n)
				for edges.Peek() <= at {
					to, g := edges.Next()
					want.to(to)
					want.gates = g
				}
				want.to(at)
				if err := d.Advance(at - d.Time()); err != nil {
					t.Fatal(err)
				}
				got := d.Now().Current
				for p := range got {
					diff := math.Abs(got[p]-want.i[p]) / 300
					greatest = max(greatest, diff)
					if diff > 1e-9 {
						t.Fatalf("%v at %g Hz: %v at %g s, want %v", kind, f, got, at, want.i)
					}
				}
			}
			balance(t, d)
			sum := simulate(t, s)
			for p := range sum.Phases {
				near(t, fmt.Sprintf("%v at %g Hz: rms", kind, f), sum.Phases[p].CurrentRMS, math.Sqrt(want.squares[p]/want.t), 1e-9)
			}
		}
	}
	t.Logf("largest disagreement %.1e of 300 A", greatest)
}

// The steady fundamental of the current is that of the voltage over the impedance; the voltage's is the exact
// one of the edges.
func TestCoilsFundamental(t *testing.T) {
	for _, kind := range []pattern.Kind{pattern.SixStep180, pattern.SineTriangle, pattern.SpaceVector, pattern.Clamped30} {
		s := passive(kind, 350, 2, 4e-3, 50, 3)
		s.Gating.Modulation, s.Gating.CarrierRatio, s.Gating.Phase = 0.9, 21, 0.3
		w, err := spectrum.Of(s.Gating.Settings, spectrum.Phase, 350, 0)
		if err != nil {
			t.Fatal(err)
		}
		var h [1]spectrum.Harmonic
		w.Harmonics(h[:])
		z := math.Hypot(2, 2*math.Pi*50*4e-3)
		near(t, kind.String(), simulate(t, s).Phases[0].FundamentalPeak, h[0].Peak/z, 1e-9)
	}
}

// Rashid, Power Electronics, 3rd/4th ed., ch. 6, as recomputed from the exact exponentials: the current where
// the voltage's angle is -30, 30 and 90 degrees, and where it rises through zero.
func TestSixStepInstants(t *testing.T) {
	d, _ := watched(t, passive(pattern.SixStep180, 220, 5, 23e-3, 60, 20))
	for _, tt := range []struct{ deg, want, tol float64 }{
		{-30, -0.82546, 1e-5}, {30, 12.84568, 1e-5}, {90, 13.67114, 1e-5}, {-27.24, 0, 2e-3},
	} {
		at := (20 + tt.deg/360) / 60
		if at < d.Time() {
			at += 1. / 60
		}
		if err := d.Advance(at - d.Time()); err != nil {
			t.Fatal(err)
		}
		if got := d.Now().Current[0]; math.Abs(got-tt.want) > tt.tol {
			t.Errorf("at %g degrees %.6g A, want %g", tt.deg, got, tt.want)
		}
	}
	balance(t, d)
}

// Bimbhra, Power Electronics, three-phase bridge on 10 Ω a phase from 450 V: the same with 1 µH, whose time
// constant is 2e-5 of a step. Undriven legs of the 120- and 150-degree patterns rest at the star point.
func TestSteppedOnResistance(t *testing.T) {
	for _, tt := range []struct {
		kind                pattern.Kind
		rms, power, channel float64
	}{
		{pattern.SixStep180, 21.2132, 13500, 15},
		{pattern.SixStep120, 18.3712, 10125, 12.9904},
		{pattern.TwelveStep150, 19.8431, 11812.5, 14.0312},
	} {
		s := simulate(t, passive(tt.kind, 450, 10, 1e-6, 50, 1))
		near(t, tt.kind.String()+" rms", s.Phases[1].CurrentRMS, tt.rms, 2e-4)
		near(t, tt.kind.String()+" power", s.Machine.CopperLoss, tt.power, 4e-4)
		near(t, tt.kind.String()+" switch rms", s.Switches[3].ChannelRMS, tt.channel, 2e-4)
	}
}

// Machine A carries 120 A on its q axis, and -120 A, under space-vector gating at the voltage that the dq
// equations ask for (Krishnan, ch. 3). What a 40 kHz carrier leaves of ripple is 2 A, whose own heat and
// torque are below 1e-4.
func TestHeldSpeedSteadyState(t *testing.T) {
	for _, tt := range []struct{ modulation, lead, iq, torque, shaft, supply float64 }{
		{0.612905, 106.3309, 120, 57.6, 18095.57, 52.9359},
		{0.586635, 72.91593, -120, -57.6, -18095.57, -50.4674},
	} {
		s := turning(machineA, pattern.SpaceVector, 350, 3000, 0.2, 0.02)
		s.Gating.Frequency, s.Gating.Modulation, s.Gating.Phase, s.Gating.Carrier = 200, tt.modulation, tt.lead*math.Pi/180, 40e3
		sum := simulate(t, s)
		if math.Abs(sum.Machine.IDMean) > 0.01 {
			t.Errorf("i_d is %g A, want none", sum.Machine.IDMean)
		}
		near(t, "i_q", sum.Machine.IQMean, tt.iq, 1e-4)
		near(t, "torque", sum.Machine.TorqueMean, tt.torque, 1e-4)
		near(t, "shaft power", sum.Machine.ShaftPower, tt.shaft, 1e-4)
		near(t, "supply", sum.Supply.CurrentMean, tt.supply, 2e-4)
		near(t, "copper heat", sum.Machine.CopperLoss, 432, 1e-3)
	}
}

// The shorted machine brakes hardest at one speed: Welchko et al., IEEE Trans. EC-18 (2003) 291.
func TestHardestShortCircuitBraking(t *testing.T) {
	near(t, "round", simulate(t, turning(machineA, pattern.AllLow, 350, 238.732, 0.4, 0.02)).Machine.TorqueMean, -96, 1e-6)
	near(t, "salient", simulate(t, turning(machineB, pattern.AllHigh, 350, 213.529, 0.6, 0.02)).Machine.TorqueMean, -114.487, 1e-5)
}

// Fundamental of the current when a spinning machine feeds the supply with all switches off: an ideal-diode
// circuit stepped 100 000 times a turn, agreeing to 1e-4 with itself stepped finer.
func TestRectifiedFundamental(t *testing.T) {
	for _, tt := range []struct{ rpm, peak float64 }{{8000, 159.14}, {12000, 313.98}} {
		turn := 60 / tt.rpm / 4
		s := simulate(t, turning(machineA, pattern.AllOff, 350, tt.rpm, 60*turn, 10*turn))
		near(t, "fundamental", s.Phases[0].FundamentalPeak, tt.peak, 2e-4)
	}
}

// A vectors observer takes Fourier coefficients of pole voltages and currents at multiples of a frequency.
// Ideal switches hold a pole still during a segment, so its integral is exact; currents are taken by
// Simpson's rule on segments far shorter than a turn.
type vectors struct {
	omega float64
	pole  [8]complex128 // by order, of phase U
	i     complex128    // order 1, of phase U
	time  float64
}

func (v *vectors) Observe(s *Segment) {
	h := s.T1 - s.T0
	if h <= 0 {
		return
	}
	v.time += h
	a, m, b := s.At(s.T0), s.At(s.T0+h/2), s.At(s.T1)
	spin := func(order int, t float64) complex128 { return cmplx.Exp(complex(0, -float64(order)*v.omega*t)) }
	for n := 1; n < len(v.pole); n++ {
		v.pole[n] += complex(m.Pole[0], 0) * (spin(n, s.T1) - spin(n, s.T0)) / complex(0, -float64(n)*v.omega)
	}
	v.i += complex(h/6, 0) * (complex(a.Current[0], 0)*spin(1, s.T0) + complex(4*m.Current[0], 0)*spin(1, s.T0+h/2) + complex(b.Current[0], 0)*spin(1, s.T1))
}

// deadTimed is a slow sine into coils heavy enough that the current has almost no ripple to rest at zero
// with.
func deadTimed(supply, carrier, dead float64) Scenario {
	s := passive(pattern.SineTriangle, supply, 1, 60e-3, 50, 0)
	s.Gating.Modulation, s.Gating.Carrier, s.Gating.DeadTime = 0.8, carrier, dead
	s.Run.Settle, s.Run.Measure = 0.8, 0.02
	return s
}

// Dead time takes (4/π) V td fc from the fundamental, opposite to the current, and a fifth and a seventh of
// that from the fifth and seventh: Jeong, Park, IEEE Trans. IE-38 (1991) 108; Mohan, Undeland, Robbins, Power
// Electronics, 3rd ed., 8-5. Two per cent for what the ripple blurs.
func TestDeadTimeFundamental(t *testing.T) {
	for _, tt := range []struct{ supply, carrier, dead, mean float64 }{{350, 10e3, 2e-6, 7}, {300, 20e3, 1.5e-6, 9}} {
		with, without := &vectors{omega: 100 * math.Pi}, &vectors{omega: 100 * math.Pi}
		simulate(t, deadTimed(tt.supply, tt.carrier, tt.dead), with)
		simulate(t, deadTimed(tt.supply, tt.carrier, 0), without)
		along := with.i / complex(cmplx.Abs(with.i), 0)
		turn := complex(1, 0)
		for n := 1; n <= 7; n++ {
			turn *= along
			if n%2 == 0 || n == 3 {
				continue
			}
			// A square wave's harmonics: all in step at its edges, 4/(πn) with alternating sign about its middle.
			want := 4 / math.Pi * tt.mean / float64(n)
			if n == 3 || n == 7 {
				want = -want
			}
			got := -2 / complex(with.time, 0) * (with.pole[n] - without.pole[n]) / turn
			if cmplx.Abs(got-complex(want, 0)) > 0.02*4/math.Pi*tt.mean {
				t.Errorf("order %d: dead time takes %.4g V along the current, want %.4g", n, got, want)
			}
		}
	}
}

// The mean error while the current keeps its sign is -sign(i) V td fc (same sources).
func TestDeadTimeMeanError(t *testing.T) {
	for _, tt := range []struct{ supply, carrier, dead, mean float64 }{{350, 10e3, 2e-6, 7}, {300, 20e3, 1.5e-6, 9}} {
		// A held field: the reference rests at 0.4 of its depth in U, so the current keeps its sign.
		for _, phase := range []float64{math.Pi / 3, 2 * math.Pi / 3} {
			s := deadTimed(tt.supply, tt.carrier, tt.dead)
			s.Gating.Frequency, s.Gating.Phase, s.Machine.InductanceD, s.Machine.InductanceQ = 0, phase, 5e-3, 5e-3
			s.Run.Settle, s.Run.Measure = 0.1, 0.01
			x := simulate(t, s).Phases[0].CurrentMean
			sign := math.Copysign(1, x)
			// U carries half of what one other phase does; the star point moves by the mean of all three errors.
			poles := inverter.ABC{0.8 * math.Cos(phase), 0.8 * math.Cos(phase-2*math.Pi/3), 0.8 * math.Cos(phase+2*math.Pi/3)}
			for k := range poles {
				poles[k] = poles[k]*tt.supply/2 - math.Copysign(tt.mean, poles[k])
			}
			near(t, fmt.Sprintf("%g V, sign %g", tt.supply, sign), x, poles.Star()[0], 1e-3) // into 1 Ω
		}
	}
}

// sinusoidal is a machine that draws, at M = 0.8 and 350 V, a current of 300 A lagging by acos(power factor)
// from a bridge with a carrier 400 times as fast: 0.7 % of ripple, whose square is below 1e-4.
func sinusoidal(kind pattern.Kind, factor float64) Scenario {
	const f, l = 50, 3e-3
	r := 20e-3
	lag := math.Acos(factor)
	i := cmplx.Rect(300, -lag)
	e := 140 - complex(r, 2*math.Pi*f*l)*i // the EMF that leaves this current
	m := motor.Machine{PolePairs: 1, Resistance: r, InductanceD: l, InductanceQ: l, FluxLinkage: cmplx.Abs(e) / (2 * math.Pi * f)}
	s := turning(m, kind, 350, 60*f, 0, 1./f)
	s.Shaft.StartAngle = cmplx.Phase(e) - math.Pi/2
	s.Gating.Frequency, s.Gating.Modulation, s.Gating.CarrierRatio = f, 0.8, 400
	if kind >= pattern.Clamped60 { // sampled twice a period and held: late by a quarter of it
		s.Gating.Phase = 2 * math.Pi / 400 / 4
	}
	s.Run.InitialCurrents = inverter.Vector{Alpha: real(i), Beta: imag(i)}.ABC()
	s.Switches = Switches{ChannelResistance: 1e-9, DiodeResistance: 2e-9} // tells them apart, does nothing
	return s
}

// Shares of switch and diode: mean = a·I and mean square = b·I² with a = 1/(2π) ± M cos φ/8 and b = 1/8 ±
// M cos φ/(3π) for a sine, b shifted by an added zero sequence; upper and lower differ where one rail is
// clamped. Casanellas, IEE Proc. EPA 141 (1994) 235; Bierhoff, Fuchs, PESC 2004; figures by quadrature.
func TestConductionShares(t *testing.T) {
	for _, tt := range []struct {
		kind                           pattern.Kind
		factor                         float64
		upperA, upperB, lowerA, lowerB float64 // switch
		diodeA, diodeB, underA, underB float64 // upper diode, lower diode
	}{
		{pattern.SineTriangle, 0.85, 0.244155, 0.197150, 0.244155, 0.197150, 0.074155, 0.052850, 0.074155, 0.052850},
		{pattern.SineTriangle, -0.85, 0.074155, 0.052850, 0.074155, 0.052850, 0.244155, 0.197150, 0.244155, 0.197150},
		{pattern.ThirdHarmonic, 0.85, 0.244155, 0.197415, 0.244155, 0.197415, 0.074155, 0.052585, 0.074155, 0.052585},
		{pattern.SpaceVector, 0.85, 0.244155, 0.197481, 0.244155, 0.197481, 0.074155, 0.052519, 0.074155, 0.052519},
		{pattern.Clamped60, 0.85, 0.244155, 0.196606, 0.244155, 0.196606, 0.074155, 0.053394, 0.074155, 0.053394},
		{pattern.Clamped30, 0.85, 0.244155, 0.198355, 0.244155, 0.198355, 0.074155, 0.051645, 0.074155, 0.051645},
		{pattern.ClampedHigh, 0.85, 0.297833, 0.239782, 0.190477, 0.155180, 0.127833, 0.094820, 0.020477, 0.010218},
		{pattern.ClampedLow, 0.85, 0.190477, 0.155180, 0.297833, 0.239782, 0.020477, 0.010218, 0.127833, 0.094820},
	} {
		s := simulate(t, sinusoidal(tt.kind, tt.factor))
		high, low := s.Switches[inverter.VHigh], s.Switches[inverter.VLow]
		for _, x := range []struct {
			what      string
			got, want float64
		}{
			{"upper switch a", high.ChannelMean / 300, tt.upperA}, {"upper switch b", high.ChannelRMS * high.ChannelRMS / 9e4, tt.upperB},
			{"lower switch a", low.ChannelMean / 300, tt.lowerA}, {"lower switch b", low.ChannelRMS * low.ChannelRMS / 9e4, tt.lowerB},
			{"upper diode a", high.DiodeMean / 300, tt.diodeA}, {"upper diode b", high.DiodeRMS * high.DiodeRMS / 9e4, tt.diodeB},
			{"lower diode a", low.DiodeMean / 300, tt.underA}, {"lower diode b", low.DiodeRMS * low.DiodeRMS / 9e4, tt.underB},
		} {
			if math.Abs(x.got-x.want) > 4e-4 { // of a carrier's period is 2.5e-3 of a turn, either way at the edges
				t.Errorf("%v, power factor %g, %s: %.6f, want %.6f", tt.kind, tt.factor, x.what, x.got, x.want)
			}
		}
	}
}

// The heat of each device is its threshold times its mean current and its resistance times its mean square.
func TestHeatOfDevices(t *testing.T) {
	sc := sinusoidal(pattern.SpaceVector, 0.85)
	sc.Gating.DeadTime = 1e-6
	sc.Switches = Switches{ChannelThreshold: 0.82, ChannelResistance: 1.98e-3, DiodeThreshold: 0.88, DiodeResistance: 1.46e-3}
	s := simulate(t, sc)
	total := 0.0
	for _, x := range s.Switches {
		heat := 0.82*x.ChannelMean + 1.98e-3*x.ChannelRMS*x.ChannelRMS + 0.88*x.DiodeMean + 1.46e-3*x.DiodeRMS*x.DiodeRMS
		near(t, x.Switch.String(), x.Conduction, heat, 1e-12)
		total += heat
	}
	near(t, "bridge", s.Energy.Bridge/(s.To-s.From), total, 1e-9)
}

// A channel that conducts both ways loses R I²/4 whatever the pattern; a dead time hands the diode a share of
// 2 td fc. At 300 A: 5 mΩ 112.5 W; 0.5 µs at 20 kHz on 3 V and 4 mΩ 7.53 W in the diode, 110.25 W in the channel.
func TestChannelBothWays(t *testing.T) {
	sc := sinusoidal(pattern.SpaceVector, 0.85)
	sc.Switches = Switches{ChannelResistance: 5e-3, DiodeThreshold: 3, DiodeResistance: 4e-3, BothWays: true}
	channel, diode := perSquare(simulate(t, sc), 4e-3)
	near(t, "channel", channel, 112.5, 1e-9)
	if diode != 0 {
		t.Errorf("diodes give off %g W beside gated channels", diode)
	}
	sc.Gating.DeadTime = 0.5e-6
	channel, diode = perSquare(simulate(t, sc), 4e-3)
	near(t, "diode", diode, 7.530, 1e-2)
	near(t, "channel", channel, 110.25, 1e-3)
}

// perSquare returns the mean heat of a channel of 5 mΩ and of a diode of 3 V and r (Ω) at 300 A: dead time and
// drops take a little from the current, and what is not periodic yet is shared between upper and lower.
func perSquare(s Summary, r float64) (channel, diode float64) {
	square := 0.0
	for _, p := range s.Phases {
		square += p.CurrentRMS * p.CurrentRMS / 3 / (300 * 300 / 2)
	}
	for _, u := range s.Switches {
		channel += 5e-3 * u.ChannelRMS * u.ChannelRMS / square / 6
		diode += (3*u.DiodeMean/math.Sqrt(square) + r*u.DiodeRMS*u.DiodeRMS/square) / 6
	}
	return channel, diode
}

// Current between link and bridge: mean (3/4) M I cos φ, rms over the phase's rms sqrt(2M √3/(4π) (1 + 4cos²φ)),
// the zero sequence notwithstanding. Kolar, Round, IEE Proc. EPA 153 (2006) 535.
func TestLinkCurrent(t *testing.T) {
	for _, kind := range []pattern.Kind{pattern.SineTriangle, pattern.SpaceVector, pattern.Clamped60} {
		s := simulate(t, sinusoidal(kind, 0.85))
		near(t, kind.String()+" mean", s.Supply.CurrentMean, 153, 1e-3)
		near(t, kind.String()+" rms", s.Supply.CurrentRMS/s.Phases[0].CurrentRMS, 0.926212, 1e-3)
	}
}

// Mean currents point away from an open upper switch and towards an open lower one: Mendes, Cardoso, IEMDC
// 1999; Rothenhagen, Fuchs, IEEE PESC 2004. An ideal-diode circuit gives 0.791 for the normalised mean.
func TestMeanPointsAtOpenSwitch(t *testing.T) {
	want := map[inverter.Switch]float64{
		inverter.UHigh: 180, inverter.VHigh: 300, inverter.WHigh: 60, inverter.ULow: 0, inverter.VLow: 120, inverter.WLow: 240,
	}
	for sw, deg := range want {
		sc := passive(pattern.SixStep180, 350, 0.5, 2e-3, 100, 30)
		sc.Faults = []Fault{{Kind: SwitchOpen, Switch: sw}}
		s := simulate(t, sc)
		mean := inverter.ABC{s.Phases[0].CurrentMean, s.Phases[1].CurrentMean, s.Phases[2].CurrentMean}
		v, _ := mean.Clarke()
		if off := math.Remainder(v.Angle()*180/math.Pi-deg, 360); math.Abs(off) > 1e-6 {
			t.Errorf("%v open: the mean current points at %.3f degrees, want %g", sw, v.Angle()*180/math.Pi, deg)
		}
		k := sw.Leg()
		near(t, sw.String()+" normalised mean", math.Abs(mean[k])/s.Phases[k].FundamentalPeak, 0.791, 1e-3)
	}
}
