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

// The supply's arrow points away from the battery when it delivers and towards it when it is charged.
func TestSupplyArrowTurnsRound(t *testing.T) {
	l := Arrange(Everything, area(1280, 720), 1)
	f := bridgeFrame(&l)
	for _, power := range []float64{1000, -1000} {
		v := demo(t, pattern.SixStep180, 0.0137)
		v.Now.Gates = 0 // no gate is drawn in the accent's colour
		v.Now.Power.Supply = power
		n := 0
		for _, h := range heads(record(l, v), v.Theme.inks().accent) {
			if h[0].Pos.Y < f.at(0, railTop).Y || h[0].Pos.X > l.Bridge.Max.X {
				continue
			}
			n++
			if ahead := float64(h[0].Pos.X - h[1].Pos.X); ahead*power <= 0 {
				t.Errorf("%g W out of the supply: its arrow points the other way", power)
			}
		}
		if n != 1 {
			t.Errorf("%g W: %d arrows", power, n)
		}
	}
}

// gateBox returns where a switch's gate drive is drawn.
func gateBox(f frame, s inverter.Switch) vg.Rectangle {
	x, y := deviceXY(s)
	return f.rect(x-8, y-1.35, x-4.6, y+1.35)
}

// A gate that is on differs from one that is off by shape: a filled plate against an empty frame.
func TestGatesDifferByShape(t *testing.T) {
	l := Arrange(Everything, area(1280, 720), 1)
	f := bridgeFrame(&l)
	v := demo(t, pattern.SixStep180, 0.0137)
	drawn := marks(record(l, v))
	for _, s := range inverter.Switches {
		box := gateBox(f, s)
		plates, frames := 0, 0
		for _, m := range drawn {
			if len(m.path) < 5 || !inside(box, m.path[0].Pos.Add(vg.Point{X: 0.01, Y: 0.01})) {
				continue
			}
			if m.filled && len(m.path) == 6 {
				plates++
			} else if !m.filled {
				frames++
			}
		}
		on, off := 0, 1
		if v.Now.Gates.Has(s) {
			on, off = 1, 0
		}
		if plates != on || frames != off {
			t.Errorf("%v, on %v: %d plates, %d frames", s, v.Now.Gates.Has(s), plates, frames)
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

// Kirchhoff's current law: what the wires at a node carry sums to nothing.
func TestWiresMeet(t *testing.T) {
	v := demo(t, pattern.SpaceVector, 0.0121)
	now := &v.Now
	now.Supply -= 20 // the link capacitor delivers
	near := func(what string, got, want float64) {
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %g A, want %g", what, got, want)
		}
	}
	near("link, positive", wireCurrent(sourceTop, now), wireCurrent(capacitor, now)+wireCurrent(topRail, now))
	near("link, negative", wireCurrent(sourceBottom, now), wireCurrent(capacitor, now)+wireCurrent(bottomRail, now))
	for _, p := range inverter.Phases {
		next, nextBottom := 0.0, 0.0
		if p < inverter.W {
			next, nextBottom = wireCurrent(topRail+wire(p)+1, now), wireCurrent(bottomRail+wire(p)+1, now)
		}
		near("positive rail at "+p.String(), wireCurrent(topRail+wire(p), now), wireCurrent(upperBranch+wire(p), now)+next)
		near("negative rail at "+p.String(), wireCurrent(bottomRail+wire(p), now), wireCurrent(lowerBranch+wire(p), now)+nextBottom)
		near("terminal "+p.String(), wireCurrent(upperBranch+wire(p), now), wireCurrent(lowerBranch+wire(p), now)+wireCurrent(terminal+wire(p), now))
	}
}

func TestBeadsRunWithTheCurrent(t *testing.T) {
	v := demo(t, pattern.SixStep180, 0.0137)
	v.Beads.Advance(v.Now, 0.05)
	for _, p := range inverter.Phases {
		moved := math.Remainder(v.Beads.offset[terminal+wire(p)], 1)
		if moved*v.Now.Current[p] <= 0 {
			t.Errorf("%v carries %g A and its beads moved by %g spacings", p, v.Now.Current[p], moved)
		}
	}
	var still Beads
	still.Advance(v.Now, 0)
	still.Advance(v.Now, math.NaN())
	if still != (Beads{}) {
		t.Error("beads moved in no time")
	}
}

// More current is more beads, and none is there at once or gone at once.
func TestBeadsGrowWithTheCurrent(t *testing.T) {
	for strength, want := range map[float64]int{0.02: 1, 0.25: 2, 1: 4} {
		n := 0
		for k := range beadCycle {
			if beadSize(k, strength) > 0.2 {
				n++
			}
		}
		if n != want {
			t.Errorf("at %g of the full scale there are %d beads of %d, want %d", strength, n, beadCycle, want)
		}
	}
	for k := range beadCycle {
		for s := 0.01; s < 1; s += 0.01 {
			if d := beadSize(k, s) - beadSize(k, s-0.01); d < 0 || d > 0.1 {
				t.Errorf("bead %d grows by %.2f at %.2f of the full scale", k, d, s)
			}
		}
	}
}

// A leg that carries nothing rests: it is paled, and its terminal is a ring.
func TestIdleLegRests(t *testing.T) {
	l := Arrange(Everything, area(1280, 720), 1)
	f := bridgeFrame(&l)
	v := demo(t, pattern.SixStep180, 0.0137)
	v.Now.Ways[inverter.V], v.Now.Current = inverter.Idle, inverter.ABC{50, 0, -50}
	k := v.Theme.inks()
	for _, ph := range inverter.Phases {
		rings, veils := 0, 0
		for _, m := range marks(record(l, v)) {
			at := f.at(legX(ph), wireY(ph))
			switch {
			case !m.filled && m.color == k.wire && len(m.path) == 3 && distance(m.path[0].Pos, at) < float64(f.u):
				rings++
			case m.filled && m.color == faded(k.ground, resting) && m.path[0].Pos.X < at.X && m.path[1].Pos.X > at.X:
				veils++
			}
		}
		want := 0
		if ph == inverter.V {
			want = 1
		}
		if rings != want || veils != want {
			t.Errorf("%v, carrying %g A: %d rings, %d veils, want %d", ph, v.Now.Current[ph], rings, veils, want)
		}
	}
}

func TestHitsAreWhatIsShown(t *testing.T) {
	for _, size := range sizes {
		l := Arrange(Everything, area(size[0], size[1]), 1)
		var all []Part
		for _, s := range inverter.Switches {
			all = append(all, Part{Kind: GatePart, Switch: s}, Part{Kind: DevicePart, Switch: s}, Part{Kind: DiodePart, Switch: s})
		}
		for _, p := range inverter.Phases {
			all = append(all, Part{Kind: WirePart, Phase: p})
		}
		for k := range inverter.Active {
			all = append(all, Part{Kind: CornerPart, Corner: k})
		}
		all = append(all, Part{Kind: SupplyPart}, Part{Kind: LinkPart}, Part{Kind: RotorPart}, Part{Kind: LanePart, Lane: CurrentLane})
		for _, part := range all {
			r, ok := l.Where(part)
			if !ok {
				t.Errorf("at %v %+v lies nowhere", size, part)
			}
			if got := l.At(r.Min.Add(r.Max).Scale(0.5)); got != part {
				t.Errorf("at %v the middle of %+v is taken for %+v", size, part, got)
			}
		}
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
