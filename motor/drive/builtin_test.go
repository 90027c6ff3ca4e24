package drive_test

import (
	"bytes"
	"math"
	"math/cmplx"
	"testing"

	"sextant/assets"
	"sextant/inverter"
	"sextant/inverter/loss"
	"sextant/motor/drive"
	"sextant/motor/scenario"
)

// steadyQ returns i_q, in A, of a machine at a held speed on a rotating voltage of a peak and a lead on the d
// axis, from the dq equations at rest (Krishnan, Permanent Magnet Synchronous and Brushless DC Motor Drives, CRC
// 2010, ch. 3):
//
//	v_d = R i_d - ω L i_q,  v_q = R i_q + ω (L i_d + ψ)
func steadyQ(s *drive.Scenario, peak float64) float64 {
	m := s.Machine
	w := float64(m.PolePairs) * s.Shaft.Speed
	x, r := w*m.InductanceD, m.Resistance
	vd, vq := peak*math.Cos(s.Gating.Phase), peak*math.Sin(s.Gating.Phase)
	return (r*(vq-w*m.FluxLinkage) - x*vd) / (r*r + x*x)
}

// torqueOf returns 3/2 p ψ i_q.
func torqueOf(s *drive.Scenario, iq float64) float64 {
	return 1.5 * float64(s.Machine.PolePairs) * s.Machine.FluxLinkage * iq
}

// A story is what a built-in scenario is for, as a figure that a source outside the drive gives.
type story func(t *testing.T, s *drive.Scenario, sum *drive.Summary)

// torqueFrom checks the torque that a voltage of a peak makes, in parts of the supply's. Harmonics of the
// voltage make currents, but with EMFs that are sines no mean torque.
func torqueFrom(part func(s *drive.Scenario) float64, within float64) story {
	return func(t *testing.T, s *drive.Scenario, sum *drive.Summary) {
		drive.Near(t, "torque", sum.Machine.TorqueMean, torqueOf(s, steadyQ(s, part(s)*s.Supply.Voltage)), within)
	}
}

// commanded checks the torque of a commanded current. Samples are taken amid the ripple, whose mean the dead
// time moves a little.
func commanded(t *testing.T, s *drive.Scenario, sum *drive.Summary) {
	drive.Near(t, "torque", sum.Machine.TorqueMean, torqueOf(s, s.Gating.IQ), 5e-3)
}

// atSpeed checks that a rotor keeps step with f Hz.
func atSpeed(f float64) story {
	return func(t *testing.T, s *drive.Scenario, sum *drive.Summary) {
		drive.Near(t, "speed", sum.Machine.SpeedMean, 60*f/float64(s.Machine.PolePairs), 1e-4)
		drag := s.Shaft.Friction * sum.Machine.SpeedMean * math.Pi / 30
		drive.Near(t, "torque against friction", sum.Machine.TorqueMean, drag, 1e-3)
	}
}

