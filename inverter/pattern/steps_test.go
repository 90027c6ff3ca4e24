package pattern_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// One turn of each stepped pattern on a resistive star, in units of the supply. 180 and 120 degrees: Rashid,
// Power Electronics, 3rd ed., ch. 6; Bimbhra, Power Electronics, inverters. 150 degrees: common practice.
func TestStepsOfATurn(t *testing.T) {
	const third, half = 1. / 3, 1. / 2
	for _, tt := range []struct {
		kind   pattern.Kind
		from   float64 // degrees
		on     string  // in turn, by the numbering named firing
		phase  []float64
		line   []float64
		length []float64 // of the field, alternating
	}{
		{pattern.SixStep180, -30, "612 123 234 345 456 561",
			[]float64{2 * third, third, -third, -2 * third, -third, third}, []float64{1, 0, -1, -1, 0, 1}, []float64{2 * third}},
		{pattern.SixStep120, 0, "12 23 34 45 56 61",
			[]float64{half, 0, -half, -half, 0, half}, []float64{half, -half, -1, -half, half, 1}, []float64{1 / math.Sqrt(3)}},
		{pattern.TwelveStep150, -15, "612 12 123 23 234 34 345 45 456 56 561 61",
			[]float64{2 * third, half, third, 0, -third, -half, -2 * third, -half, -third, 0, third, half},
			[]float64{1, half, 0, -half, -1, -1, -1, -half, 0, half, 1, 1}, []float64{2 * third, 1 / math.Sqrt(3)}},
	} {
		table, err := pattern.Steps(tt.kind, 1)
		if err != nil {
			t.Fatal(err)
		}
		on := strings.Fields(tt.on)
		if len(table.Steps) != len(on) {
			t.Fatalf("%v has %d steps, want %d", tt.kind, len(table.Steps), len(on))
		}
		width := 360 / float64(len(on))
		for i, s := range table.Steps {
			var want inverter.Gates
			for _, digit := range on[i] {
				sw, err := inverter.Firing.Switch(int(digit - '0'))
				if err != nil {
					t.Fatal(err)
				}
				want = want.With(sw)
			}
			if s.Gates != want || s.Number != i+1 || strings.Join(s.On, " ") != want.String() {
				t.Errorf("%v step %d: %v on, listed as %v; want %v", tt.kind, s.Number, s.Gates, s.On, want)
			}
			from := tt.from + float64(i)*width
			if s.From != from || s.To != from+width || s.Field != from+width/2 {
				t.Errorf("%v step %d: %g to %g, field %g", tt.kind, s.Number, s.From, s.To, s.Field)
			}
			// V and W see what U saw 120 and 240 degrees before, and lines likewise.
			n := len(on)
			for p := range 3 {
				j := (i + n - p*n/3) % n
				if !scalar.EqualWithinAbs(s.Phase[p], tt.phase[j], 1e-12) {
					t.Errorf("%v step %d: phase %v at %g, want %g", tt.kind, s.Number, inverter.Phase(p), s.Phase[p], tt.phase[j])
				}
				if !scalar.EqualWithinAbs(s.Line[p], tt.line[j], 1e-12) {
					t.Errorf("%v step %d: line %d at %g, want %g", tt.kind, s.Number, p, s.Line[p], tt.line[j])
				}
			}
			v := s.Gates.Vector(1)
			length := tt.length[i%len(tt.length)]
			if off := math.Remainder(v.Angle()*180/math.Pi-s.Field, 360); !scalar.EqualWithinAbs(v.Abs(), length, 1e-12) || math.Abs(off) > 1e-9 {
				t.Errorf("%v step %d: field of %g at %g degrees, want %g at %g", tt.kind, s.Number, v.Abs(), v.Angle()*180/math.Pi, length, s.Field)
			}
		}
	}
}

