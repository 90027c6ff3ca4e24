package render

import (
	"math"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor"
	"sextant/motor/drive"
)

// demo returns a view of an invented hauler at t = at seconds: the gates are a pattern's, the currents sines
// of an amplitude that lag it by an angle, the rotor turns with them. What render draws need not be what a
// machine would do, only agree with itself.
func demo(t testing.TB, kind pattern.Kind, at float64) *View {
	t.Helper()
	const frequency, amplitude, supply = 100.0, 112.0, 350.0
	s := drive.Scenario{
		Title:  "Hillside hauler, climbing loaded (invented)",
		Supply: drive.Supply{Voltage: supply},
		Gating: drive.Gating{Settings: pattern.Settings{
			Kind: kind, Frequency: frequency, Modulation: 0.8, Carrier: 3000,
		}},
		Machine: motor.Machine{PolePairs: 4, Resistance: 0.02, InductanceD: 2e-4, InductanceQ: 2e-4, FluxLinkage: 0.08},
	}
	stream, err := pattern.New(s.Gating.Settings)
	if err != nil {
		t.Fatal(err)
	}
	instant := func(x float64, g inverter.Gates) drive.Instant {
		angle := 2*math.Pi*frequency*x - 0.4
		i := drive.Instant{Time: x, Gates: g, Link: supply, Rotor: math.Mod(angle-1.2+4*math.Pi, 2*math.Pi), Speed: 2 * math.Pi * frequency / 4}
		i.Shaft = i.Rotor / 4
		i.Pole = g.Poles(supply)
		i.Phase = i.Pole.Star()
		i.Current = inverter.Vector{Alpha: amplitude * math.Cos(angle), Beta: amplitude * math.Sin(angle)}.ABC()
		dq := i.CurrentVector().Turn(i.Rotor)
		i.ID, i.IQ = dq.Alpha, dq.Beta
		i.Torque = 1.5 * 4 * 0.08 * i.IQ
		for _, p := range inverter.Phases {
			switch {
			case g.Has(inverter.High(p)) && i.Current[p] >= 0:
				i.Ways[p] = inverter.UpperChannel
			case g.Has(inverter.High(p)):
				i.Ways[p] = inverter.UpperDiode
			case g.Has(inverter.Low(p)) && i.Current[p] <= 0:
				i.Ways[p] = inverter.LowerChannel
			case g.Has(inverter.Low(p)):
				i.Ways[p] = inverter.LowerDiode
			case i.Current[p] > 0:
				i.Ways[p] = inverter.LowerDiode
			case i.Current[p] < 0:
				i.Ways[p] = inverter.UpperDiode
			}
			if i.Ways[p].Upper() {
				i.LinkCurrent += i.Current[p]
			}
		}
		i.Supply = i.LinkCurrent
		i.Power = drive.Power{Supply: supply * i.Supply, Copper: 1.5 * 0.02 * amplitude * amplitude, Bridge: 180, Shaft: i.Torque * i.Speed}
		i.Power.Store = i.Power.Supply - i.Power.Copper - i.Power.Bridge - i.Power.Shaft
		return i
	}
	v := &View{Scenario: &s, Span: 0.012, TimeScale: 1e-3, Playing: true}
	g := stream.Gates()
	next := stream.Peek()
	for x := 0.0; x < at; x += 2e-5 {
		for next <= x {
			e, after := stream.Next()
			v.Tape = append(v.Tape, instant(e, g), instant(e, after))
			g, next = after, stream.Peek()
		}
		v.Tape = append(v.Tape, instant(x, g))
	}
	v.Now = instant(at, g)
	v.Tape = append(v.Tape, v.Now)
	return v
}

// area returns a canvas area of a size given in pixels at 96 to the inch.
func area(width, height int) vg.Rectangle {
	return vg.Rectangle{Max: vg.Point{X: vg.Length(width) * 0.75, Y: vg.Length(height) * 0.75}}
}

// sizes are the pictures' sizes that every layout must suit.
var sizes = [][2]int{{1280, 720}, {1920, 1080}, {3840, 2160}, {390, 844}, {1024, 768}, {844, 390}, {600, 600}, {2560, 1080}}

// record draws v and returns what was drawn.
func record(l Layout, v *View) []recorder.Action {
	var rec recorder.Canvas
	Draw(&rec, l, v)
	return rec.Actions
}