var stories = map[string]story{
	// Machine A of Krishnan's equations: see steadyQ.
	"hauler-pwm":    torqueFrom(func(s *drive.Scenario) float64 { return s.Gating.Modulation / 2 }, 5e-3),
	"trainer-pwm":   torqueFrom(func(s *drive.Scenario) float64 { return s.Gating.Modulation / 2 }, 5e-3),
	"hauler-climb":  commanded,
	"hauler-brake":  commanded,
	"trainer-speed": atSpeedUnder(1200),
	"hauler-igbt":   heated,
	"hauler-sic":    heated,

	// Fundamentals of the stepped patterns: Mohan, Undeland, Robbins, Power Electronics, 3rd ed., section 8-4-2; the
	// twelve-step wave by its Fourier sum, for an idle leg at the star point's level. With inductance the leg's diodes
	// first carry its current to an end, which takes some of the voltage.
	"hauler-six-step":     torqueFrom(func(*drive.Scenario) float64 { return 2 / math.Pi }, 5e-3),
	"trainer-six-step":    torqueFrom(func(*drive.Scenario) float64 { return 2 / math.Pi }, 5e-3),
	"trainer-twelve-step": torqueFrom(func(*drive.Scenario) float64 { return 2 / math.Pi * math.Cos(math.Pi/12) }, 3e-2),

	// Two switches conduct, so all that the supply gives goes through one upper channel or comes back through
	// one upper diode, each phase having a third of it (Kirchhoff, and the symmetry of a turn).
	"trainer-120": func(t *testing.T, _ *drive.Scenario, sum *drive.Summary) {
		for _, k := range inverter.Phases {
			x := sum.Switches[inverter.High(k)]
			drive.Near(t, "a third of the supply's current", x.ChannelMean-x.DiodeMean, sum.Supply.CurrentMean/3, 1e-3)
		}
	},

	// The EMF's line peak, √3 ω ψ = 174 V at 3000 rpm, is below the battery's 350 V: nothing flows (Jahns, Caliskan,
	// IEEE Trans. IA-35 (1999) 1347).
	"hauler-coast": func(t *testing.T, _ *drive.Scenario, sum *drive.Summary) {
		for _, p := range sum.Phases {
			if p.CurrentPeak != 0 {
				t.Errorf("phase %v carries %g A", p.Phase, p.CurrentPeak)
			}
		}
	},
	// The same at 8000 rpm, above it: an ideal-diode circuit stepped 100 000 times a turn.
	"hauler-overspeed": func(t *testing.T, _ *drive.Scenario, sum *drive.Summary) {
		drive.Near(t, "supply", sum.Supply.CurrentMean, -148.91, 2e-3)
	},
	// An ideal-diode circuit, agreeing to 0.5 % when stepped finer.
	"hauler-boost": func(t *testing.T, _ *drive.Scenario, sum *drive.Summary) {
		drive.Near(t, "supply", sum.Supply.CurrentMean, -18.871, 5e-3)
	},
	// Welchko, Jahns, Soong, Nagashima, IEEE Trans. EC-18 (2003) 291: T = -(3/2) p ψ ω R ψ / (R² + ω² L²).
	"hauler-short": func(t *testing.T, _ *drive.Scenario, sum *drive.Summary) {
		drive.Near(t, "torque", sum.Machine.TorqueMean, -15.1827, 1e-4)
	},

	// What the shaft gives less the copper's part charges the capacitor: C (v² - V²)/2 = P t, the current taking a
	// hundredth or two of the time to come.
	"hauler-full-battery": func(t *testing.T, s *drive.Scenario, sum *drive.Summary) {
		iq := s.Gating.IQ
		p := -torqueOf(s, iq)*s.Shaft.Speed - 1.5*s.Machine.Resistance*iq*iq
		v := s.Supply.Voltage
		drive.Near(t, "rise of the link", sum.Supply.LinkRipple, math.Sqrt(v*v+2*p*s.Run.Measure/s.Supply.Capacitance)-v, 3e-2)
		drive.Told(t, sum, "takes no charge")
	},

	// One phase open leaves two windings in line between line voltage and line EMF: √3/2 of the current, and half the
	// torque (Mendes, Cardoso, IEMDC 1999, for the single-phase current; the rest is circuit law).
	"hauler-phase-lost": func(t *testing.T, s *drive.Scenario, sum *drive.Summary) {
		healthy := steadyQ(s, s.Gating.Modulation/2*s.Supply.Voltage)
		drive.Near(t, "torque", sum.Machine.TorqueMean, torqueOf(s, healthy)/2, 5e-3)
		drive.Near(t, "current", sum.Phases[inverter.V].FundamentalPeak, healthy*math.Sqrt(3)/2, 5e-3)
	},
	// With no current in the leads the shorted turns are a coil alone in the magnet's field: see
	// TestShortedTurnsAlone. The shaft pays for its heat.
	"hauler-turns-shorted": func(t *testing.T, s *drive.Scenario, sum *drive.Summary) {
		mu, m := s.Faults[0].Value, s.Machine
		omega, leak := float64(m.PolePairs)*s.Shaft.Speed, 0.1*m.InductanceD
		reactance := omega * (mu*mu*2/3*(m.InductanceD-leak) + mu*leak)
		peak := mu * omega * m.FluxLinkage / math.Hypot(mu*m.Resistance, reactance)
		heat := mu * m.Resistance * peak * peak / 2
		drive.Near(t, "current in the turns", sum.Turns.CurrentRMS, peak/math.Sqrt2, 1e-6)
		drive.Near(t, "torque", sum.Machine.TorqueMean, -heat/s.Shaft.Speed, 1e-6)
	},
	// The mean currents of an open upper switch point against its phase (Mendes, Cardoso, IEMDC 1999; Rothenhagen,
	// Fuchs, PESC 2004).
	"hauler-switch-lost": func(t *testing.T, _ *drive.Scenario, sum *drive.Summary) {
		mean := inverter.ABC{sum.Phases[0].CurrentMean, sum.Phases[1].CurrentMean, sum.Phases[2].CurrentMean}
		v, _ := mean.Clarke()
		if deg := v.Angle() * 180 / math.Pi; math.Abs(math.Remainder(deg-180, 360)) > 15 || v.Abs() < 10 {
			t.Errorf("mean currents point at %g deg, %g A long", deg, v.Abs())
		}
	},

	// A brushless machine is a direct-current machine turned inside out (Krishnan, ch. 9): of the chopped supply, what
	// two resistances leave is the EMF of two windings, 2 p ψ Ω; its current is the load's over 2 p ψ. Commutation
	// takes some.
	"trainer-start": func(t *testing.T, s *drive.Scenario, _ *drive.Summary) {
		late := *s
		late.Run = drive.Window{Settle: 0.8, Measure: 0.1}
		perSpeed := 2 * float64(s.Machine.PolePairs) * s.Machine.FluxLinkage
		current := s.Shaft.LoadTorque / perSpeed
		want := (s.Gating.Chop*s.Supply.Voltage - 2*s.Machine.Resistance*current) / perSpeed
		drive.Near(t, "speed in the end", drive.Simulated(t, late).Machine.SpeedMean, want*30/math.Pi, 3e-2)
	},

	// In step, a rotor turns at f/p.
	"trainer-ramp":    atSpeed(25),
	"trainer-crossed": atSpeed(-25), // crossed leads turn the field round: common practice
	"trainer-out-of-step": func(t *testing.T, s *drive.Scenario, sum *drive.Summary) {
		drive.Told(t, sum, "fell out of step")
		if full := 60 * s.Gating.Frequency / float64(s.Machine.PolePairs); math.Abs(sum.Machine.SpeedMean) > full/10 {
			t.Errorf("%g rpm without being in step at %g rpm", sum.Machine.SpeedMean, full)
		}
	},

	// Coils on six-step: rms and supply by the closed form of a period, i(t) = v/R + A e^(-tR/L) on each sixth, for
	// which steadyCoils solves (Rashid, Power Electronics, ch. 6).
	"passive-rl": func(t *testing.T, s *drive.Scenario, sum *drive.Summary) {
		drive.Near(t, "rms", sum.Phases[0].CurrentRMS, steadyCoils(s), 1e-4)
	},
}

