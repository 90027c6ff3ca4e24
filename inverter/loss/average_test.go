package loss_test

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sextant/inverter/device"
	"sextant/inverter/loss"
	"sextant/inverter/pattern"
)

// With both junctions at one temperature an average is what Of finds there.
func TestAverageAgrees(t *testing.T) {
	for _, name := range device.Names() {
		d, err := device.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, k := range []pattern.Kind{pattern.SineTriangle, pattern.SpaceVector, pattern.ClampedHigh, pattern.Clamped30, pattern.SixStep180} {
			p := loss.Point{Pattern: k, Supply: 350, Current: 250, Modulation: 0.7, Lag: 0.6, Frequency: 100, Carrier: 9e3, DeadTime: 2e-6, Fixed: true, Junction: 110}
			want, err := loss.Of(&d, p)
			if err != nil {
				t.Fatal(err)
			}
			a, err := loss.AverageOf(&d, p)
			if err != nil {
				t.Fatal(err)
			}
			got := a.At(110, 110)
			if x, y := got.Sum(), want.Mean.Sum(); !scalar.EqualWithinRel(x, y, 2e-5) {
				t.Errorf("%s, %v: %g W, want %g", name, k, x, y)
			}
			if hotter := a.At(110, 140); d.Technology == device.SiIGBT && (hotter.Conduction != got.Conduction || hotter.Rectifier() == got.Rectifier()) {
				t.Errorf("%s, %v: the diode's temperature changes the switch's heat, or not its own", name, k)
			}
		}
	}
}

// TestAverageStanding: at standstill the average is the mean over all angles at which the rotor may stand, and a turn
// passes them all for the same time, however slow it is.
func TestAverageStanding(t *testing.T) {
	for _, k := range []pattern.Kind{pattern.SineTriangle, pattern.SpaceVector, pattern.Clamped30} {
		d, p := open(t, "igbt-750"), worked(k)
		p.Frequency = 0
		standing, err := loss.AverageOf(d, p)
		if err != nil {
			t.Fatal(err)
		}
		var mean float64
		const n = 360
		for i := range n {
			p.Angle = (float64(i) + 0.5) * 2 * math.Pi / n
			mean += of(t, d, p).Bridge / 6 / n
		}
		check(t, k.String()+" at angles", standing.At(125, 125).Sum(), mean, 1e-3) // clamping jumps somewhere between two of the angles
		for _, f := range []float64{1e-6, 1, 200} {
			p.Frequency = f
			turning, err := loss.AverageOf(d, p)
			if err != nil {
				t.Fatal(err)
			}
			check(t, k.String()+" turning", turning.At(125, 125).Sum(), standing.At(125, 125).Sum(), 1e-12)
		}
	}
	p := worked(pattern.SpaceVector)
	p.Supply = 0
	if _, err := loss.AverageOf(open(t, "igbt-750"), p); err == nil || !strings.Contains(err.Error(), "supply: ") {
		t.Errorf("%v", err)
	}
}

func BenchmarkAverage(b *testing.B) {
	d, err := device.Open("sic-750")
	if err != nil {
		b.Fatal(err)
	}
	p := loss.Point{Pattern: pattern.SpaceVector, Supply: 350, Current: 250, Modulation: 0.7, Lag: 0.6, Frequency: 100, Carrier: 9e3, DeadTime: 2e-6}
	b.ReportAllocs()
	for range b.N {
		a, err := loss.AverageOf(&d, p)
		if err != nil {
			b.Fatal(err)
		}
		a.At(100, 90)
	}
}
