package drive

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// sound draws a scenario that runs to its end once changed; TestRandomScenarios has a word on the others.
func sound(t *rapid.T, change func(*Scenario)) Scenario {
	of := scenarioOf
	if rapid.Bool().Draw(t, "turns shorted") {
		of = func(seed uint64) Scenario { return draw{rand.New(rand.NewPCG(seed, 3))}.shorted(scenarioOf(seed)) }
	}
	changed := func(seed uint64) Scenario {
		s := of(seed)
		s.Run.Measure /= 5
		change(&s)
		return s
	}
	return changed(rapid.Uint64Range(0, 1<<20).Filter(func(seed uint64) bool {
		wrong, err := try(changed(seed))
		return err == nil && len(wrong) == 0
	}).Draw(t, "seed"))
}

// as leaves a scenario as it is, offEdge moves gate edges away from time 0, hold holds the shaft.
func as(*Scenario)        {}
func offEdge(s *Scenario) { s.Gating.Phase += 0.01 }
func hold(s *Scenario) {
	if s.Shaft.Free {
		s.Shaft = Shaft{Speed: s.Shaft.StartSpeed, StartAngle: s.Shaft.StartAngle}
	}
}

// advance returns a drive of s at time t.
func advance(t *rapid.T, s Scenario, to float64) *Drive {
	d, err := New(s)
	if err == nil {
		err = d.Advance(to)
	}
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// scale returns the scale of the currents of a run: that of its largest, and no less than a milliampere.
func (d *Drive) scale() float64 { return max(d.size, 1e-3) }

// However a run is cut up, by times or by events, and whoever looks on, it is the same to the last bit.
func TestCutsChangeNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := sound(t, as)
		end := s.Run.Measure
		whole := advance(t, s, end)
		cut, err := New(s)
		if err != nil {
			t.Fatal(err)
		}
		tape := NewTape(rapid.IntRange(2, 500).Draw(t, "tape"), end/float64(rapid.IntRange(1, 50).Draw(t, "samples")))
		cut.Watch(tape)
		cut.Watch(newMeter(50))
		for range rapid.IntRange(0, 20).Draw(t, "cuts") {
			if rapid.Bool().Draw(t, "by event") && cut.Events() < whole.Events() {
				before := cut.Events()
				if err := cut.AdvanceToEvent(); err != nil || cut.Events() <= before {
					t.Fatalf("no event behind %d of %d: %v", before, whole.Events(), err)
				}
			} else if err := cut.Advance(end / 23 * float64(rapid.IntRange(0, 5).Draw(t, "step"))); err != nil {
				t.Fatal(err)
			}
			if cut.Time() >= end {
				break
			}
			cut.Now()
		}
		if cut.Time() > end { // the last cut went beyond
			whole = advance(t, s, cut.Time())
		}
		if err := cut.Advance(max(end-cut.Time(), 0)); err != nil { // by 0 past further events of the same instant
			t.Fatal(err)
		}
		if whole.now = cut.now; whole.Now() != cut.Now() { // ends may differ by the rounding of their sums
			t.Fatalf("in one piece\n%+v, cut up\n%+v", whole.Now(), cut.Now())
		}
		if whole.Account() != cut.Account() || whole.Events() != cut.Events() {
			t.Fatalf("in one piece %+v, cut up %+v", whole.Account(), cut.Account())
		}
	})
}

// Where no event is near a step to the next one is a second long.
func TestNoEventNear(t *testing.T) {
	s := turning(machineA, pattern.AllLow, 350, 300, 0, 1)
	d, err := New(s)
	if err != nil {
		t.Fatal(err)
	}
	for n := 1.0; n < 4; n++ {
		if err := d.AdvanceToEvent(); err != nil || d.Time() != n || d.Events() != 0 {
			t.Errorf("step %g leads to %g s, %d events, %v", n, d.Time(), d.Events(), err)
		}
	}
}

// Changing to the same scenario changes nothing but rounding and where strides begin.
func TestChangeToTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := sound(t, as)
		s.Faults = nil
		end := s.Run.Measure
		whole := advance(t, s, end)
		d, err := New(s)
		if err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(1, 5).Draw(t, "changes") {
			if err := d.Advance(min(end-d.Time(), end/5*rapid.Float64Range(0, 1).Draw(t, "step"))); err != nil {
				t.Fatal(err)
			}
			if err := d.Change(s); err != nil {
				t.Fatal(err)
			}
		}
		if err := d.Advance(end - d.Time()); err != nil {
			t.Fatal(err)
		}
		same(t, "changed", d.Now(), whole.Now(), 1e-7*whole.scale(), func(x Instant) Instant { return x })
	})
}

