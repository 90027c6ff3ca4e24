package envelope_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sextant/inverter/device"
	"sextant/inverter/loss"
	"sextant/inverter/pattern"
	"sextant/motor"
	"sextant/motor/envelope"
	"sextant/motor/pair"
)

// hauler is the machine of published worked examples (Krishnan, Permanent Magnet Synchronous and Brushless DC
// Motor Drives, CRC 2010, ch. 3) on 350 V with 300 A.
func hauler() pair.Pair {
	return pair.Pair{
		Machine: motor.Machine{PolePairs: 4, Resistance: 20e-3, InductanceD: 0.2e-3, InductanceQ: 0.2e-3, FluxLinkage: 0.08},
		Supply:  350, Current: 300, Modulation: 2 / math.Sqrt(3), Pattern: pattern.SpaceVector, Carrier: 10e3, DeadTime: 2e-6,
	}
}

const rpm = math.Pi / 30

// Corner: Krishnan; top speed: Soong, Miller, IEE Proc. EPA 141 (1994) 331; the EMF's: Jahns, Caliskan, IEEE
// Trans. IA-35 (1999) 1347.
func TestMarks(t *testing.T) {
	p := hauler()
	m := envelope.MarksOf(&p)
	if !scalar.EqualWithinRel(m.Corner, 4708.77*rpm, 1e-5) || !scalar.EqualWithinRel(m.Generating, 6030.16*rpm, 1e-5) {
		t.Errorf("%+v", m)
	}
	p.Machine.Resistance = 0
	if m := envelope.MarksOf(&p); !scalar.EqualWithinRel(m.Top, 24120.6*rpm, 1e-5) {
		t.Errorf("top speed %g rpm", m.Top/rpm)
	}
	p.Current = 400 // the characteristic current
	if m := envelope.MarksOf(&p); !math.IsInf(m.Top, 1) || math.IsInf(m.Span(), 0) {
		t.Errorf("%+v with the characteristic current", m)
	}
}

// At a speed below the corner both limits are those of the current; the machine that brakes needs less voltage,
// so beyond the corner it can brake with more torque than it can drive with.
func TestEdge(t *testing.T) {
	p := hauler()
	low := envelope.EdgeAt(&p, 3000*rpm)
	if !scalar.EqualWithinRel(low.Motoring.Torque, 144, 1e-12) || !scalar.EqualWithinRel(low.Braking.Torque, -144, 1e-12) {
		t.Errorf("%g and %g N m at 300 A", low.Motoring.Torque, low.Braking.Torque)
	}
	high := envelope.EdgeAt(&p, 6000*rpm)
	if !scalar.EqualWithinRel(high.Motoring.Torque, 131.646, 1e-5) || high.MotoringBound != motor.FieldWeakening {
		t.Errorf("%g N m at 6000 rpm, %v", high.Motoring.Torque, high.MotoringBound)
	}
	if high.Braking.Torque > -131.7 {
		t.Errorf("%g N m of braking at 6000 rpm", high.Braking.Torque)
	}
}

// The power account of each cell closes with the product of terminal voltage and current, which no efficiency
// is worked from; and an ideal bridge leaves 18 095.57 of 18 527.57 W at 120 A and 3000 rpm (Krishnan, ch. 3).
func TestMapAccount(t *testing.T) {
	p := hauler()
	d, err := device.Open("igbt-750")
	if err != nil {
		t.Fatal(err)
	}
	m, err := envelope.MapOf(&p, envelope.Speeds(9000*rpm, 13), 10, envelope.HeatOf(&d, 125))
	if err != nil {
		t.Fatal(err)
	}
	best := 0.0
	for k, column := range m.Cells {
		for j, c := range column {
			if c.Speed != m.Edges[k].Motoring.Speed || j > 0 && c.Torque < column[j-1].Torque {
				t.Fatalf("cell %d of column %d is out of order: %+v", j, k, c)
			}
			terminals := 1.5 * (c.Voltage.D*c.Current.D + c.Voltage.Q*c.Current.Q)
			if math.Abs(terminals+c.Bridge-c.Link()) > 1e-9*(1+math.Abs(terminals)) {
				t.Errorf("%g W at the terminals and %g W of heat, and %g W from the link", terminals, c.Bridge, c.Link())
			}
			if e := c.Efficiency(); !(e >= 0 && e < 1) {
				t.Errorf("efficiency %g", e)
			}
			best = max(best, c.Efficiency())
		}
	}
	if best < 0.94 || best > 0.99 {
		t.Errorf("the best efficiency is %g", best)
	}
	s, ok := p.Making(57.6, 3000*rpm)
	if c := (envelope.Cell{State: s}); !ok || !scalar.EqualWithinRel(c.Efficiency(), 18095.57/18527.57, 1e-6) {
		t.Errorf("efficiency %g", c.Efficiency())
	}
	s, ok = p.Making(-57.6, 3000*rpm)
	if c := (envelope.Cell{State: s}); !ok || !scalar.EqualWithinRel(c.Efficiency(), 17663.57/18095.57, 1e-6) {
		t.Errorf("efficiency %g of braking", c.Efficiency())
	}
}

