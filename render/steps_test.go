package render

import (
	"math"
	"testing"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor/drive"
)

// follow returns the steps that a pattern goes through in a turn, each once, as drawn.
func follow(t *testing.T, set pattern.Settings, span float64) (steps []step, dark []bool) {
	t.Helper()
	s := drive.Scenario{Gating: drive.Gating{Settings: set}}
	p := newPen(&nothing{}, &Layout{}, &View{Scenario: &s})
	defer p.lift()
	stepper, ok := p.stepper(window{span: span})
	if !ok {
		t.Fatalf("%v has no steps", set.Kind)
	}
	stream, err := pattern.New(set)
	if err != nil {
		t.Fatal(err)
	}
	last := none
	for stream.Peek() < 0.02 {
		time, g := stream.Next()
		if k := stepper.next(g); k != last && time >= 0.01 {
			steps, dark, last = append(steps, k), append(dark, stepper.dark(k)), k
		}
	}
	return steps, dark
}

// Six-step patterns have six steps a turn, twelve-step twelve, and a carrier's reference passes six sectors; dead time
// adds none; and of two that follow one another one is shaded.
func TestStepsAreToldApart(t *testing.T) {
	for _, tt := range []struct {
		kind  pattern.Kind
		dead  float64
		steps int
	}{
		{pattern.SixStep180, 0, 6}, {pattern.SixStep180, 2e-5, 6}, {pattern.SixStep120, 0, 6}, {pattern.TwelveStep150, 0, 12},
		{pattern.SpaceVector, 0, 6}, {pattern.SpaceVector, 2e-6, 6}, {pattern.Clamped60, 0, 6}, {pattern.SineTriangle, 2e-6, 6},
	} {
		set := pattern.Settings{Kind: tt.kind, Frequency: 100, Modulation: 0.8, Carrier: 8000, DeadTime: tt.dead}
		steps, dark := follow(t, set, 0.01)
		if n := len(steps); n < tt.steps || n > tt.steps+1 {
			t.Errorf("%v with dead time %g s: steps %v, want %d", tt.kind, tt.dead, steps, tt.steps)
		}
		for k := range dark[1:] {
			if dark[k] == dark[k+1] {
				t.Errorf("%v with dead time %g s: steps %v are shaded %v", tt.kind, tt.dead, steps, dark)
				break
			}
		}
	}
}

// A step's direction is that of the voltage vector the state makes: six-step-180's steps by 60 degrees from 0, those
// of six-step-120 by 60 from 30 (Bose, Modern Power Electronics and AC Drives, ch. 5).
func TestStepsPointWhereTheVectorDoes(t *testing.T) {
	for k, g := range inverter.Active {
		if got := stepOf(g); int(got) != 2*k {
			t.Errorf("%v: step %d, want %d", g, got, 2*k)
		}
		v, _ := g.Poles(2).Star().Clarke()
		if want := math.Mod(v.Angle()+2*math.Pi, 2*math.Pi) / (math.Pi / 6); math.Abs(want-float64(2*k)) > 1e-9 {
			t.Errorf("%v: vector at %g twelfths", g, want)
		}
	}
	if got := stepOf(inverter.On(inverter.UHigh, inverter.WLow)); got != 1 {
		t.Errorf("U+ W-: step %d, want 1", got)
	}
	for _, g := range []inverter.Gates{0, inverter.AllLow, inverter.AllHigh} {
		if got := stepOf(g); got != none {
			t.Errorf("%v: step %d, want none", g, got)
		}
	}
}
