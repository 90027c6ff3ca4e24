package drive

import (
	"math"
	"strings"
	"testing"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// lawful is an instant that keeps every law, by hand: of 100 V an upper channel gives 30 A and drops 1 V, a lower channel takes
// 40 A at 1 V, a lower diode gives 10 A at 2 V. The bridge turns 30 + 40 + 20 W to heat.
func lawful() Instant {
	x := Instant{
		Ways:    [3]inverter.Way{inverter.UpperChannel, inverter.LowerChannel, inverter.LowerDiode},
		Current: inverter.ABC{30, -40, 10}, Pole: inverter.ABC{99, 1, -2}, Link: 100, Supply: 30, LinkCurrent: 30,
		ID: 30, IQ: -50 / math.Sqrt(3), // d along winding U: id = 2/3 (30 + 40/2 - 10/2), iq = (-40 - 10)/√3
		Power: Power{Supply: 3000, Bridge: 90, Copper: 500, Capacitor: 10, Shaft: 2000, Store: 400},
	}
	for k := range x.Phase {
		x.Phase[k] = x.Pole[k] - 32
	}
	return x
}

// Each rule of an instant is broken by what lies a little beyond it, and by nothing that lies a little within.
func TestRulesOfInstants(t *testing.T) {
	s := turning(machineA, pattern.AllOff, 100, 0, 0, 1)
	s.Switches = Switches{ChannelThreshold: 1, DiodeThreshold: 2}
	for _, tt := range []struct {
		spoil  func(x *Instant, by float64)
		beyond float64
		within float64
		says   string
	}{
		{func(x *Instant, by float64) { x.Current[0] += by }, 1e-7, 1e-8, "currents sum to"},
		{func(x *Instant, by float64) { x.Current[2] -= by }, 1e-7, 1e-8, "currents sum to"},
		{func(x *Instant, by float64) { x.Pole[0] = 102 + by }, 1e-3, 1e-5, "pole U"},
		{func(x *Instant, by float64) { x.Pole[1] = -2 - by }, 1e-3, 1e-5, "pole V"},
		{func(x *Instant, by float64) { x.Current[2], x.Ways[2] = by, inverter.Idle }, 1e-7, 1e-8, "by its idle"},
		{func(x *Instant, by float64) { x.Current[2], x.Ways[2] = -by, inverter.Idle }, 1e-7, 1e-8, "by its idle"},
		{func(x *Instant, by float64) { x.Current[0], x.Ways[0] = by, inverter.UpperDiode }, 1e-7, -5, "by its upper diode"},
		{func(x *Instant, by float64) { x.Current[1], x.Ways[1] = -by, inverter.LowerDiode }, 1e-7, -5, "by its lower diode"},
		{func(x *Instant, by float64) { x.ID += by }, 1e-6, 1e-7, "windings carry"},
		{func(x *Instant, by float64) { x.IQ -= by }, 1e-6, 1e-7, "windings carry"},
		{func(x *Instant, by float64) { x.Astray = [3]uint8{0, uint8(by), uint8(3 - by)} }, 1, 0, "windings carry"},
		{func(x *Instant, by float64) { x.LinkCurrent += by }, 1e-7, 1e-8, "the upper ways carry"},
		{func(x *Instant, by float64) { x.LinkCurrent -= by }, 1e-7, 1e-8, "the upper ways carry"},
		{func(x *Instant, by float64) { x.Ways[2] = inverter.UpperChannel; x.LinkCurrent = 40 + by }, 1e-7, 1e-8, "the upper ways carry"},
		{func(x *Instant, by float64) { x.Phase[0] += by }, 1e-5, 1e-7, "phases take"},
		{func(x *Instant, by float64) { x.Phase[1] -= by }, 1e-5, 1e-7, "phases take"},
		{func(x *Instant, by float64) { x.Power.Bridge += by }, 1e-4, 1e-6, "the bridge loses"},
		{func(x *Instant, by float64) { x.Power.Bridge -= by }, 1e-4, 1e-6, "the bridge loses"},
		{func(x *Instant, by float64) { x.Power.Supply += by }, 1e-4, 1e-6, "does not add up"},
		{func(x *Instant, by float64) { x.Power.Copper += by }, 1e-4, 1e-6, "does not add up"},
		{func(x *Instant, by float64) { x.Power.Capacitor += by }, 1e-4, 1e-6, "does not add up"},
		{func(x *Instant, by float64) { x.Power.Shaft -= by }, 1e-4, 1e-6, "does not add up"},
		{func(x *Instant, by float64) { x.Power.Store += by }, 1e-4, 1e-6, "does not add up"},
		{func(x *Instant, by float64) { x.Speed = math.Log(1 - by) }, 1, 0, "not a number"},
		{func(x *Instant, by float64) { x.Power.Capacitor *= math.Log(1-by) + 1 }, 2, 0, "not a number"},
		{func(x *Instant, by float64) { x.Beside.Beta = math.Log(1 - by) }, 1, 0, "not a number"},
	} {
		for by, want := range map[float64]bool{tt.beyond: true, tt.within: false} {
			l, x := NewLaw(&s), lawful()
			tt.spoil(&x, by)
			l.instant(x)
			if said := strings.Contains(strings.Join(l.Broken(), "\n"), tt.says); said != want {
				t.Errorf("%q off by %g: %v", tt.says, by, l.Broken())
			}
		}
	}
	l := NewLaw(&s)
	if l.instant(lawful()); l.Broken() != nil {
		t.Errorf("%v", l.Broken())
	}
	// The heat of a run in which little flows is judged by no less than a tenth of an ampere at the supply's voltage.
	still := Instant{Link: 100, Ways: [3]inverter.Way{}}
	still.Power.Supply = 5e-9
	l = NewLaw(&s)
	if l.instant(still); l.Broken() != nil {
		t.Errorf("%v", l.Broken())
	}
	still.Power.Supply = 2e-8
	if l.instant(still); l.Broken() == nil {
		t.Errorf("20 nW from nowhere are let pass")
	}
	for kind, free := range map[FaultKind]bool{PhaseOpen: true, DiodeOpen: true, SwitchOpen: false} {
		s.Faults = []Fault{{Kind: SwitchOpen}, {Kind: kind}, {Kind: SwitchOpen}}
		l, x := NewLaw(&s), lawful()
		x.Pole[1] = -50
		l.instant(x)
		if said := strings.Contains(strings.Join(l.Broken(), "\n"), "pole V"); said == free {
			t.Errorf("%v: %v", kind, l.Broken())
		}
	}
}

// Each rule of sums likewise.
func TestRulesOfSums(t *testing.T) {
	s := turning(machineA, pattern.AllOff, 100, 0, 0, 1)
	s.Switches = using(t, "igbt-750")
	for _, tt := range []struct {
		spoil  func(e *Summary, by float64)
		beyond float64
		within float64
		says   string
	}{
		{func(s *Summary, by float64) { s.Energy.Residual = by }, 2.1e-7, 1.9e-7, "missing"},
		{func(s *Summary, by float64) { s.Energy.Residual = -by }, 2.1e-7, 1.9e-7, "missing"},
		{func(s *Summary, by float64) { s.Energy.Residual = math.Log(1 - 2*by) }, 1, 0, "missing"},
		{func(s *Summary, by float64) { s.Energy.Copper = -by }, 1e-6, 1e-8, "heat below zero"},
		{func(s *Summary, by float64) { s.Energy.Bridge = -by }, 1e-6, 1e-8, "heat below zero"},
		{func(s *Summary, by float64) { s.Energy.Broken = -by }, 1e-6, 1e-8, "heat below zero"},
		{func(s *Summary, by float64) { s.Energy.ToShaft = 90 + by }, 1e-6, 1e-8, "at the shaft from"},
		{func(s *Summary, by float64) { s.Energy.StoredChange = 40 + by }, 1e-6, 1e-8, "at the shaft from"},
		{func(s *Summary, by float64) { s.Switches[4].Junction = 125 - by }, 1e-8, 1e-10, "on a sink of 125"},
		{func(s *Summary, by float64) { s.Switches[4].DiodeJunction = 125 - by }, 1e-8, 1e-10, "on a sink of 125"},
		{func(s *Summary, by float64) { s.Machine.IDMean = math.Log(1 - by) }, 1, 0, "unsupported value"},
	} {
		for by, want := range map[float64]bool{tt.beyond: true, tt.within: false} {
			x := Summary{
				Energy: EnergySummary{Supplied: 100, ToShaft: 60, Copper: 20, Bridge: 10, StoredChange: 10},
				Device: &DeviceSummary{}, Switches: make([]SwitchSummary, 6),
			}
			for k := range x.Switches {
				x.Switches[k].HeatSummary = &HeatSummary{Junction: 130, DiodeJunction: 130}
			}
			tt.spoil(&x, by)
			l := NewLaw(&s)
			l.Sums(&x)
			if said := strings.Contains(strings.Join(l.Broken(), "\n"), tt.says); said != want {
				t.Errorf("%q off by %g: %v", tt.says, by, l.Broken())
			}
		}
	}
	s.Switches.Fixed, s.Switches.Sink = false, 65
	l := NewLaw(&s)
	x := Summary{Device: &DeviceSummary{}, Switches: []SwitchSummary{{HeatSummary: &HeatSummary{Junction: 66, DiodeJunction: 64}}, {}}}
	if l.Sums(&x); len(l.Broken()) != 1 || !strings.Contains(l.Broken()[0], "on a sink of 65") {
		t.Errorf("%v", l.Broken())
	}
	x = Summary{Energy: EnergySummary{ToShaft: -60, Supplied: -30, Copper: 30}}
	l = NewLaw(&s)
	if l.Sums(&x); l.Broken() != nil {
		t.Errorf("a brake breaks the law: %v", l.Broken())
	}
}

// A keep observes a run and keeps its latest segment.
type keep struct{ Segment }

func (k *keep) Observe(s *Segment) { k.Segment = *s }

// Time runs forward, and a law that has seen enough looks no further.
func TestRulesOfTime(t *testing.T) {
	s := traction(8e3)
	d, law := watched(t, s)
	var k keep
	d.Watch(&k)
	if err := d.Advance(1e-3); err != nil {
		t.Fatal(err)
	}
	if n := law.Instants(); n < 3*16 || n%3 != 0 {
		t.Errorf("%d instants of eight carrier periods", n)
	}
	l := NewLaw(&s)
	l.Observe(&k.Segment)
	l.Observe(&k.Segment)
	if len(l.Broken()) != 1 || !strings.Contains(l.Broken()[0], "time runs from") {
		t.Errorf("a segment that comes twice: %v", l.Broken())
	}
	for range 20 {
		l.Observe(&k.Segment)
	}
	if len(l.Broken()) != mostBroken {
		t.Errorf("%d breaches are told", len(l.Broken()))
	}
	k.T1 = k.T0 - 1e-9
	l = NewLaw(&s)
	if l.Observe(&k.Segment); len(l.Broken()) == 0 || !strings.Contains(l.Broken()[0], "time runs from") {
		t.Errorf("a segment that ends ahead of its start: %v", l.Broken())
	}
}

// The greatest drops of a device are at least those at any temperature.
func TestMostDrops(t *testing.T) {
	for _, name := range []string{"igbt-750", "sic-750", "mosfet-100"} {
		s := using(t, name)
		m := most(s)
		for x := coldest; x <= hottest; x += 25 {
			y := s.at(junction{x, x})
			if y.ChannelThreshold > m.ChannelThreshold || y.ChannelResistance > m.ChannelResistance ||
				y.DiodeThreshold > m.DiodeThreshold || y.DiodeResistance > m.DiodeResistance {
				t.Errorf("%s at %g C drops %+v, at most %+v", name, x, y, m)
			}
		}
	}
}