// Rashid, Power Electronics, 3rd ed., ch. 6, and Mohan, Undeland, Robbins, Power Electronics, 3rd ed.,
// section 8-4-2; closed forms.
func TestStepsSums(t *testing.T) {
	for _, tt := range []struct {
		kind                                         pattern.Kind
		supply, fundamental, phaseRMS, lineRMS, dist float64
	}{
		{pattern.SixStep180, 1, 2 / math.Pi, math.Sqrt2 / 3, math.Sqrt(2. / 3), 100 * math.Sqrt(math.Pi*math.Pi/9-1)},
		{pattern.SixStep120, 1, math.Sqrt(3) / math.Pi, 1 / math.Sqrt(6), math.Sqrt2 / 2, 100 * math.Sqrt(math.Pi*math.Pi/9-1)},
		{pattern.TwelveStep150, 1, 2 / math.Pi * math.Cos(math.Pi/12), math.Sqrt(7. / 36), math.Sqrt(7. / 12), 16.863301743},
		{pattern.SixStep180, 350, 222.816920, 164.991582, 285.773803, 31.0841939},
		{pattern.SixStep180, 48, 30.5577491, 22.6274170, 39.1918359, 31.0841939},
		{pattern.SixStep120, 350, 192.965113, 142.886902, 247.487373, 31.0841939},
		{pattern.TwelveStep150, 350, 215.224618, 154.335493, 267.316915, 16.8633017},
	} {
		got, err := pattern.Steps(tt.kind, tt.supply)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range []struct {
			name      string
			got, want float64
		}{
			{"phase fundamental", got.PhaseFundamental, tt.fundamental}, {"phase rms", got.PhaseRMS, tt.phaseRMS},
			{"line rms", got.LineRMS, tt.lineRMS}, {"line THD", got.LineTHD, tt.dist},
		} {
			if !scalar.EqualWithinRel(x.got, x.want, 3e-9) {
				t.Errorf("%v at %g V: %s %.9g, want %.9g", tt.kind, tt.supply, x.name, x.got, x.want)
			}
		}
	}
}

func TestStepsRefuses(t *testing.T) {
	var wrong *pattern.SettingError
	for _, k := range pattern.Kinds() {
		if _, err := pattern.Steps(k, 1); (err == nil) != k.Stepped() || err != nil && !errors.As(err, &wrong) {
			t.Errorf("%v: %v", k, err)
		}
	}
	for _, supply := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, err := pattern.Steps(pattern.SixStep180, supply); !errors.As(err, &wrong) || wrong.Key != "supply" {
			t.Errorf("a supply of %g V: %v", supply, err)
		}
	}
}

// TestConduction: each switch is on for so much of the table's turn as its pattern is named after.
func TestConduction(t *testing.T) {
	for kind, degrees := range map[pattern.Kind]float64{pattern.SixStep180: 180, pattern.SixStep120: 120, pattern.TwelveStep150: 150} {
		if got := kind.Conduction() * 180 / math.Pi; !scalar.EqualWithinRel(got, degrees, 1e-15) {
			t.Errorf("%v conducts for %g degrees", kind, got)
		}
		table, err := pattern.Steps(kind, 1)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range inverter.Switches {
			on := 0.0
			for _, step := range table.Steps {
				if step.Gates.Has(s) {
					on += step.To - step.From
				}
			}
			if on != degrees {
				t.Errorf("%v: %v is on for %g degrees", kind, s, on)
			}
		}
	}
	if got := pattern.SpaceVector.Conduction(); got != 0 {
		t.Errorf("space-vector conducts for %g rad by steps", got)
	}
}

// TestAt: within 1e-5 of 4/π, which people write as 1.27324, carrier patterns are six-step, and no others.
func TestAt(t *testing.T) {
	for _, tt := range []struct {
		kind       pattern.Kind
		modulation float64
		want       pattern.Kind
	}{
		{pattern.SpaceVector, 1.27324, pattern.SixStep180},
		{pattern.ClampedLow, 1.27323, pattern.SixStep180},
		{pattern.SineTriangle, 1.27322, pattern.SineTriangle},
		{pattern.SixStep120, 1.27324, pattern.SixStep120},
		{pattern.PulsedLow, 1.27324, pattern.PulsedLow},
	} {
		if got := tt.kind.At(tt.modulation); got != tt.want {
			t.Errorf("%v at %g is %v", tt.kind, tt.modulation, got)
		}
	}
}

func ExampleSteps() {
	table, _ := pattern.Steps(pattern.SixStep180, 300)
	text, _ := json.Marshal(table.Steps[0])
	fmt.Println(string(text))
	// Output:
	// {"step":1,"from_deg":-30,"to_deg":30,"on":["U+","V-","W-"],"pole_v":[300,0,0],"line_v":[300,0,-300],"phase_v":[200,-100,-100],"field_deg":0}
}
