package duty_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sextant/inverter/device"
	"sextant/inverter/loss"
	"sextant/inverter/pattern"
	"sextant/motor"
	"sextant/motor/duty"
	"sextant/motor/pair"
)

func hauler() pair.Pair {
	return pair.Pair{
		Machine: motor.Machine{PolePairs: 4, Resistance: 20e-3, InductanceD: 0.2e-3, InductanceQ: 0.2e-3, FluxLinkage: 0.08},
		Supply:  350, Current: 300, Modulation: 2 / math.Sqrt(3), Pattern: pattern.SpaceVector, Carrier: 10e3, DeadTime: 2e-6,
	}
}

func open(t testing.TB, names ...string) (devices []device.Device) {
	t.Helper()
	for _, name := range names {
		d, err := device.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		devices = append(devices, d)
	}
	return devices
}

func accounts(t testing.TB, w *duty.Work, b duty.Battery, names ...string) []duty.Account {
	t.Helper()
	a, err := duty.AccountsOf(w, open(t, names...), 65, b)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !scalar.EqualWithinRel(got, want, rel) {
		t.Errorf("%s: %.9g, want %.9g", what, got, want)
	}
}

// Resistances to motion as textbooks of vehicle dynamics have them, worked by hand: 3600 kg on 10 %, of which
// sine and cosine are 0.0995037 and 0.9950372.
func TestForce(t *testing.T) {
	v := duty.Vehicle{Mass: 3600, RotatingMass: 180, Rolling: 0.02, DragArea: 2.6, AirDensity: 1.2, WheelRadius: 0.36, Gear: 14, Efficiency: 0.96}
	near(t, "climbing", v.Force(10, 0.5, 0.1), 3600*9.80665*(0.0995037+0.02*0.9950372)+156+1890, 1e-6)
	near(t, "backwards downhill", v.Force(-10, 0, 0.1), 3600*9.80665*(0.0995037-0.02*0.9950372)-156, 1e-6)

	c := duty.Cycle{Road: true, Rows: []duty.Row{{Speed: 10, Grade: 0.1}, {Time: 1, Speed: 10, Grade: 0.1}, {Time: 2, Speed: 10, Grade: -0.3}, {Time: 3, Speed: 10, Grade: -0.1}}}
	ds := c.Demands(&v)
	near(t, "speed", ds[0].Speed, 10/0.36*14, 1e-12)
	near(t, "driving power", ds[0].Torque*ds[0].Speed*0.96, v.Force(10, 0, 0.1)*10, 1e-12)
	near(t, "braking power", ds[2].Torque*ds[2].Speed/0.96, v.Force(10, 0, -0.2)*10, 1e-12)

	stands := duty.Cycle{Road: true, Rows: []duty.Row{{Grade: 0.1}, {Time: 1, Grade: 0.1}}}
	if d := stands.Demands(&v)[0]; d.Torque != 0 || d.Speed != 0 {
		t.Errorf("a vehicle that stands asks for %+v", d)
	}
}

// steady is one demand for so long in intervals of a second.
func steady(speed, torque float64, seconds int) []duty.Demand {
	ds := make([]duty.Demand, seconds)
	for k := range ds {
		ds[k] = duty.Demand{From: float64(k), To: float64(k + 1), Speed: speed, Torque: torque}
	}
	return ds
}

