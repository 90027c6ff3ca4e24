package inverter_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
	"pgregory.net/rapid"

	"sextant/inverter"
)

// Every set of gates that drives all legs, with its vector: 2/3 of the supply at 0, 60, ... 300 degrees, and
// two that make none. van der Broeck, Skudelny, Stanke, IEEE Trans. IA-24 (1988) 142. The pole, line and
// phase voltages are those of 180-degree conduction: Rashid, Power Electronics, 3rd ed., ch. 6.
func TestStates(t *testing.T) {
	const third = 1. / 3
	if len(inverter.States) != 1<<3 {
		t.Errorf("three legs have %d states", len(inverter.States))
	}
	for i, tt := range []struct {
		on                string
		pole, line, phase inverter.ABC
	}{
		{"U+ V- W-", inverter.ABC{1, 0, 0}, inverter.ABC{1, 0, -1}, inverter.ABC{2 * third, -third, -third}},
		{"U+ V+ W-", inverter.ABC{1, 1, 0}, inverter.ABC{0, 1, -1}, inverter.ABC{third, third, -2 * third}},
		{"U- V+ W-", inverter.ABC{0, 1, 0}, inverter.ABC{-1, 1, 0}, inverter.ABC{-third, 2 * third, -third}},
		{"U- V+ W+", inverter.ABC{0, 1, 1}, inverter.ABC{-1, 0, 1}, inverter.ABC{-2 * third, third, third}},
		{"U- V- W+", inverter.ABC{0, 0, 1}, inverter.ABC{0, -1, 1}, inverter.ABC{-third, -third, 2 * third}},
		{"U+ V- W+", inverter.ABC{1, 0, 1}, inverter.ABC{1, -1, 0}, inverter.ABC{third, -2 * third, third}},
		{"U- V- W-", inverter.ABC{}, inverter.ABC{}, inverter.ABC{}},
		{"U+ V+ W+", inverter.ABC{1, 1, 1}, inverter.ABC{}, inverter.ABC{}},
	} {
		g := inverter.States[i]
		if g.String() != tt.on || !g.Complete() || g.Shorts() {
			t.Errorf("state %d is %v, complete %v, shorts %v; want %s", i, g, g.Complete(), g.Shorts(), tt.on)
		}
		pole := g.Poles(1)
		if pole != tt.pole || pole.Lines() != tt.line || !near(pole.Star(), tt.phase) {
			t.Errorf("%v: pole %v, line %v, phase %v", g, pole, pole.Lines(), pole.Star())
		}
		v := g.Vector(1)
		if i >= 6 {
			if v.Abs() != 0 || v.Angle() != 0 {
				t.Errorf("%v makes a field of %g", g, v.Abs())
			}
			continue
		}
		if off := math.Remainder(v.Angle()-float64(i)*math.Pi/3, 2*math.Pi); !scalar.EqualWithinAbs(v.Abs(), 2*third, 1e-12) || math.Abs(off) > 1e-12 {
			t.Errorf("%v: %g at %g rad", g, v.Abs(), v.Angle())
		}
	}
}

// Two switches on and the third leg at the star point: 1/√3 of the supply, half way between the active ones.
func TestTwoSwitchVectors(t *testing.T) {
	for _, tt := range []struct {
		high, low inverter.Switch
		degrees   float64
	}{
		{inverter.UHigh, inverter.VLow, -30}, {inverter.UHigh, inverter.WLow, 30}, {inverter.VHigh, inverter.WLow, 90},
		{inverter.VHigh, inverter.ULow, 150}, {inverter.WHigh, inverter.ULow, 210}, {inverter.WHigh, inverter.VLow, 270},
	} {
		g := inverter.On(tt.high, tt.low)
		v := g.Vector(350)
		off := math.Remainder(v.Angle()-tt.degrees*math.Pi/180, 2*math.Pi)
		if !scalar.EqualWithinAbs(v.Abs(), 350*0.577350269, 1e-6) || math.Abs(off) > 1e-12 || g.Complete() {
			t.Errorf("%v: %g V at %g degrees, want %g", g, v.Abs(), v.Angle()*180/math.Pi, tt.degrees)
		}
	}
	if got := inverter.Gates(0).Poles(350); got != (inverter.ABC{}) {
		t.Errorf("a bridge at rest has poles at %v", got)
	}
	if got := inverter.On(inverter.VHigh).Poles(350); got != (inverter.ABC{350, 350, 350}) {
		t.Errorf("V+ alone puts poles at %v, want all at the supply", got)
	}
}