// Iron and friction take their torque off both limits' sum and their power from the link: at 57.6 N m inside and
// 3000 rpm, 2 N m and 1 mN m s/rad are 2.314 N m and 727 W.
func TestDrag(t *testing.T) {
	p := hauler()
	p.Drag, p.DragSlope = 2, 1e-3
	w := 3000 * rpm
	drag := 2 + 1e-3*w
	s, ok := p.Making(57.6-drag, w)
	if !ok || !scalar.EqualWithinRel(s.Current.Q, 120, 1e-9) || !scalar.EqualWithinRel(s.Drag, drag*w, 1e-12) {
		t.Errorf("%+v", s)
	}
	if c := (envelope.Cell{State: s}); !scalar.EqualWithinRel(c.Link(), 18527.57, 1e-6) || !scalar.EqualWithinRel(c.Efficiency(), (18095.57-drag*w)/18527.57, 1e-6) {
		t.Errorf("%g W from the link, efficiency %g", c.Link(), c.Efficiency())
	}
	e := envelope.EdgeAt(&p, w)
	if !scalar.EqualWithinRel(e.Motoring.Torque, 144-drag, 1e-12) || !scalar.EqualWithinRel(e.Braking.Torque, -144-drag, 1e-12) {
		t.Errorf("limits %g and %g N m", e.Motoring.Torque, e.Braking.Torque)
	}
	back, _ := p.Making(drag-57.6, -w)
	if back.Current.D != s.Current.D || back.Current.Q != -s.Current.Q || back.Drag != s.Drag {
		t.Errorf("turning backwards: %+v", back)
	}
	if still, _ := p.Making(10, 0); still.Drag != 0 || still.Torque != 10 {
		t.Errorf("at standstill: %+v", still)
	}
	p.Drag = 1000
	if e := envelope.EdgeAt(&p, w); e.Motoring.Torque != 0 {
		t.Errorf("a machine that cannot turn itself makes %g N m", e.Motoring.Torque)
	}
}

func TestMapSaysWhatIsWrong(t *testing.T) {
	p := hauler()
	p.Carrier = -1
	d, err := device.Open("igbt-750")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := envelope.MapOf(&p, envelope.Speeds(100, 3), 2, envelope.HeatOf(&d, 125)); err == nil {
		t.Error("a negative carrier passes")
	}
}

// A sine's current that lags its voltage asks the bridge for M, and the power that the machine takes.
func TestAsks(t *testing.T) {
	p := hauler()
	for _, x := range []struct{ torque, speed float64 }{{57.6, 3000}, {-57.6, 3000}, {57.6, -3000}, {-57.6, -3000}} {
		s, ok := p.Making(x.torque, x.speed*rpm)
		if !ok {
			t.Fatal("not to be had")
		}
		a := p.Asks(&s)
		link := 0.75 * a.Modulation * a.Current * a.Supply * math.Cos(a.Lag)
		if want := s.Shaft() + s.Copper; !scalar.EqualWithinRel(link, want, 1e-9) || a.Frequency != 200 {
			t.Errorf("%+v: %g W at %g Hz, want %g W at 200 Hz", x, link, a.Frequency, want)
		}
	}
	// Turning backwards with the other torque is the same seen in a mirror.
	there, _ := p.Making(57.6, 3000*rpm)
	back, _ := p.Making(-57.6, -3000*rpm)
	if a, b := p.Asks(&there), p.Asks(&back); !scalar.EqualWithinRel(a.Lag, b.Lag, 1e-12) {
		t.Errorf("lags %g and %g rad", a.Lag, b.Lag)
	}
	// M and the lead of 106.3309 deg on the d axis: Krishnan, ch. 3.
	s, _ := p.Making(57.6, 3000*rpm)
	if a := p.Asks(&s); !scalar.EqualWithinRel(a.Modulation, 0.612905, 1e-5) || !scalar.EqualWithinAbs(a.Lag*180/math.Pi, 16.3309, 1e-3) {
		t.Errorf("modulation %g, lag %g deg", a.Modulation, a.Lag*180/math.Pi)
	}
}

func TestIdeal(t *testing.T) {
	if w, err := envelope.Ideal(loss.Point{}); w != 0 || err != nil {
		t.Errorf("%g W, %v", w, err)
	}
}

func BenchmarkMap(b *testing.B) {
	p := hauler()
	d, err := device.Open("sic-750")
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for range b.N {
		if _, err := envelope.MapOf(&p, envelope.Speeds(12000*rpm, 200), 100, envelope.HeatOf(&d, 125)); err != nil {
			b.Fatal(err)
		}
	}
}
