package render

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor/drive"
)

func TestExplain(t *testing.T) {
	v := demo(t, pattern.SineTriangle, 0.0121)
	v.Now.Gates = inverter.On(inverter.UHigh)
	v.Now.Ways = [3]inverter.Way{inverter.UpperChannel, inverter.LowerDiode, inverter.LowerDiode}
	v.Now.Current = inverter.ABC{112, -56, -56}
	v.Now.Link, v.Now.Pole = 350, inverter.ABC{350, 0, 0}
	v.Now.Power.Supply, v.Now.Supply = -21000, -60
	v.Now.Torque = -40
	for _, tt := range []struct {
		part Part
		want []string
	}{
		{Part{Kind: GatePart, Switch: inverter.UHigh}, []string{"Gate of U+", "on", "above the carrier"}},
		{Part{Kind: GatePart, Switch: inverter.ULow}, []string{"off", "below the carrier"}},
		{Part{Kind: DevicePart, Switch: inverter.UHigh}, []string{"+112 A", "drop 0 V"}},
		{Part{Kind: DevicePart, Switch: inverter.ULow}, []string{"carries nothing, 350 V"}},
		{Part{Kind: DiodePart, Switch: inverter.UHigh}, []string{"blocks 0 V"}},
		{Part{Kind: WirePart, Phase: inverter.V}, []string{"Phase V", "-56.0 A into"}},
		{Part{Kind: SupplyPart}, []string{"-60.0 A", "-21.0 kW", "it is charged", "P = v i"}},
		{Part{Kind: CornerPart, Corner: 1}, []string{"233 V towards 60°"}},
		{Part{Kind: StatorPart}, []string{"Wb a winding", "of the rotor", "ψ_d = "}},
		{Part{Kind: LanePart, Lane: TorqueLane}, []string{"-40.0 N m", "T ="}},
		{Part{Kind: LedgerPart, Row: 0}, []string{"Power out of the supply", "-21.0 kW"}},
	} {
		e := Explain(tt.part, v)
		text := e.Title + "\n" + e.Value + "\n" + e.Equation
		for _, want := range tt.want {
			if !strings.Contains(text, want) {
				t.Errorf("%v: %q says nothing of %q", tt.part, text, want)
			}
		}
	}
}

// Whatever can be pointed at is explained, and lies where it is found again.
func TestEveryPartIsExplained(t *testing.T) {
	for name, v := range views(t) {
		l := Arrange(Everything, area(1280, 720), 1)
		for _, part := range l.Parts() {
			e := Explain(part, v)
			if e.Title == "" || e.Value == "" || e.Equation == "" || strings.Contains(e.Value, "NaN") || strings.Contains(e.Value, "Inf") {
				t.Errorf("%s: %v is explained as %q", name, part, e)
			}
			r, _ := l.Where(part)
			in := r.Min.Add(r.Max).Scale(0.5)
			if part.Kind == StatorPart { // round the rotor
				in.Y = r.Max.Y - (r.Max.Y-r.Min.Y)/20
			}
			if at := l.At(in); at != part && part.Kind != LinkPart {
				t.Errorf("within %v lies %v", part, at)
			}
		}
	}
}

func TestBearing(t *testing.T) {
	l := Arrange(Everything, area(1280, 720), 1)
	f := wheelFrame(&l)
	for _, rad := range []float64{0, 1, -2, 3} {
		if got := l.Bearing(polar(f.origin, 5*f.u, rad)); math.Abs(got-rad) > 1e-9 {
			t.Errorf("a place at %g rad is borne %g rad", rad, got)
		}
	}
}

// With U lost, the field of V and W lies along the line at right angles to U's axis: upright.
func TestLocusOfALostPhaseIsALine(t *testing.T) {
	v := demo(t, pattern.SixStep180, 0.0137)
	for _, i := range pointers(v) {
		i.Current = inverter.ABC{0, i.Current[1], -i.Current[1]}
	}
	v.Scenario.Faults = []drive.Fault{{Kind: drive.PhaseOpen, Phase: inverter.U}}
	l := Arrange(Everything, area(1280, 720), 1)
	var rec recorder.Canvas
	p := newPen(&rec, &l, v)
	p.scales = ScalesOf(&v.Now, v.Tape)
	p.loci(wheelFrame(&l))
	p.lift()
	f := wheelFrame(&l)
	n, least, most := 0, vg.Length(0), vg.Length(0)
	for _, at := range strokePoints(rec.Actions) {
		if math.Abs(float64(at.X-f.origin.X)) > 1e-6 {
			t.Fatalf("the locus leaves the upright by %g", at.X-f.origin.X)
		}
		least, most = min(least, at.Y-f.origin.Y), max(most, at.Y-f.origin.Y)
		n++
	}
	if n < 50 || least > -3*f.u || most < 3*f.u {
		t.Errorf("%d points from %g to %g", n, least, most)
	}
	if s := Sentence(&v.Now, v.Scenario); !strings.HasPrefix(s, "Phase U is open: the field cannot turn, it swings along a line. ") {
		t.Error(s)
	}
}

// Every fault has words of its own, and is gone when it is mended.
func TestFaultsAreSaid(t *testing.T) {
	seen := map[string]bool{}
	for _, k := range drive.FaultKinds() {
		s := drive.Scenario{Faults: []drive.Fault{{Kind: k, Time: 1, Until: 2, Value: 0.3}}}
		at := func(time float64) string { return brokenWords(&drive.Instant{Time: time}, &s) }
		if at(0.5) != "" || at(2) != "" {
			t.Errorf("%v is said when it is not there", k)
		}
		words := at(1)
		if seen[words] || len(words) < 10 || strings.Contains(words, k.String()+" ") && strings.Contains(k.String(), "-") {
			t.Errorf("%v is said %q", k, words)
		}
		seen[words] = true
	}
}

// strokePoints returns the places that lines go through.
func strokePoints(actions []recorder.Action) (pts []vg.Point) {
	for _, a := range actions {
		if s, ok := a.(*recorder.Stroke); ok {
			for _, c := range s.Path {
				pts = append(pts, c.Pos)
			}
		}
	}
	return pts
}