// Amplitude-invariant vectors: Holmes & Lipo, Pulse Width Modulation for Power Converters (IEEE/Wiley, 2003),
// ch. 1; the rotor's frame and the power in it, P = 3/2 (vd id + vq iq) + 3 v0 i0: Krishnan, Permanent Magnet
// Synchronous and Brushless DC Motor Drives (CRC, 2010), ch. 3.
func TestVectors(t *testing.T) {
	if v, zero := (inverter.ABC{1, -0.5, -0.5}).Clarke(); v != (inverter.Vector{Alpha: 1}) || zero != 0 {
		t.Errorf("U alone at its peak is %v, %g", v, zero)
	}
	rapid.Check(t, func(t *rapid.T) {
		draw := rapid.Custom(func(t *rapid.T) inverter.ABC {
			x := rapid.Float64Range(-100, 100)
			return inverter.ABC{x.Draw(t, "u"), x.Draw(t, "v"), x.Draw(t, "w")}
		})
		v, i, theta := draw.Draw(t, "v"), draw.Draw(t, "i"), rapid.Float64Range(-7, 7).Draw(t, "theta")
		vv, v0 := v.Clarke()
		ii, i0 := i.Clarke()
		dv, di := vv.Turn(theta), ii.Turn(theta)
		got := 1.5*(dv.Alpha*di.Alpha+dv.Beta*di.Beta) + 3*v0*i0
		want := v[0]*i[0] + v[1]*i[1] + v[2]*i[2]
		if !scalar.EqualWithinAbs(got, want, 1e-9) {
			t.Fatalf("%g W seen from the rotor, %g W from the phases", got, want)
		}
		if back := dv.Turn(-theta); math.Hypot(back.Alpha-vv.Alpha, back.Beta-vv.Beta) > 1e-12*(1+vv.Abs()) {
			t.Fatalf("%v there and back is %v", vv, back)
		}
		star := v.Star()
		if !near(vv.ABC(), star) || !scalar.EqualWithinAbs(v.Neutral(), v0, 1e-12) {
			t.Fatalf("%v has star voltages %v and projections %v", v, star, vv.ABC())
		}
	})
}

func TestRotorFrame(t *testing.T) {
	for degree := 0.0; degree < 360; degree += 7 {
		theta := degree * math.Pi / 180
		var i inverter.ABC
		for _, p := range inverter.Phases {
			i[p] = 5 * math.Cos(theta-p.Axis())
		}
		v, _ := i.Clarke()
		if dq := v.Turn(theta); !scalar.EqualWithinAbs(dq.Alpha, 5, 1e-12) || !scalar.EqualWithinAbs(dq.Beta, 0, 1e-12) {
			t.Errorf("currents in phase with the d axis at %g degrees: d %g, q %g", degree, dq.Alpha, dq.Beta)
		}
	}
}

// In forward sequence line UV is √3 of phase U and leads it by 30 degrees.
func TestLineLeadsPhase(t *testing.T) {
	for degree := 0.0; degree < 360; degree += 5 {
		theta := degree * math.Pi / 180
		x := inverter.Vector{Alpha: math.Cos(theta), Beta: math.Sin(theta)}.ABC()
		if got, want := x.Lines()[0], math.Sqrt(3)*math.Cos(theta+math.Pi/6); !scalar.EqualWithinAbs(got, want, 1e-12) {
			t.Errorf("UV is %g where it should be %g", got, want)
		}
	}
}

func TestInterlock(t *testing.T) {
	for g := range inverter.Gates(1 << 6) {
		var legs []inverter.Phase
		for _, p := range inverter.Phases {
			if g.Has(inverter.High(p)) && g.Has(inverter.Low(p)) {
				legs = append(legs, p)
			}
		}
		if g.Shorts() != (len(legs) > 0) {
			t.Errorf("%v shorts: %v", g, g.Shorts())
		}
		err := g.Interlock()
		if len(legs) == 0 {
			if err != nil {
				t.Errorf("%v: %v", g, err)
			}
			continue
		}
		var short *inverter.ShootThroughError
		if !errors.As(err, &short) || short.Leg != legs[0] || !strings.Contains(err.Error(), legs[0].String()+"+") {
			t.Errorf("%v: %v, want leg %v", g, err, legs[0])
		}
	}
}

func ExampleGates_Shorts() {
	g := inverter.On(inverter.UHigh, inverter.VLow, inverter.WLow)
	fmt.Println(g, g.Shorts())
	g = g.With(inverter.ULow)
	fmt.Println(g, g.Shorts())
	fmt.Println(g.Interlock())
	// Output:
	// U+ V- W- false
	// U+ U- V- W- true
	// U+ and U- are on together: shoot-through, leg U shorts the supply
}

func near(a, b inverter.ABC) bool {
	for p := range a {
		if !scalar.EqualWithinAbs(a[p], b[p], 1e-12*(1+math.Abs(b[p]))) {
			return false
		}
	}
	return true
}
