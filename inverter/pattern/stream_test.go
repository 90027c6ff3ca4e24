package pattern_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
	"pgregory.net/rapid"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

func stream(t testing.TB, s pattern.Settings) pattern.Stream {
	t.Helper()
	x, err := pattern.New(s)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// edges takes n edges that change the gates.
func edges(x *pattern.Stream, n int) []pattern.Edge {
	var list []pattern.Edge
	for len(list) < n && !math.IsInf(x.Peek(), 1) {
		before := x.Gates()
		if at, g := x.Next(); g != before {
			list = append(list, pattern.Edge{Time: at, Gates: g})
		}
	}
	return list
}

func TestStepsInTime(t *testing.T) {
	for _, tt := range []struct {
		kind  pattern.Kind
		first float64 // border after 0 degrees
		width float64
		start string
		then  string
	}{
		{pattern.SixStep180, 30, 60, "U+ V- W-", "U+ V+ W-"},
		{pattern.SixStep120, 60, 60, "U+ W-", "V+ W-"},
		{pattern.TwelveStep150, 15, 30, "U+ V- W-", "U+ W-"},
	} {
		const f = 50.0
		x := stream(t, pattern.Settings{Kind: tt.kind, Frequency: f})
		if got := x.Gates().String(); got != tt.start {
			t.Errorf("%v starts with %s, want %s", tt.kind, got, tt.start)
		}
		for i, e := range edges(&x, 1000) {
			if want := (tt.first + float64(i)*tt.width) / 360 / f; !scalar.EqualWithinAbs(e.Time, want, 1e-12/f) {
				t.Fatalf("%v: edge %d at %.15g s, want %.15g", tt.kind, i, e.Time, want)
			}
			if i == 0 && e.Gates.String() != tt.then {
				t.Errorf("%v: first edge to %v, want %s", tt.kind, e.Gates, tt.then)
			}
		}
		// A phase of exactly a border begins after it, whichever way it turns.
		for _, f := range []float64{50, -50} {
			x := stream(t, pattern.Settings{Kind: tt.kind, Frequency: f, Phase: tt.first * math.Pi / 180})
			want := tt.then
			if f < 0 {
				want = tt.start
			}
			if got := x.Gates().String(); got != want {
				t.Errorf("%v, %g Hz, begun at a border: %s, want %s", tt.kind, f, got, want)
			}
			if at, want := x.Peek(), tt.width/360/50; !scalar.EqualWithinAbs(at, want, 1e-14) {
				t.Errorf("%v, %g Hz, begun at a border: next at %g s, want %g", tt.kind, f, at, want)
			}
		}
	}
}

func TestStandingStepNeverChanges(t *testing.T) {
	for _, s := range []pattern.Settings{
		{Kind: pattern.SixStep180, Phase: 1.1}, {Kind: pattern.AllOff, Frequency: 50}, {Kind: pattern.AllLow},
		{Kind: pattern.AllHigh}, {Kind: pattern.ByHand, Hand: inverter.On(inverter.UHigh, inverter.WLow)},
	} {
		x := stream(t, s)
		if at, g := x.Next(); !math.IsInf(at, 1) || g != x.Gates() {
			t.Errorf("%v has an edge at %g s to %v", s.Kind, at, g)
		}
	}
	x := stream(t, pattern.Settings{Kind: pattern.SixStep180, Phase: math.Pi / 3})
	if x.Gates() != inverter.Active[1] {
		t.Errorf("standing at 60 degrees: %v", x.Gates())
	}
}

// Dwell times of the space vector at 20 degrees, M = 0.8: van der Broeck, Skudelny, Stanke, IEEE Trans.
// IA-24 (1988) 142; the duties are those of the min-max zero sequence, Holmes & Lipo, Pulse Width Modulation
// for Power Converters (IEEE/Wiley, 2003), ch. 6.
func TestDwellTimes(t *testing.T) {
	x := stream(t, pattern.Settings{Kind: pattern.SpaceVector, Phase: 20 * math.Pi / 180, Modulation: 0.8, Carrier: 1})
	dwell := map[inverter.Gates]float64{}
	var duty inverter.ABC
	before, g := 0.0, x.Gates()
	for before < 1 {
		at := min(x.Peek(), 1)
		dwell[g] += at - before
		for _, p := range inverter.Phases {
			if g.Has(inverter.High(p)) {
				duty[p] += at - before
			}
		}
		before = at
		_, g = x.Next()
	}
	for _, tt := range []struct {
		g    inverter.Gates
		want float64
	}{
		{inverter.Active[0], 0.445336}, {inverter.Active[1], 0.236959},
		{inverter.AllHigh, 0.317705 / 2}, {inverter.AllLow, 0.317705 / 2},
	} {
		if !scalar.EqualWithinAbs(dwell[tt.g], tt.want, 5e-7) {
			t.Errorf("%v for %.7f of a period, want %.6f", tt.g, dwell[tt.g], tt.want)
		}
	}
	for p, want := range (inverter.ABC{0.841147, 0.395811, 0.158853}) {
		if !scalar.EqualWithinAbs(duty[p], want, 5e-7) {
			t.Errorf("upper duty of %v is %.7f, want %.6f", inverter.Phase(p), duty[p], want)
		}
	}
}

// At 4/π every carrier pattern is six-step, whatever its carrier.
func TestFullModulationIsSixStep(t *testing.T) {
	want := stream(t, pattern.Settings{Kind: pattern.SixStep180, Frequency: 50, Phase: 0.4})
	list := edges(&want, 50)
	for _, k := range carrierKinds() {
		for _, m := range []float64{4 / math.Pi, 1.27324} {
			x := stream(t, pattern.Settings{Kind: k, Frequency: 50, Phase: 0.4, Modulation: m, Carrier: 1234})
			for i, e := range edges(&x, len(list)) {
				if e != list[i] {
					t.Fatalf("%v: edge %d is %v, six-step-180 has %v", k, i, e, list[i])
				}
			}
		}
	}
}

func TestPulsedLow(t *testing.T) {
	for _, duty := range []float64{0.2, 0.5, 0.7} {
		x := stream(t, pattern.Settings{Kind: pattern.PulsedLow, Carrier: 100, Duty: duty})
		if x.Gates() != inverter.AllLow {
			t.Errorf("duty %g starts with %v", duty, x.Gates())
		}
		for i, e := range edges(&x, 100) {
			want, g := (float64(i/2)+duty)/100, inverter.Gates(0)
			if i%2 == 1 {
				want, g = float64(i/2+1)/100, inverter.AllLow
			}
			if !scalar.EqualWithinAbs(e.Time, want, 1e-14) || e.Gates != g {
				t.Errorf("duty %g: edge %d at %g s to %v, want %g to %v", duty, i, e.Time, e.Gates, want, g)
			}
		}
	}
	for duty, want := range map[float64]inverter.Gates{0: 0, 1: inverter.AllLow} {
		x := stream(t, pattern.Settings{Kind: pattern.PulsedLow, Carrier: 100, Duty: duty})
		for range 10 {
			if _, g := x.Next(); g != want {
				t.Errorf("duty %g: %v, want %v", duty, g, want)
			}
		}
	}
}

// TestRotatingLabels: a reference 120 degrees behind on U is what V had, and so on round.
func TestRotatingLabels(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSettings(t)
		turned := s
		turned.Phase -= 2 * math.Pi / 3
		same(t, s, turned, func(g inverter.Gates) inverter.Gates { return (g>>2 | g<<4) & (1<<6 - 1) })
	})
}