// 120 A at 3000 rpm: 57.6 N m, 18 095.57 W to the shaft, 432 W of copper heat (Krishnan, Permanent Magnet
// Synchronous and Brushless DC Motor Drives, CRC 2010, ch. 3). After a minute junctions and heat are those that
// the steady solution, which steps no time, finds.
func TestSteadyCycle(t *testing.T) {
	p := hauler()
	w := duty.WorkOf(&p, steady(100*math.Pi, 57.6, 60))
	near(t, "shaft", w.Motoring, 60*18095.57, 1e-6)
	near(t, "copper", w.Copper, 60*432, 1e-9)
	for _, a := range accounts(t, &w, duty.Battery{}, "igbt-750", "sic-750", "illustrative") {
		at := p.Asks(&w.Steps[0].Done)
		at.Sink = 65
		want, err := loss.Of(a.Device, at)
		if err != nil {
			t.Fatal(err)
		}
		last := a.Moments[len(a.Moments)-1]
		near(t, a.Device.Name+": bridge", last.Bridge, want.Bridge, 2e-4)
		near(t, a.Device.Name+": switch's rise", last.Channel-65, want.Mean.SwitchJunction.Mean-65, 1e-3)
		near(t, a.Device.Name+": diode's rise", last.Diode-65, want.Mean.DiodeJunction.Mean-65, 1e-3)
		near(t, a.Device.Name+": account", a.Drawn, w.Motoring+w.Copper+a.Bridge(), 1e-12)
	}
}

// What the battery gives less what it takes, and what is burnt, is what the shaft takes and what gets warm; and
// the battery holds the difference.
func TestAccountCloses(t *testing.T) {
	p := hauler()
	c, err := duty.Open("hillside")
	if err != nil {
		t.Fatal(err)
	}
	s, err := duty.OpenVehicle("hauler")
	if err != nil {
		t.Fatal(err)
	}
	p.Drag, p.DragSlope = s.Drive.Drag, s.Drive.Slope
	w := duty.WorkOf(&p, c.Demands(&s.Vehicle))
	as := accounts(t, &w, s.Battery, s.Drive.Devices...)
	for _, a := range as {
		near(t, "account", a.Drawn-a.Returned-a.Refused, w.Motoring-w.Braking+w.Copper+w.Drag+a.Bridge(), 1e-9)
		near(t, "battery", (s.Battery.Charge-a.Charge)*s.Battery.Capacity, a.Net(), 1e-9)
		if a.Refused <= 0 || a.Short != 0 {
			t.Errorf("a nearly full battery on top of the hill refuses %g J", a.Refused)
		}
	}
	// The hill of 318 m: as much as the vehicle's weight loses on the way down it gains on the way up.
	potential := 0.0
	for i, b := range c.Rows[1:] {
		a := c.Rows[i]
		g := (a.Grade + b.Grade) / 2
		potential += (a.Speed + b.Speed) / 2 * (b.Time - a.Time) * g / math.Hypot(1, g) * s.Vehicle.Mass * 9.80665
	}
	if w.Missing != 0 || math.Abs(potential) > 0.03*w.Motoring {
		t.Errorf("the hauler comes home %g J higher, %g J not done", potential, w.Missing)
	}
	if as[1].Bridge() > as[0].Bridge() {
		t.Error("silicon carbide makes more heat than silicon")
	}
}

// A second at once from cold, against a thousand steps of it.
func TestLongSteps(t *testing.T) {
	p := hauler()
	at := func(n int) duty.Account {
		ds := make([]duty.Demand, n)
		for k := range ds {
			ds[k] = duty.Demand{From: float64(k) / float64(n), To: float64(k+1) / float64(n), Speed: 300, Torque: 140}
		}
		w := duty.WorkOf(&p, ds)
		return accounts(t, &w, duty.Battery{}, "igbt-750")[0]
	}
	long, short := at(1), at(1000)
	near(t, "heat", long.Bridge(), short.Bridge(), 5e-3)
	near(t, "rise", long.ChannelPeak-65, short.ChannelPeak-65, 8e-3)
}

// A machine turning backwards with torques of the other sign does the same.
func TestMirror(t *testing.T) {
	p := hauler()
	for _, x := range []struct{ speed, torque float64 }{{300, 100}, {600, -100}, {600, 60}} {
		a, b := duty.WorkOf(&p, steady(x.speed, x.torque, 5)), duty.WorkOf(&p, steady(-x.speed, -x.torque, 5))
		near(t, "motoring", b.Motoring, a.Motoring, 1e-12)
		near(t, "braking", b.Braking, a.Braking, 1e-12)
		near(t, "net", accounts(t, &b, duty.Battery{}, "igbt-750")[0].Net(), accounts(t, &a, duty.Battery{}, "igbt-750")[0].Net(), 1e-12)
	}
}

