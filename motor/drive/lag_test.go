package drive

import (
	"math"
	"strings"
	"testing"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// A rotor as heavy as a house turns on as it does whatever the field pulls. It is told to be out of step when the voltage has
// run half a turn ahead of its q axis, or fallen as far behind, which is plain arithmetic; not where it turns with the field; and
// once.
func TestOutOfStep(t *testing.T) {
	const f, phase, start = 50., 0.4, 1.1
	for _, kind := range []pattern.Kind{pattern.SixStep180, pattern.SpaceVector} {
		for _, sign := range []float64{1, -1} {
			for _, crossed := range []bool{false, true} {
				for _, slip := range []float64{0, 0.1, -0.1, 1} {
					s := turning(machineA, kind, 48, 0, 0, 1)
					s.Gating.Frequency, s.Gating.Phase, s.Gating.Modulation = sign*f, phase, 0.3
					if kind == pattern.SpaceVector {
						s.Gating.Carrier = 2e3
					}
					// Leads crossed but for V's mirror the field at V's axis.
					field, angle := sign*f, phase
					if crossed {
						field, angle = -field, 2*inverter.V.Axis()-angle
						s.Faults = []Fault{{Kind: PhaseSwap, Phase: inverter.V}}
					}
					turns := field * (1 - slip) // electrical, a second
					s.Shaft = Shaft{Free: true, Inertia: 1e9, StartSpeed: 2 * math.Pi * turns / 4, StartAngle: start}
					d, _ := watched(t, s)
					const long = 0.25 // a tenth of 50 Hz takes 0.2 s for a turn
					if err := d.Advance(long); err != nil {
						t.Fatal(err)
					}
					notices := d.Notices()
					if slip == 0 {
						if len(notices) > 0 {
							t.Errorf("%v, %g Hz, crossed %v: %v in step", kind, sign*f, crossed, notices)
						}
						continue
					}
					ahead := math.Remainder(angle-start-math.Copysign(math.Pi/2, field), 2*math.Pi)
					drift := 2 * math.Pi * (field - turns)
					at := (math.Pi - ahead) / drift
					if drift < 0 {
						at = (-math.Pi - ahead) / drift
					}
					if len(notices) != 1 || !strings.Contains(notices[0].Text, "fell out of step") || math.Abs(notices[0].Time-at) > 2e-3 {
						t.Errorf("%v, %g Hz, crossed %v, slip %g: %v, want one of %g s", kind, sign*f, crossed, slip, notices, at)
					}
				}
			}
		}
	}
}
