package drive

import (
	"math"
	"testing"

	"sextant/motor"
)

// loop returns a control of machine m with the sampling period every, and the plant that it believes in.
func loop(m motor.Machine, g Gating, j, every float64) (*control, *plant) {
	s := controlled(m, 1, 0, 0)
	g.Settings, g.Follow = s.Gating.Settings, Current
	s.Gating, s.Shaft = g, Shaft{Free: true, Inertia: j}
	p := newPlant(&s)
	c := new(control)
	c.tune(&s, &p, every)
	return c, &p
}

// Sampled ever faster, both currents close like a first-order lag of the bandwidth α, i = i* (1 - e^(-αt)), at any speed,
// each by itself (L. Harnefors, H.-P. Nee, IEEE Trans. IA-34 (1998) 133). The machine is that of the dq equations.
func TestCurrentsCloseLikeALag(t *testing.T) {
	const every = 1e-7
	for _, n := range []float64{0, 3000, -5000} {
		g := Gating{ID: -60, IQ: 90, Bandwidth: 500}
		c, p := loop(machineB, g, 1, every)
		alpha, omega := 2*math.Pi*500, 4*rpm(n)
		var i motor.DQ
		for k := range 20000 {
			at := float64(k) * every
			want := 1 - math.Exp(-alpha*at)
			if math.Abs(i.D+60*want) > 0.1 || math.Abs(i.Q-90*want) > 0.1 {
				t.Fatalf("%g rpm: %+v A at %g s, want %g and %g", n, i, at, -60*want, 90*want)
			}
			v := c.voltage(sample{i: i, speed: rpm(n)}, p, 1e4)
			di := machineB.Slope(i, motor.DQ{D: v.Alpha, Q: v.Beta}, omega)
			i.D, i.Q = i.D+every*di.D, i.Q+every*di.Q
		}
	}
}

// What is not given is a twentieth: of the carrier, and of the current loops' bandwidth.
func TestBandwidthsNotGiven(t *testing.T) {
	c, _ := loop(machineA, Gating{SpeedLoop: true, CurrentLimit: 1}, 0.5, 1e-4)
	near(t, "currents", c.alpha, 2*math.Pi*16e3/20, 1e-12)
	given, _ := loop(machineA, Gating{SpeedLoop: true, CurrentLimit: 1, SpeedBandwidth: 16e3 / 400}, 0.5, 1e-4)
	if c.speed != given.speed {
		t.Errorf("the speed loop is %+v, want %+v", c.speed, given.speed)
	}
}

// A vector too long is cut to what the pattern makes without distortion, V/√3 with space vectors (Mohan, Undeland, Robbins,
// Power Electronics, 3rd ed., ch. 8; Holmes, Lipo, Pulse Width Modulation, ch. 6), in its own direction; and once the current
// stands there, its integral asks for no more than what is applied.
func TestVoltageIsCut(t *testing.T) {
	c, p := loop(machineB, Gating{ID: 100, IQ: 300, Bandwidth: 500}, 1, 1e-5)
	const link = 48.
	first := c.voltage(sample{}, p, link)
	near(t, "length", first.Abs(), link/math.Sqrt(3), 1e-12)
	alpha := 2 * math.Pi * 500
	near(t, "direction", first.Beta/first.Alpha, (alpha*machineB.InductanceQ*300)/(alpha*machineB.InductanceD*100), 1e-12)
	stuck := sample{i: motor.DQ{D: 10, Q: 20}, speed: rpm(100)}
	var v, before motor.DQ
	for range 200_000 {
		before = c.integral
		x := c.voltage(stuck, p, link)
		v = motor.DQ{D: x.Alpha, Q: x.Beta}
	}
	near(t, "integral of d stands", c.integral.D, before.D, 1e-9)
	near(t, "integral of q stands", c.integral.Q, before.Q, 1e-9)
	omega := 4 * rpm(100)
	near(t, "d asks for", c.integral.D-omega*machineB.InductanceQ*20, v.D, 1e-6)
	near(t, "q asks for", c.integral.Q+omega*(machineB.InductanceD*10+0.08), v.Q, 1e-6)
}

// With the torque of i_q at once, the loop of gain αJ whose integral takes over at α/4 has both poles at α/2, so that a step of
// the command comes to 1 - (1 - αt/2) e^(-αt/2) of itself.
func TestSpeedLoopStep(t *testing.T) {
	const every, j, command = 1e-5, 0.3, 100.
	for _, id := range []float64{0, -50} {
		c, _ := loop(machineB, Gating{ID: id, SpeedLoop: true, SpeedCommand: command, SpeedBandwidth: 2, CurrentLimit: 1e6}, j, every)
		alpha, speed := 2*math.Pi*2, 0.
		for k := range 100_000 {
			at := float64(k) * every
			want := command * (1 - (1-alpha*at/2)*math.Exp(-alpha*at/2))
			if math.Abs(speed-want) > 0.02 {
				t.Fatalf("%g rad/s at %g s, want %g", speed, at, want)
			}
			iq := c.speed.current(speed, every)
			speed += every * machineB.Torque(motor.DQ{D: id, Q: iq}) / j
		}
	}
}

// Held back for as long as you like, the loop asks for the limit and its integral stands at it, so that it lets go as soon as
// the speed is there.
func TestSpeedLoopAtItsLimit(t *testing.T) {
	for _, sign := range []float64{1, -1} {
		c, _ := loop(machineA, Gating{SpeedLoop: true, SpeedCommand: sign * 100, SpeedBandwidth: 2, CurrentLimit: 70}, 0.3, 1e-3)
		var i float64
		for range 100_000 {
			i = c.speed.current(sign*40, 1e-3)
		}
		near(t, "current", i, sign*70, 1e-12)
		near(t, "integral", c.speed.integral, sign*70, 1e-6)
		if i := c.speed.current(sign*101, 1e-3); !(sign*i < 70) {
			t.Errorf("above its command the loop asks for %g A", i)
		}
	}
}

// A control that is told the position ahead does, where the rotor stands and is round, just what it would do with a rotor that
// stands there: it applies voltages and reads currents in one and the same frame.
func TestToldAhead(t *testing.T) {
	const ahead = 0.7
	told := controlled(machineA, 1, 0, 0)
	told.Shaft = Shaft{StartAngle: 0.2}
	there := told
	there.Shaft.StartAngle += ahead
	told.Faults = []Fault{{Kind: PositionSensorOffset, Value: ahead}}
	a, _ := watched(t, told)
	b, _ := watched(t, there)
	for _, d := range []*Drive{a, b} {
		if err := d.Advance(1e-3); err != nil {
			t.Fatal(err)
		}
		s := d.Scenario()
		s.Gating.ID, s.Gating.IQ = -30, 80
		if err := d.Change(s); err != nil {
			t.Fatal(err)
		}
	}
	for range 30 {
		for _, d := range []*Drive{a, b} {
			if err := d.Advance(0.11e-3); err != nil {
				t.Fatal(err)
			}
		}
		x, y := a.Now(), b.Now()
		for k := range x.Current {
			if math.Abs(x.Current[k]-y.Current[k]) > 1e-6 {
				t.Fatalf("at %g s told ahead %v A, there %v A", x.Time, x.Current, y.Current)
			}
		}
	}
	if i := a.Now(); math.Hypot(i.ID, i.IQ) < 70 {
		t.Errorf("no more than %g and %g A", i.ID, i.IQ)
	}
}
