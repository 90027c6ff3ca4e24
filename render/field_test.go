package render

import (
	"image/color"
	"math"
	"testing"

	"sextant/inverter/pattern"
	"sextant/motor/drive"
)

// The gap's flux leads the magnet by atan(L_q i_q / ψ) where no current flows along it (Krishnan, Permanent Magnet
// Synchronous and Brushless DC Motor Drives, ch. 3): at ψ = 0.08 Wb, 0.2 mH and 120 A by 16.70 degrees.
func TestGapFluxLeadsTheMagnet(t *testing.T) {
	v := demo(t, pattern.SixStep180, 0.0137)
	v.Now.ID, v.Now.IQ, v.Now.Rotor = 0, 120, 1
	flux, most := gapFlux(&v.Now, v.Scenario, 120)
	if lead := (flux.Angle() - 1) * 180 / math.Pi; math.Abs(lead-16.6992) > 1e-4 {
		t.Errorf("it leads by %.4f degrees, want 16.6992", lead)
	}
	if math.Abs(flux.Abs()-0.0835225) > 1e-7 || math.Abs(most-flux.Abs()) > 1e-12 {
		t.Errorf("it is %.7f Wb of %.7f, want 0.0835225", flux.Abs(), most)
	}
	v.Scenario.Faults = []drive.Fault{{Kind: drive.Demagnetised, Value: 0}}
	if flux, _ := gapFlux(&v.Now, v.Scenario, 120); math.Abs(math.Remainder(flux.Angle()-1-math.Pi/2, 2*math.Pi)) > 1e-9 {
		t.Error("without a magnet the field is not that of the current")
	}
}

// The tooth that the flux goes to is the most like a north pole, that across from it the most like a south pole, and
// those between are plain iron.
func TestTeethShowTheField(t *testing.T) {
	v := demo(t, pattern.SixStep180, 0.0137)
	v.Now.ID, v.Now.IQ, v.Now.Rotor = 0, 0, math.Pi/2
	l := Arrange(Everything, area(1280, 720), 1)
	f := wheelFrame(&l)
	k := v.Theme.inks()
	seen := map[int]color.Color{}
	for _, m := range marks(record(l, v)) {
		c := m.path[0].Pos
		if m.filled && len(m.path) == 5 && math.Abs(distance(c, f.origin)/float64(f.u)-float64(slotR+slotHalf)) < 1e-6 {
			at := math.Atan2(float64(c.Y-f.origin.Y), float64(c.X-f.origin.X)) + math.Pi/teeth
			seen[(int(math.Round(at*teeth/(2*math.Pi)))+teeth)%teeth] = m.color
		}
	}
	_, most := gapFlux(&v.Now, v.Scenario, ScalesOf(&v.Now, v.Tape).Current)
	share := v.Scenario.Machine.FluxLinkage / most
	for at, want := range map[int]color.Color{6: Mix(k.iron, k.north, share), 18: Mix(k.iron, k.south, share)} {
		if seen[at] != want {
			t.Errorf("tooth %d of %d is %v, want %v", at, len(seen), seen[at], want)
		}
	}
	for _, at := range []int{0, 12} {
		if seen[at] != k.iron {
			t.Errorf("tooth %d is %v, want iron %v", at, seen[at], k.iron)
		}
	}
}
