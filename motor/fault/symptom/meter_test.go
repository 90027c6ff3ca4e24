package symptom

import (
	"math"
	"regexp"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sextant/inverter"
	"sextant/motor"
	"sextant/motor/drive"
)

var wrongWords = regexp.MustCompile(`NaN|Inf|%!|\be[+-]\d`)

// What two and three windings of R between leads come to by Ohm's and Kirchhoff's laws: a star reads 2R, a delta
// (2/3)R; a star with phase U open reads open, 2R, open; a delta with its winding UV open 2R, R, R.
func TestPhaseToPhase(t *testing.T) {
	const r = 0.3
	open := math.Inf(1)
	for _, tt := range []struct {
		name string
		got  []Resistance
		want [3]float64
	}{
		{"star", phaseToPhase(motor.Machine{Resistance: r}, none), [3]float64{2 * r, 2 * r, 2 * r}},
		{"delta", phaseToPhase(motor.Machine{Resistance: r, Connection: motor.Delta}, none), [3]float64{2 * r / 3, 2 * r / 3, 2 * r / 3}},
		{"star, lead U open", phaseToPhase(motor.Machine{Resistance: r}, drive.Fault{Kind: drive.PhaseOpen}), [3]float64{open, 2 * r, open}},
		{"star, winding U open", openWinding(motor.Machine{Resistance: r}, inverter.U), [3]float64{open, 2 * r, open}},
		{"delta, winding UV open", openWinding(motor.Machine{Resistance: r, Connection: motor.Delta}, inverter.U), [3]float64{2 * r, r, r}},
		{"delta, lead U open", phaseToPhase(motor.Machine{Resistance: r, Connection: motor.Delta}, drive.Fault{Kind: drive.PhaseOpen}), [3]float64{open, 2 * r / 3, open}},
		{"star, a tenth of U's turns shorted", phaseToPhase(motor.Machine{Resistance: r}, drive.Fault{Kind: drive.TurnsShorted, Value: 0.1}), [3]float64{1.9 * r, 2 * r, 1.9 * r}},
		{"star, bad joint in U", phaseToPhase(motor.Machine{Resistance: r}, drive.Fault{Kind: drive.PhaseResistance, Value: 1}), [3]float64{2*r + 1, 2 * r, 2*r + 1}},
	} {
		for k, want := range tt.want {
			got := open
			if tt.got[k].Ohms != nil {
				got = *tt.got[k].Ohms
			}
			if got != want && !scalar.EqualWithinRel(got, want, 1e-12) {
				t.Errorf("%s: %s reads %g ohm, want %g", tt.name, tt.got[k].Between, got, want)
			}
		}
	}
}

// The diode check of the trade (common practice): with the motor's leads off, + lead on the - rail and - lead on a
// phase reads the lower diode, + lead on the phase and - lead on the + rail the upper one, swapped both read open; from
// - to + rail two diodes. A shorted switch reads about 0 V both ways, an open diode open both ways. The windings join
// the phases: a shorted leg then shows on all, and an open diode on none. Dead gates and open channels show nowhere.
func TestDiodeChecks(t *testing.T) {
	const open = -1
	for _, tt := range []struct {
		fault       string
		leads       string
		plus, minus string
		want        int
	}{
		{"supply-sag", "off", "-", "U", 1},
		{"supply-sag", "off", "U", "+", 1},
		{"supply-sag", "off", "U", "-", open},
		{"supply-sag", "off", "+", "U", open},
		{"supply-sag", "off", "-", "+", 2},
		{"supply-sag", "off", "+", "-", open},
		{"switch-short:U+", "off", "U", "+", 0},
		{"switch-short:U+", "off", "+", "U", 0},
		{"switch-short:U+", "off", "+", "V", open},
		{"switch-short:U+", "on", "+", "V", 0},
		{"switch-short:U+", "on", "W", "+", 0},
		{"switch-short:U+", "off", "-", "+", 1},
		{"switch-short:V-", "off", "V", "-", 0},
		{"diode-open:U-", "off", "-", "U", open},
		{"diode-open:U-", "off", "U", "-", open},
		{"diode-open:U-", "on", "-", "U", 1},
		{"switch-open:U+", "off", "U", "+", 1},
		{"phase-open:U", "on", "-", "U", 1},
	} {
		f, err := Parse(tt.fault)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range diodeChecks(f, false) {
			if c.Leads != tt.leads || c.Plus != tt.plus || c.Minus != tt.minus {
				continue
			}
			got := open
			if c.Drops != nil {
				got = *c.Drops
			}
			if got != tt.want {
				t.Errorf("%s, leads %s, %s to %s: %d drops, want %d", tt.fault, tt.leads, tt.plus, tt.minus, got, tt.want)
			}
		}
	}
	for _, hidden := range []string{"switch-open", "gate-stuck-off", "phase-swap"} {
		f, _ := Parse(hidden)
		if m := metered(&drive.Scenario{}, f); len(m.Differ) > 0 {
			t.Errorf("a diode check sees %s", hidden)
		}
	}
}

func TestParse(t *testing.T) {
	for _, name := range []string{"phase-open:V", "switch-open:W-", "demagnetised"} {
		f, err := Parse(name)
		if err != nil || Name(f) != name {
			t.Errorf("%s reads as %s, %v", name, Name(f), err)
		}
	}
	for _, name := range []string{"", "phase-opne", "phase-open:X", "switch-open:U", "demagnetised:U"} {
		if _, err := Parse(name); err == nil {
			t.Errorf("%q is taken for a fault", name)
		}
	}
}