// TestMirror: turning backwards from the mirrored angle swaps V and W.
func TestMirror(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSettings(t)
		mirrored := s
		mirrored.Phase, mirrored.Frequency = -s.Phase, -s.Frequency
		same(t, s, mirrored, func(g inverter.Gates) inverter.Gates { return g&0b11 | g>>2&0b1100 | g<<2&0b110000 })
	})
}

// same checks that b's gates are those of a, relabelled, except within rounding of an edge.
func same(t *rapid.T, a, b pattern.Settings, relabel func(inverter.Gates) inverter.Gates) {
	x, err := pattern.New(a)
	if err != nil {
		t.Fatal(err)
	}
	y, err := pattern.New(b)
	if err != nil {
		t.Fatal(err)
	}
	end, tiny := 2/math.Abs(a.Frequency), 1e-9/carrierOf(a)
	for at := end * 0.000377; at < end; at += end / 500 {
		last := math.Inf(-1)
		for x.Peek() <= at {
			last, _ = x.Next()
		}
		for y.Peek() <= at {
			last, _ = y.Next()
		}
		near := at-last < tiny || x.Peek()-at < tiny || y.Peek()-at < tiny
		if got, want := y.Gates(), relabel(x.Gates()); got != want && !near && !jumps(a, at) {
			t.Fatalf("%+v and %+v: at %g s %v, want %v", a, b, at, got, want)
		}
	}
}