// heated checks a commanded torque, and what its devices turn to heat against averages at the phasors of the dq
// equations at rest (see steadyQ). The ripple, of a tenth of the current, takes up to a per cent or two.
func heated(t *testing.T, s *drive.Scenario, sum *drive.Summary) {
	commanded(t, s, sum)
	m, w := s.Machine, float64(s.Machine.PolePairs)*s.Shaft.Speed
	v := complex(m.Resistance*s.Gating.IQ+w*m.FluxLinkage, w*m.InductanceQ*s.Gating.IQ) // the current being real
	r, err := loss.Of(s.Switches.Device, loss.Point{
		Pattern: s.Gating.Kind, Supply: s.Supply.Voltage, Current: s.Gating.IQ, Modulation: 2 * cmplx.Abs(v) / s.Supply.Voltage,
		Lag: cmplx.Phase(v), Frequency: w / (2 * math.Pi), Carrier: s.Gating.Carrier, DeadTime: s.Gating.DeadTime, Sink: s.Switches.Sink,
	})
	if err != nil {
		t.Fatal(err)
	}
	drive.Near(t, "heat of the bridge", sum.Device.Conduction+sum.Device.Switching, r.Bridge, 0.02)
	drive.Near(t, "rise of the hottest junction", sum.Device.Junction-s.Switches.Sink, max(r.Mean.SwitchJunction.Mean, r.Mean.DiodeJunction.Mean)-s.Switches.Sink, 0.02)
}

// atSpeedUnder checks that a speed loop holds a speed, in rpm, against load and friction.
func atSpeedUnder(n float64) story {
	return func(t *testing.T, s *drive.Scenario, sum *drive.Summary) {
		drive.Near(t, "speed", sum.Machine.SpeedMean, n, 1e-4)
		drive.Near(t, "torque", sum.Machine.TorqueMean, s.Shaft.LoadTorque+s.Shaft.Friction*n*math.Pi/30, 1e-3)
	}
}

// steadyCoils returns the rms current of a phase of coils on six-step, in A. Half a turn later the current is
// the same the other way, which gives its start; the square is summed over many fine parts of the exact
// exponentials.
func steadyCoils(s *drive.Scenario) float64 {
	r, l, sixth := s.Machine.Resistance, s.Machine.InductanceD, 1/s.Gating.Frequency/6
	levels := [3]float64{s.Supply.Voltage / 3, 2 * s.Supply.Voltage / 3, s.Supply.Voltage / 3}
	run := func(i float64, parts int) (end, square float64) {
		h := sixth / float64(parts)
		for _, v := range levels {
			for range parts {
				next := v/r + (i-v/r)*math.Exp(-h*r/l)
				mid := v/r + (i-v/r)*math.Exp(-h*r/l/2)
				square += h / 6 * (i*i + 4*mid*mid + next*next) // Simpson
				i = next
			}
		}
		return i, square
	}
	fromZero, _ := run(0, 1)
	start := -fromZero / (1 + math.Exp(-3*sixth*r/l))
	_, square := run(start, 100)
	return math.Sqrt(square / (3 * sixth))
}

// Every built-in scenario runs by the laws of circuits, keeps its energy account, says that it is invented,
// and tells its story.
func TestBuiltInStories(t *testing.T) {
	for _, name := range scenario.Names() {
		t.Run(name, func(t *testing.T) {
			s := open(t, name)
			check, ok := stories[name]
			if !ok {
				t.Fatal("nothing outside the drive checks it")
			}
			sum := drive.Simulated(t, s)
			check(t, &s, &sum)
			if text, err := assets.Files.ReadFile("scenarios/" + name + ".toml"); err != nil || !bytes.Contains(text, []byte("Invented")) {
				t.Errorf("the file does not say that it is invented (%v)", err)
			}
		})
	}
	if have := len(scenario.Names()); len(stories) != have {
		t.Errorf("%d stories of %d scenarios", len(stories), have)
	}
}
