package render

import (
	"image/color"
	"math"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor/drive"
)

// A mark is something filled or stroked, with the colour it has.
type mark struct {
	path   vg.Path
	color  color.Color
	filled bool
}

func marks(actions []recorder.Action) []mark {
	var all []mark
	var now color.Color
	for _, a := range actions {
		switch a := a.(type) {
		case *recorder.SetColor:
			now = a.Color
		case *recorder.Fill:
			all = append(all, mark{a.Path, now, true})
		case *recorder.Stroke:
			all = append(all, mark{a.Path, now, false})
		}
	}
	return all
}

// heads returns the triangles filled in a colour: arrowheads, their tip first.
func heads(actions []recorder.Action, c color.Color) []vg.Path {
	var all []vg.Path
	for _, m := range marks(actions) {
		if m.filled && m.color == c && len(m.path) == 4 && m.path[3].Type == vg.CloseComp {
			all = append(all, m.path)
		}
	}
	return all
}

func distance(a, b vg.Point) float64 { return math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y)) }

// Two thirds of the supply reach a corner of the hexagon (van der Broeck, Skudelny, Stanke, IEEE Trans.
// IA-24 (1988) 142), so six-step's arrow ends on the corner whose state is on.
func TestVoltageArrowEndsOnItsCorner(t *testing.T) {
	l := Arrange(Everything, area(1280, 720), 1)
	for k, want := range inverter.Active {
		v := demo(t, pattern.SixStep180, 0.0101+float64(k)*0.01/6)
		k := 0
		for inverter.Active[k] != v.Now.Gates {
			k++
		}
		r, _ := l.Where(Part{Kind: CornerPart, Corner: k})
		corner := r.Min.Add(r.Max).Scale(0.5)
		near := math.Inf(1)
		for _, h := range heads(record(l, v), v.Theme.inks().volt) {
			near = min(near, distance(h[0].Pos, corner))
		}
		if near > 1e-6 {
			t.Errorf("%v: the arrow ends %.2f pt from the corner of %v (asked at %v)", v.Now.Gates, near, inverter.Active[k], want)
		}
	}
}

// The field of a positive current in U alone, returning by V and W, lies along U's axis, to the right.
func TestFieldArrowPointsAlongTheCurrentVector(t *testing.T) {
	l := Arrange(Everything, area(1280, 720), 1)
	f := wheelFrame(&l)
	for _, tt := range []struct {
		current inverter.ABC
		deg     float64
	}{
		{inverter.ABC{100, -50, -50}, 0},
		{inverter.ABC{50, 50, -100}, 60},
		{inverter.ABC{-50, 100, -50}, 120},
		{inverter.ABC{0, -86.6, 86.6}, 270},
	} {
		v := demo(t, pattern.SixStep180, 0.0137)
		v.Now.Current = tt.current
		want := tt.deg * math.Pi / 180
		found := false
		for _, h := range heads(record(l, v), v.Theme.inks().field) {
			if d := distance(h[0].Pos, f.origin); d < float64(boreR*f.u) {
				found = true
				if off := distance(h[0].Pos, polar(f.origin, vg.Length(d), want)); off > 1e-6 {
					t.Errorf("%v: field arrow %.2f pt from %g degrees", tt.current, off, tt.deg)
				}
			}
		}
		if !found {
			t.Errorf("%v: no field arrow in the bore", tt.current)
		}
	}
}

// By the right-hand rule a field to the right needs current out of the plane above the axis and into it
// below: dots above, crosses below.
func TestDotsAndCrosses(t *testing.T) {
	l := Arrange(Everything, area(1280, 720), 1)
	f := wheelFrame(&l)
	for _, sign := range []float64{1, -1} {
		v := demo(t, pattern.SixStep180, 0.0137)
		v.Now.Current = inverter.ABC{sign * 100, -sign * 50, -sign * 50}
		dots, crosses := 0.0, 0.0 // mean heights over the middle
		for _, m := range marks(record(l, v)) {
			if m.color != v.Theme.inks().phase[inverter.U] {
				continue
			}
			for _, c := range m.path {
				d := distance(c.Pos, f.origin) / float64(f.u)
				switch y := float64(c.Pos.Y - f.origin.Y); {
				case c.Type == vg.ArcComp && math.Abs(d-slotR) < 1e-6:
					dots += y
				case c.Type == vg.MoveComp && !m.filled && math.Abs(d-slotR) < 2:
					crosses += y
				}
			}
		}
		if dots*sign <= 0 || crosses*sign >= 0 {
			t.Errorf("U carries %g A: dots lie %+.0f, crosses %+.0f above the middle", v.Now.Current[0], dots, crosses)
		}
	}
}

// The currents' lines differ without colour: U's is whole, V's in long pieces, W's in short ones.
func TestPhasesDifferWithoutColour(t *testing.T) {
	v := demo(t, pattern.SixStep180, 0.0137)
	l := Arrange(Everything, area(1280, 720), 1, CurrentLane)
	var pieces [3]int
	for _, m := range marks(record(l, v)) {
		for p, c := range v.Theme.inks().phase {
			if m.color != c || m.filled || len(m.path) == 0 || !inside(l.Trace, m.path[len(m.path)-1].Pos) {
				continue
			}
			for _, c := range m.path {
				if c.Type == vg.MoveComp {
					pieces[p]++
				}
			}
		}
	}
	if pieces[0] != 1 || pieces[1] < 10 || pieces[2] < 3*pieces[1]/2 {
		t.Errorf("lines of U, V, W are in %v pieces", pieces)
	}
}

// The mean of a straight line over a stretch is its value in the middle; a step in the middle counts half on
// either side.
func TestMeanPower(t *testing.T) {
	v := &View{Span: 2}
	at := func(time, supply, shaft float64) drive.Instant {
		return drive.Instant{Time: time, Power: drive.Power{Supply: supply, Shaft: shaft}}
	}
	v.Tape = []drive.Instant{at(0, 1e9, 1e9), at(1, 0, 10), at(2, 100, 10), at(2, 300, 30), at(3, 400, 30), at(4, 1e9, 1e9)}
	v.Now = v.Tape[4]
	l := Arrange(Everything, area(640, 360), 1)
	p := newPen(&nothing{}, &l, v)
	defer p.lift()
	mean, ok := p.meanPower()
	if !ok || math.Abs(mean.Supply-200) > 1e-9 || math.Abs(mean.Shaft-20) > 1e-9 {
		t.Errorf("means are %g and %g W (%v), want 200 and 20", mean.Supply, mean.Shaft, ok)
	}
}