// TestCopyIsSnapshot: a copy replays the same edges and does not disturb the original.
func TestCopyIsSnapshot(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSettings(t)
		s.DeadTime = rapid.Float64Range(0, 0.2).Draw(t, "dead") / carrierOf(s)
		x, err := pattern.New(s)
		if err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(0, 50).Draw(t, "taken") {
			x.Next()
		}
		y := x
		var list [60]pattern.Edge
		for i := range list {
			list[i].Time, list[i].Gates = x.Next()
		}
		for i := range list {
			at, g := y.Next()
			if at != list[i].Time || g != list[i].Gates {
				t.Fatalf("%+v: edge %d of the copy is %g s %v, not %v", s, i, at, g, list[i])
			}
		}
	})
}

// TestDeadTime checks the rule leg by leg: a switch is on when, and only when, it has been commanded on for
// the whole dead time, or since before t = 0.
func TestDeadTime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSettings(t)
		x, err := pattern.New(s)
		if err != nil {
			t.Fatal(err)
		}
		s.DeadTime = rapid.Float64Range(0.001, 0.45).Draw(t, "dead") / carrierOf(s)
		y, err := pattern.New(s)
		if err != nil {
			t.Fatal(err)
		}
		if x.Gates() != y.Gates() {
			t.Fatalf("%+v: starts with %v, without dead time with %v", s, y.Gates(), x.Gates())
		}
		var since [6]float64 // when each was last commanded on
		for i := range since {
			since[i] = math.Inf(-1)
		}
		tiny := 1e-9 / carrierOf(s)
		last := math.Inf(-1)
		for range 300 {
			at := (y.Peek() + last) / 2
			for x.Peek() <= at {
				before := x.Gates()
				when, g := x.Next()
				for _, sw := range inverter.Switches {
					if g.Has(sw) && !before.Has(sw) {
						since[sw] = when
					}
				}
			}
			for _, sw := range inverter.Switches {
				want := x.Gates().Has(sw) && at-since[sw] >= s.DeadTime
				if y.Gates().Has(sw) != want && math.Abs(at-since[sw]-s.DeadTime) > tiny && x.Peek()-at > tiny && last > 0 {
					t.Fatalf("%+v: at %g s %v is on: %v, want %v", s, at, sw, !want, want)
				}
			}
			if y.Gates().Shorts() {
				t.Fatalf("%+v: %v at %g s", s, y.Gates(), at)
			}
			last, _ = y.Next()
		}
	})
}

func TestDeadTimeSwallowsShortPulses(t *testing.T) {
	d := pattern.NewDeadTime(2, inverter.AllLow)
	high := inverter.AllLow.Without(inverter.ULow).With(inverter.UHigh)
	d.Command(10, high)
	if d.Gates() != inverter.On(inverter.VLow, inverter.WLow) || d.Peek() != 12 {
		t.Fatalf("after the command %v, next at %g", d.Gates(), d.Peek())
	}
	d.Command(12, inverter.AllLow) // U+ was wanted for just the dead time
	d.Expire(12)
	if d.Gates().Has(inverter.UHigh) || d.Peek() != 14 {
		t.Errorf("a pulse of the dead time's length gives %v, next at %g", d.Gates(), d.Peek())
	}
	d.Expire(14)
	if d.Gates() != inverter.AllLow || !math.IsInf(d.Peek(), 1) {
		t.Errorf("at last %v, next at %g", d.Gates(), d.Peek())
	}
}

func TestNoAllocation(t *testing.T) {
	for _, k := range pattern.Kinds() {
		x := stream(t, pattern.Settings{Kind: k, Frequency: 100, Modulation: 1.1, CarrierRatio: 2, Duty: 0.4, DeadTime: 1e-6})
		if n := testing.AllocsPerRun(1000, func() { x.Next() }); n != 0 {
			t.Errorf("%v allocates %g times an edge", k, n)
		}
	}
}
