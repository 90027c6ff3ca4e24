package drive

import (
	"math"
	"testing"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// hall returns the signals of the three sensors with the rotor at an angle: 1 while e_u > e_v, 2 while e_v > e_w, 3 while
// e_w > e_u, e being the EMFs of forward turning (Krishnan, Permanent Magnet Synchronous and Brushless DC Motor Drives, CRC
// 2010, ch. 9).
func hall(theta float64) [3]bool {
	e := func(p inverter.Phase) float64 { return -math.Sin(theta - p.Axis()) }
	u, v, w := e(inverter.U), e(inverter.V), e(inverter.W)
	return [3]bool{u > v, v > w, w > u}
}

// rightGates are those of 120-degree conduction by the signals: current into the phase with the highest EMF, out of that with
// the lowest.
var rightGates = map[[3]bool]inverter.Gates{
	hall(rad(300)): inverter.On(inverter.UHigh, inverter.WLow),
	hall(rad(0)):   inverter.On(inverter.VHigh, inverter.WLow),
	hall(rad(60)):  inverter.On(inverter.VHigh, inverter.ULow),
	hall(rad(120)): inverter.On(inverter.WHigh, inverter.ULow),
	hall(rad(180)): inverter.On(inverter.WHigh, inverter.VLow),
	hall(rad(240)): inverter.On(inverter.UHigh, inverter.VLow),
}

func rad(deg float64) float64 { return deg * math.Pi / 180 }

// Sensors that stick, are crossed, sit off their place or do all of it at once: the gates are those that the signals which
// arrive ask for, and none where no angle makes such signals.
func TestFaultySensors(t *testing.T) {
	const offset = 0.3
	for name, faults := range map[string][]Fault{
		"none":                      nil,
		"U stuck high":              {{Kind: PositionSensorStuck, Phase: inverter.U, Value: 1}},
		"U stuck low":               {{Kind: PositionSensorStuck, Phase: inverter.U}},
		"V stuck high":              {{Kind: PositionSensorStuck, Phase: inverter.V, Value: 1}},
		"W stuck low":               {{Kind: PositionSensorStuck, Phase: inverter.W}},
		"V stuck high, W stuck low": {{Kind: PositionSensorStuck, Phase: inverter.V, Value: 1}, {Kind: PositionSensorStuck, Phase: inverter.W}},
		"crossed but U":             {{Kind: PositionSensorSwapped, Phase: inverter.U}},
		"crossed but V":             {{Kind: PositionSensorSwapped, Phase: inverter.V}},
		"crossed but W":             {{Kind: PositionSensorSwapped, Phase: inverter.W}},
		"offset":                    {{Kind: PositionSensorOffset, Value: offset}},
		"crossed but V, U stuck low, offset": {
			{Kind: PositionSensorSwapped, Phase: inverter.V}, {Kind: PositionSensorStuck, Phase: inverter.U}, {Kind: PositionSensorOffset, Value: offset},
		},
	} {
		told := func(theta float64) [3]bool {
			for _, f := range faults {
				if f.Kind == PositionSensorOffset {
					theta += f.Value
				}
			}
			x := hall(theta)
			for _, f := range faults {
				if f.Kind == PositionSensorSwapped {
					a := f.Phase.Next()
					x[a], x[a.Next()] = x[a.Next()], x[a]
				}
			}
			for _, f := range faults {
				if f.Kind == PositionSensorStuck {
					x[f.Phase] = f.Value != 0
				}
			}
			return x
		}
		for _, n := range []float64{600, -600} {
			s := turning(machineA, pattern.SixStep120, 350, n, 0, 1)
			s.Gating.Follow, s.Faults = Rotor, faults
			d, err := New(s)
			if err != nil {
				t.Fatal(err)
			}
			for range 720 {
				if err := d.Advance(60 / 600. / 4 / 359.7); err != nil {
					t.Fatal(err)
				}
				x := d.Now()
				if told(x.Rotor+1e-6) != told(x.Rotor-1e-6) {
					continue // at an edge
				}
				if want := rightGates[told(x.Rotor)]; x.Gates != want {
					t.Fatalf("%s: rotor at %.2f deg, %v on, want %v", name, x.Rotor*180/math.Pi, x.Gates, want)
				}
			}
		}
	}
}

// The vector of six-step-180 is the advance ahead of the q axis in the middle of each step; that of twelve steps, of half the
// length, too.
func TestAdvance(t *testing.T) {
	for kind, width := range map[pattern.Kind]float64{pattern.SixStep120: 60, pattern.SixStep180: 60, pattern.TwelveStep150: 30} {
		for _, advance := range []float64{0, 0.4, -1.1} {
			s := turning(machineA, kind, 350, 600, 0, 1)
			s.Gating.Follow, s.Gating.Advance = Rotor, advance
			d, err := New(s)
			if err != nil {
				t.Fatal(err)
			}
			seen := 0.0
			for range 1440 {
				if err := d.Advance(60 / 600. / 4 / 1437.7); err != nil {
					t.Fatal(err)
				}
				x := d.Now()
				v := drawn(x.Gates)
				off := math.Remainder(v.Angle()-x.Rotor-math.Pi/2-advance, 2*math.Pi) * 180 / math.Pi
				if seen = max(seen, math.Abs(off)); math.Abs(off) > width/2+0.01 {
					t.Fatalf("%v, %g rad ahead: the vector is %g degrees off", kind, advance, off)
				}
			}
			if seen < width/2-0.5 {
				t.Errorf("%v: the vector is off by no more than %g degrees", kind, seen)
			}
		}
	}
}

// drawn returns the voltage vector of gates whose idle legs rest midway.
func drawn(g inverter.Gates) inverter.Vector {
	var pole inverter.ABC
	for _, p := range inverter.Phases {
		switch {
		case g.Has(inverter.High(p)):
			pole[p] = 1
		case g.Has(inverter.Low(p)):
			pole[p] = -1
		}
	}
	v, _ := pole.Clarke()
	return v
}

// Chopped switches are on for the duty's part of each carrier period, in its middle: around the minima of a triangle that
// starts at one, whatever the rotor does.
func TestChopEdges(t *testing.T) {
	const carrier, duty = 5000., 0.3
	s := turning(machineA, pattern.SixStep120, 48, 0, 0, 1)
	s.Gating.Follow, s.Gating.Carrier, s.Gating.Chop, s.Gating.ChopSide = Rotor, carrier, duty, ChopBoth
	tape := NewTape(1<<12, 0)
	d, _ := watched(t, s)
	d.Watch(tape)
	if err := d.Advance(10 / carrier); err != nil {
		t.Fatal(err)
	}
	edges := 0
	for i := 1; i < tape.Len(); i++ {
		a, b := tape.Instant(i-1), tape.Instant(i)
		if a.Gates == b.Gates {
			continue
		}
		want := (float64(edges/2) + duty/2) / carrier
		if edges%2 == 1 {
			want = (float64(edges/2) + 1 - duty/2) / carrier
		}
		if math.Abs(b.Time-want) > 1e-12 || (b.Gates == 0) != (edges%2 == 0) {
			t.Errorf("edge %d at %.9g s, want %.9g s; %v on behind it", edges, b.Time, want, b.Gates)
		}
		edges++
	}
	if edges < 18 {
		t.Errorf("%d edges in ten periods", edges)
	}
}

// Switches that a change to the rotor's sensors turns on wait for their dead time, and those that it turns off do not.
func TestTakeOverWaits(t *testing.T) {
	const dead = 3e-6
	s := turning(machineA, pattern.ByHand, 48, 0, 0, 1)
	s.Gating.Hand = inverter.On(inverter.UHigh, inverter.VLow)
	d, _ := watched(t, s)
	if err := d.Advance(1e-3); err != nil {
		t.Fatal(err)
	}
	follow := s
	follow.Gating = Gating{Settings: pattern.Settings{Kind: pattern.SixStep120, DeadTime: dead}, Follow: Rotor, Chop: 1}
	follow.Shaft.StartAngle = 0
	if err := d.Change(follow); err != nil {
		t.Fatal(err)
	}
	want := rightGates[hall(d.Now().Rotor)]
	if both := inverter.On(inverter.UHigh, inverter.VLow) & want; d.Now().Gates != both {
		t.Errorf("at once %v are on, want %v", d.Now().Gates, both)
	}
	if err := d.Advance(dead - 1e-9); err != nil {
		t.Fatal(err)
	}
	early := d.Now().Gates
	if err := d.Advance(2e-9); err != nil {
		t.Fatal(err)
	}
	if late := d.Now().Gates; early == want || late != want {
		t.Errorf("ahead of the dead time's end %v are on, behind it %v, want %v", early, late, want)
	}
}
