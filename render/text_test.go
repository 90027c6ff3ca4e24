package render

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor"
	"sextant/motor/drive"
)

// A text is a string as it was drawn and the box of its capitals and its length.
type text struct {
	words string
	box   vg.Rectangle
}

func texts(actions []recorder.Action) []text {
	var all []text
	for _, a := range actions {
		s, ok := a.(*recorder.FillString)
		if !ok {
			continue
		}
		face := regular()
		if strings.Contains(s.Font.Name(), "Bold") {
			face = bold()
		}
		all = append(all, text{s.String, vg.Rectangle{
			Min: s.Point,
			Max: s.Point.Add(vg.Point{X: face.width(s.String, s.Size), Y: s.Size * CapHeight}),
		}})
	}
	return all
}

// views are pictures with little, much and strange to say.
func views(t *testing.T) map[string]*View {
	all := map[string]*View{
		"six-step":     demo(t, pattern.SixStep180, 0.0137),
		"two on":       demo(t, pattern.SixStep120, 0.0137),
		"space vector": demo(t, pattern.SpaceVector, 0.0121),
		"all off":      demo(t, pattern.AllOff, 0.004),
		"nothing":      {},
	}
	rows := demo(t, pattern.SineTriangle, 0.0137)
	rows.Numbering = inverter.Rows
	rows.Scenario.Supply.Capacitance = 1e-3
	rows.Scenario.Gating.DeadTime = 2e-6
	all["rows"] = rows
	load := demo(t, pattern.SixStep180, 0.0137)
	load.Scenario.Machine.Kind = motor.Passive
	load.Scenario.Switches.BothWays = true
	all["passive"] = load
	huge := demo(t, pattern.SixStep180, 0.0137)
	stretch(huge, 1e33)
	all["huge"] = huge
	tiny := demo(t, pattern.SixStep180, 0.0137)
	stretch(tiny, 1e-33)
	all["tiny"] = tiny
	late := demo(t, pattern.SixStep180, 0.0137)
	late.Now.Time, late.Span = 123456.789, 1e-6
	late.Playing, late.TimeScale = false, 1e-6
	all["late"] = late
	still := demo(t, pattern.SixStep180, 0.0137)
	still.Now.Current, still.Now.Torque, still.Now.Speed = inverter.ABC{}, 0, 0
	still.Tape = nil
	all["at rest"] = still
	lost := demo(t, pattern.SixStep180, 0.0137)
	lost.Now.Torque, lost.Now.Rotor, lost.Now.Power.Shaft = math.NaN(), math.NaN(), math.Inf(1)
	lost.Now.Current[0] = math.Inf(-1)
	all["lost"] = lost
	warm := demo(t, pattern.SpaceVector, 0.0137)
	warm.Warmth = &Warmth{Junction: [6]float64{65, 104, 150, 175, 1e6, math.NaN()}, Sink: 65, Limit: 175}
	for k, kind := range []drive.FaultKind{drive.ShaftBlocked, drive.Demagnetised, drive.PositionSensorOffset, drive.SupplySag} {
		warm.Scenario.Faults = append(warm.Scenario.Faults, drive.Fault{Kind: kind, Value: float64(k)})
	}
	all["warm"] = warm
	return all
}

// stretch scales electrical and mechanical quantities alike.
func stretch(v *View, by float64) {
	for _, i := range pointers(v) {
		for p := range i.Current {
			i.Current[p] *= by
			i.Pole[p] *= by
			i.Phase[p] *= by
		}
		i.Link *= by
		i.Supply *= by
		i.LinkCurrent *= by
		i.Torque *= by
		i.Speed *= by
		i.ID *= by
		i.IQ *= by
		i.Power.Supply *= by
		i.Power.Shaft *= by
		i.Power.Copper *= by
		i.Power.Bridge *= by
		i.Power.Store *= by
	}
	v.Scenario.Supply.Voltage *= by
}

func TestTextStaysInItsPart(t *testing.T) {
	for name, v := range views(t) {
		for _, size := range sizes {
			for _, scale := range []float64{1, 1.45} {
				l := Arrange(Everything, area(size[0], size[1]), scale)
				parts := []vg.Rectangle{l.Sentence, l.Bridge, l.Wheel, l.Tape, l.Ledger}
				for _, s := range texts(record(l, v)) {
					if !inOne(parts, s.box) {
						t.Errorf("%s at %v, text ×%g: %q at %.1f lies in no part whole", name, size, scale, s.words, s.box)
					}
				}
			}
		}
	}
}

// inOne reports whether one of the parts, all of which touch, holds the box; a hundredth of a point is
// rounding.
func inOne(parts []vg.Rectangle, box vg.Rectangle) bool {
	const eps = 0.01
	for _, r := range parts {
		if box.Min.X >= r.Min.X-eps && box.Min.Y >= r.Min.Y-eps && box.Max.X <= r.Max.X+eps && box.Max.Y <= r.Max.Y+eps {
			return true
		}
	}
	return false
}

func TestTextsDoNotOverlap(t *testing.T) {
	for name, v := range views(t) {
		for _, size := range sizes {
			for _, scale := range []float64{1, 1.45} {
				l := Arrange(Everything, area(size[0], size[1]), scale)
				all := texts(record(l, v))
				for i, a := range all {
					for _, b := range all[:i] {
						if w := overlap(a.box, b.box); w > 0.02*l.unit {
							t.Errorf("%s at %v, text ×%g: %q overlaps %q by %.2f pt", name, size, scale, a.words, b.words, w)
						}
					}
				}
			}
		}
	}
}