// same checks that instant a, put through f, is instant b: currents to within tol (A).
func same(t *rapid.T, what string, a, b Instant, tol float64, f func(Instant) Instant) {
	a = f(a)
	for k := range a.Current {
		if !(math.Abs(a.Current[k]-b.Current[k]) <= tol) {
			t.Fatalf("%s: %v A at %g s, want %v", what, a.Current, b.Time, b.Current)
		}
	}
	if !(math.Abs(a.ID-b.ID) <= 2*tol && math.Abs(a.IQ-b.IQ) <= 2*tol) {
		t.Fatalf("%s: i_d %g, i_q %g A, want %g, %g", what, a.ID, a.IQ, b.ID, b.IQ)
	}
	if !(math.Abs(a.Speed-b.Speed) <= 1e-6*(1+math.Abs(b.Speed))) {
		t.Fatalf("%s: %g rad/s, want %g", what, a.Speed, b.Speed)
	}
	if !(math.Abs(a.Link-b.Link) <= 1e-6*max(b.Link, 1)) {
		t.Fatalf("%s: %g V at the link, want %g", what, a.Link, b.Link)
	}
}

// relabelled returns s with phase k named name[k].
func relabelled(s Scenario, name [3]inverter.Phase) Scenario {
	sw := func(x inverter.Switch) inverter.Switch {
		if x.High() {
			return inverter.High(name[x.Leg()])
		}
		return inverter.Low(name[x.Leg()])
	}
	faults := s.Faults
	s.Faults = nil
	for _, f := range faults {
		f.Phase, f.Switch = name[f.Phase], sw(f.Switch)
		s.Faults = append(s.Faults, f)
	}
	var hand inverter.Gates
	for _, x := range inverter.Switches {
		if s.Gating.Hand.Has(x) {
			hand = hand.With(sw(x))
		}
	}
	s.Gating.Hand = hand
	var i inverter.ABC
	for k, x := range s.Run.InitialCurrents {
		i[name[k]] = x
	}
	s.Run.InitialCurrents = i
	return s
}

// Names of phases are only names: all of them moved on by one turn everything by 120 degrees.
func TestLabelsTurn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := sound(t, offEdge)
		moved := relabelled(s, [3]inverter.Phase{inverter.V, inverter.W, inverter.U})
		moved.Gating.Phase += 2 * math.Pi / 3
		moved.Shaft.StartAngle += 2 * math.Pi / 3
		a, b := advance(t, s, s.Run.Measure), advance(t, moved, s.Run.Measure)
		same(t, "moved on", a.Now(), b.Now(), 1e-5*a.scale(), func(x Instant) Instant {
			x.Current = inverter.ABC{x.Current[2], x.Current[0], x.Current[1]}
			return x
		})
	})
}

// With V and W changed over, a drive that turns the other way mirrors the first: same i_d, opposite i_q.
func TestMirror(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := sound(t, offEdge)
		mirrored := relabelled(s, [3]inverter.Phase{inverter.U, inverter.W, inverter.V})
		mirrored.Gating.Frequency *= -1
		mirrored.Gating.Phase *= -1
		mirrored.Shaft.StartAngle *= -1
		mirrored.Shaft.Speed *= -1
		mirrored.Shaft.StartSpeed *= -1
		mirrored.Shaft.LoadTorque *= -1
		a, b := advance(t, s, s.Run.Measure), advance(t, mirrored, s.Run.Measure)
		same(t, "mirrored", a.Now(), b.Now(), 1e-5*a.scale(), func(x Instant) Instant {
			x.Current = inverter.ABC{x.Current[0], x.Current[2], x.Current[1]}
			x.IQ, x.Speed = -x.IQ, -x.Speed
			return x
		})
	})
}