// The most torque of 300 A is 144 N m; 131.646 N m at 6000 rpm (Krishnan; by scipy.optimize).
func TestLimited(t *testing.T) {
	p := hauler()
	w := duty.WorkOf(&p, steady(200*math.Pi, 200, 1))
	if s := w.Steps[0]; !s.Limited || !scalar.EqualWithinRel(s.Done.Torque, 131.646, 1e-5) {
		t.Errorf("%+v", s)
	}
	near(t, "missing", w.Missing, (200-131.646)*200*math.Pi, 1e-5)
	w = duty.WorkOf(&p, steady(100, -200, 1))
	near(t, "friction", w.Friction, 5600, 1e-9)
	if w.Missing != 0 || w.Steps[0].Done.Torque != -144 {
		t.Errorf("%+v", w)
	}
	w = duty.WorkOf(&p, steady(1e4, 10, 1))
	if !w.Steps[0].Lost || w.Motoring != 0 {
		t.Errorf("95 000 rpm: %+v", w)
	}
	if a := accounts(t, &w, duty.Battery{}, "igbt-750")[0]; a.Net() != 0 {
		t.Errorf("%g J at a speed that cannot be held", a.Net())
	}
}

// Midpoints are of second order: with speed and torque ramps the shaft's energy errs by ΔT Δω h/12, the
// interval's length h, so half the step leaves a quarter of the error.
func TestOrder(t *testing.T) {
	p := hauler()
	shaft := func(n int) float64 {
		c := duty.Cycle{}
		for k := range n + 1 {
			x := float64(k) / float64(n)
			c.Rows = append(c.Rows, duty.Row{Time: 10 * x, Speed: 300 * x, Torque: 120 * x})
		}
		w := duty.WorkOf(&p, c.Demands(nil))
		return w.Motoring
	}
	const exact = 10 * 300 * 120 / 3.0
	e1, e2 := exact-shaft(10), exact-shaft(20)
	near(t, "error", e1, 300*120*10.0/12/100, 1e-9)
	near(t, "halved step", e1/e2, 4, 1e-9)
}

func TestPayback(t *testing.T) {
	base, other := &duty.Account{Drawn: 40e6, Returned: 4e6}, &duty.Account{Drawn: 36e6, Returned: 3.6e6}
	p := duty.PaybackOf(base, other, duty.Prices{Energy: 0.5, Device: 100})
	if p.Saved != 3.6e6 || p.Gain != 0.5 || p.Cycles != 200 || !p.Ever {
		t.Errorf("a kilowatt-hour at 0.5 for 100: %+v", p)
	}
	if p := duty.PaybackOf(other, base, duty.Prices{Energy: 0.5, Device: 100}); p.Ever {
		t.Errorf("what costs more in all respects pays back: %+v", p)
	}
	if p := duty.PaybackOf(base, other, duty.Prices{Energy: 0.5, Device: -1}); !p.Ever || p.Cycles != 0 {
		t.Errorf("what is cheaper in all respects: %+v", p)
	}
}

// Ten thousand points with two devices.
func BenchmarkCycle(b *testing.B) {
	p := hauler()
	c := duty.Cycle{}
	for k := range 10_001 {
		x := float64(k)
		c.Rows = append(c.Rows, duty.Row{Time: x, Speed: 350 + 250*math.Sin(x/40), Torque: 110 * math.Sin(x/17)})
	}
	devices := open(b, "igbt-750", "sic-750")
	b.ReportAllocs()
	for range b.N {
		w := duty.WorkOf(&p, c.Demands(nil))
		if _, err := duty.AccountsOf(&w, devices, 65, duty.Battery{}); err != nil {
			b.Fatal(err)
		}
	}
}