// overlap returns the lesser of width and height of what two boxes share.
func overlap(a, b vg.Rectangle) vg.Length {
	return min(min(a.Max.X, b.Max.X)-max(a.Min.X, b.Min.X), min(a.Max.Y, b.Max.Y)-max(a.Min.Y, b.Min.Y))
}

// Text smaller than 8 px, 6 pt, cannot be read on a screen.
func TestTextIsLegible(t *testing.T) {
	v := demo(t, pattern.SpaceVector, 0.0137)
	for _, size := range sizes {
		l := Arrange(Everything, area(size[0], size[1]), 1)
		if size[1] < 700 {
			continue
		}
		for _, s := range texts(record(l, v)) {
			if h := (s.box.Max.Y - s.box.Min.Y) / CapHeight; h < 6 {
				t.Errorf("at %v %q is %.1f pt high", size, s.words, h)
			}
		}
	}
}

func TestNothingIsNotANumber(t *testing.T) {
	finite := func(p vg.Point) bool {
		return !math.IsNaN(float64(p.X+p.Y)) && !math.IsInf(float64(p.X+p.Y), 0)
	}
	for name, v := range views(t) {
		l := Arrange(Everything, area(1280, 720), 1)
		for _, a := range record(l, v) {
			var path vg.Path
			switch a := a.(type) {
			case *recorder.FillString:
				for _, bad := range []string{"NaN", "Inf", "nan", "inf"} {
					if strings.Contains(a.String, bad) {
						t.Errorf("%s: %q is written", name, a.String)
					}
				}
				path.Move(a.Point)
			case *recorder.Stroke:
				path = a.Path
			case *recorder.Fill:
				path = a.Path
			}
			for _, c := range path {
				if !finite(c.Pos) || math.IsNaN(c.Start+c.Angle) {
					t.Fatalf("%s: a path goes to %v by %g from %g", name, c.Pos, c.Angle, c.Start)
				}
			}
		}
	}
}

func TestTypeset(t *testing.T) {
	for in, want := range map[string]string{
		"U+ V- W-": "U+ V– W–", "-38.8 A": "–38.8 A", "six-step-180": "six-step-180", "1.00e-09": "1.00e-09", "V-": "V–", "-": "–", "60 deg, then 5 us at 65 C": "60°, then 5 µs at 65 °C", "60 degrees, 2 Cs": "60 degrees, 2 Cs",
	} {
		if got := Typeset(in); got != want {
			t.Errorf("%q is set %q, want %q", in, got, want)
		}
	}
}

func ExampleSentence() {
	v := demo(&testing.T{}, pattern.SixStep180, 0.0137)
	fmt.Println(Sentence(&v.Now, v.Scenario))
	// Output:
	// U- V+ W- are on: 110 A enters at V and leaves at U and W; the field points to 110°, 69° ahead of the rotor: it pulls forward with 50.1 N m.
}

func pointers(v *View) []*drive.Instant {
	all := []*drive.Instant{&v.Now}
	for i := range v.Tape {
		all = append(all, &v.Tape[i])
	}
	return all
}

func TestWrapKeepsNumbersWithUnits(t *testing.T) {
	const s = "it pulls forward with 4.02 N m and 12 A"
	for room := vg.Length(20); room < 300; room++ {
		for _, line := range regular().wrap(nil, s, 10, room) {
			if strings.HasSuffix(line, "2") || strings.HasSuffix(line, "N") || strings.HasPrefix(line, "m ") {
				t.Errorf("in %g pt a line reads %q", room, line)
			}
		}
	}
	if got := strings.Join(regular().wrap(nil, s, 10, 80), " "); got != s {
		t.Errorf("wrapped it reads %q", got)
	}
}

// A reading that runs keeps its unit and its digits behind the point.
// Torques have no prefix below 1 N m; millinewton metres are nobody's.
func TestSmallTorques(t *testing.T) {
	for _, tt := range []struct {
		x    float64
		want string
	}{{0.5892, "0.589 N m"}, {-0.0042, "-0.004 N m"}, {1e-4, "0 N m"}, {2.0814, "2.08 N m"}, {1234, "1.23 kN m"}} {
		if got := quantity(tt.x, "N m"); got != tt.want {
			t.Errorf("%g is %q, want %q", tt.x, got, tt.want)
		}
	}
	if got := steady(0.5892, 0.8, "N m"); got != "0.59 N m" {
		t.Errorf("on a scale of 0.8 N m it is %q", got)
	}
}

func TestSteadyReadings(t *testing.T) {
	for _, tt := range []struct {
		x, full float64
		want    string
	}{
		{124.26, 150, "124.3 A"}, {-0.04, 150, "0.0 A"}, {-3, 150, "-3.0 A"}, {13.436, 15, "13.44 A"}, {0.2, 0.5, "200.0 mA"}, {7.5, 8, "7.50 A"},
		{1234, 8e3, "1.23 kA"}, {0, 0, "0 A"}, {math.NaN(), 150, "- A"},
	} {
		if got := steady(tt.x, tt.full, "A"); got != tt.want {
			t.Errorf("%g of %g A is written %q, want %q", tt.x, tt.full, got, tt.want)
		}
	}
}
