package render

import (
	"math"
	"testing"

	"gonum.org/v1/plot/vg"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

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