// scaling checks that the run of changed is that of s, its currents times current after times time.
func scaling(t *rapid.T, s, changed Scenario, current, time float64) {
	changed.Run.Measure *= time
	for i := range changed.Faults {
		changed.Faults[i].Time *= time
		changed.Faults[i].Until *= time
	}
	a, b := advance(t, s, s.Run.Measure), advance(t, changed, changed.Run.Measure)
	x, y := a.Now(), b.Now()
	for k := range x.Current {
		if !(math.Abs(x.Current[k]*current-y.Current[k]) <= 1e-6*b.scale()) {
			t.Fatalf("currents %v times %g, got %v", x.Current, current, y.Current)
		}
	}
}

// All voltages times k, thresholds and magnet among them, are all currents times k.
func TestVoltagesScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := sound(t, hold)
		k := rapid.Float64Range(0.1, 10).Draw(t, "k")
		c := s
		c.Supply.Voltage *= k
		c.Machine.FluxLinkage *= k
		c.Switches.ChannelThreshold *= k
		c.Switches.DiodeThreshold *= k
		for p := range c.Run.InitialCurrents {
			c.Run.InitialCurrents[p] *= k
		}
		scaling(t, s, c, k, 1)
	})
}

// All impedances times k are all currents over k.
func TestImpedancesScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := sound(t, hold)
		k := rapid.Float64Range(0.1, 10).Draw(t, "k")
		c := s
		c.Faults = append([]Fault(nil), s.Faults...)
		for _, z := range []*float64{
			&c.Supply.Resistance, &c.Supply.CapacitorResistance, &c.Machine.Resistance, &c.Machine.InductanceD, &c.Machine.InductanceQ,
			&c.Switches.ChannelResistance, &c.Switches.DiodeResistance,
		} {
			*z *= k
		}
		for i := range c.Faults {
			if c.Faults[i].Kind == PhaseResistance {
				c.Faults[i].Value *= k
			}
		}
		c.Supply.Capacitance /= k
		for p := range c.Run.InitialCurrents {
			c.Run.InitialCurrents[p] /= k
		}
		scaling(t, s, c, 1/k, 1)
	})
}

// Everything k times as slow, with inductance, capacitance and magnet k times as large, has the same currents.
func TestTimeScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := sound(t, hold)
		k := rapid.Float64Range(0.1, 10).Draw(t, "k")
		c := s
		c.Faults = append([]Fault(nil), s.Faults...)
		for _, x := range []*float64{
			&c.Machine.InductanceD, &c.Machine.InductanceQ, &c.Machine.FluxLinkage, &c.Supply.Capacitance, &c.Gating.DeadTime,
		} {
			*x *= k
		}
		for _, x := range []*float64{&c.Gating.Frequency, &c.Gating.Carrier, &c.Shaft.Speed} {
			*x /= k
		}
		scaling(t, s, c, 1, k)
	})
}

// A run may start at any period of its carrier, from the currents and angles that it has there.
func TestTimeShift(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := machineB
		if rapid.Bool().Draw(t, "round") {
			m = machineA
		}
		kind := pattern.Kind(rapid.IntRange(int(pattern.SineTriangle), int(pattern.ClampedLow)).Draw(t, "pattern"))
		s := turning(m, kind, 350, float64(rapid.IntRange(-3000, 3000).Draw(t, "rpm")), 0, 0.01)
		s.Gating.Frequency = float64(rapid.IntRange(-300, 300).Draw(t, "f"))
		s.Gating.Modulation = float64(rapid.IntRange(1, 120).Draw(t, "M")) / 100
		s.Gating.Phase, s.Gating.Carrier = 0.3, 5000
		if rapid.Bool().Draw(t, "drops") {
			s.Switches = Switches{ChannelThreshold: 0.8, ChannelResistance: 2e-3, DiodeThreshold: 0.9, DiodeResistance: 1.5e-3}
		}
		from := float64(rapid.IntRange(1, 20).Draw(t, "periods")) / 5000
		d := advance(t, s, from)
		x := d.Now()
		late := s
		late.Gating.Phase += 2 * math.Pi * s.Gating.Frequency * from
		late.Shaft.StartAngle = x.Rotor
		late.Run.InitialCurrents = x.Current
		a, b := advance(t, s, from+0.0047), advance(t, late, 0.0047)
		same(t, fmt.Sprintf("from %g s", from), b.Now(), a.Now(), 1e-7*a.scale(), func(x Instant) Instant { return x })
	})
}
