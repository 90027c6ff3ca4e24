package show

import (
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
	"gonum.org/v1/plot/vg/recorder"

	"sextant/inverter"
	"sextant/inverter/device"
	"sextant/inverter/loss"
	"sextant/inverter/pattern"
	"sextant/motor/drive"
	"sextant/motor/scenario"
	"sextant/render"
)

// The panel shows what the losses' package finds at the scenario's own figures, here known beforehand: the hauler
// is held by its control at 200 A, in phase with the EMF.
func TestHeatIsThatOfTheOperatingPoint(t *testing.T) {
	s := open(t, "hauler-climb")
	s.Do(Heat)
	h := &s.heating
	if !h.known || h.doubt != "" {
		t.Fatalf("no losses: %q", h.doubt)
	}
	sc := s.drive.Scenario()
	if !scalar.EqualWithinRel(h.point.Current, sc.Gating.IQ, 0.03) {
		t.Errorf("%g A, asked for are %g A", h.point.Current, sc.Gating.IQ)
	}
	if f := sc.Shaft.Speed * float64(sc.Machine.PolePairs) / 6.283185307; !scalar.EqualWithinRel(h.point.Frequency, f, 1e-6) {
		t.Errorf("%g Hz, the shaft makes %g Hz", h.point.Frequency, f)
	}
	for k := range 2 {
		d, err := device.Open(h.names[h.chosen[k]])
		if err != nil {
			t.Fatal(err)
		}
		r, err := loss.Of(&d, h.point)
		if err != nil || r.Bridge != h.results[k].Bridge || !(r.Bridge > 0) {
			t.Errorf("%s: %g W, shown are %g W; %v", d.Name, r.Bridge, h.results[k].Bridge, err)
		}
	}
	v := s.View()
	if v.Warmth == nil || v.Warmth.Junction[inverter.VHigh] <= device.UsualSink {
		t.Errorf("the stage is told %+v", v.Warmth)
	}
	before := h.results
	s.Do(CarrierUp)
	s.Tick(0.01)
	for k := range 2 {
		a, b := before[k].Upper, h.results[k].Upper
		if b.TurnOn <= a.TurnOn*1.05 {
			t.Errorf("a faster carrier took turning on from %g to %g W", a.TurnOn, b.TurnOn)
		}
	}
	before = h.results
	s.Do(NextDeviceA)
	s.Tick(0.01)
	if h.results[0].Bridge == before[0].Bridge || h.results[1].Bridge != before[1].Bridge {
		t.Error("another device A changes the wrong losses, or none")
	}
	if s.Do(Dismiss); s.View().Warmth != nil {
		t.Error("closed, the panel leaves its tints")
	}
}

// Whatever runs, the panel says figures or why there are none; the drawing has no number that is none.
func TestHeatOfEveryScenario(t *testing.T) {
	for _, name := range scenario.Names() {
		s := open(t, name)
		s.Do(Heat)
		watch(s, 1)
		if !s.heating.known && s.heating.doubt == "" {
			t.Errorf("%s: neither losses nor a reason", name)
		}
		for _, size := range [][2]float64{{1280, 720}, {390, 844}} {
			f := s.Arrange(size[0], size[1], 1)
			l := render.Arrange(render.Everything, f.Stage, 1)
			v := s.View()
			var rec recorder.Canvas
			render.DrawMoving(&rec, l, &v)
			s.Draw(&rec, &f, None)
			for _, a := range rec.Actions {
				if text, ok := a.(*recorder.FillString); ok && (strings.Contains(text.String, "NaN") || strings.Contains(text.String, "Inf")) {
					t.Errorf("%s: %q is written", name, text.String)
				}
			}
		}
	}
}

func TestHeatByHandSaysWhyNot(t *testing.T) {
	s := open(t, "trainer-pwm")
	s.Do(Heat)
	s.Press(render.Part{Kind: render.CornerPart})
	s.Tick(0.01)
	if s.drive.Scenario().Gating.Kind != pattern.ByHand || s.heating.known || !strings.Contains(s.heating.doubt, "by-hand") {
		t.Errorf("%v: %q", s.heating.known, s.heating.doubt)
	}
}

// A scenario that names its device is compared with another at its own sink.
func TestHeatOfTheScenariosOwnDevice(t *testing.T) {
	s := open(t, "hauler-climb")
	sc := s.choices[0].Scenario
	own, err := device.Open("sic-750")
	if err != nil {
		t.Fatal(err)
	}
	sc.Switches.Use, sc.Switches.Device, sc.Switches.Sink = "sic-750", &own, 80
	s.heating.begin(&sc)
	h := &s.heating
	if a, b := h.names[h.chosen[0]], h.names[h.chosen[1]]; a != "sic-750" || b != "igbt-750" {
		t.Errorf("compared are %s and %s", a, b)
	}
	if p := pointOf(&sc, &drive.Operating{}); p.Sink != 80 {
		t.Errorf("its sink is at %g °C", p.Sink)
	}
	sc.Switches.Use = "mine.toml"
	s.heating.begin(&sc)
	if a := h.names[h.chosen[0]]; a != "mine.toml" {
		t.Errorf("a file's device is called %s", a)
	}
	if d, err := h.device(0); err != nil || d.Name != own.Name {
		t.Errorf("it is %q, %v", d.Name, err)
	}
}
