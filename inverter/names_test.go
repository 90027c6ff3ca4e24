package inverter_test

import (
	"encoding"
	"fmt"
	"math"
	"strings"
	"testing"

	"sextant/inverter"
)

// Both numberings in use, by the switches that three and two numbers mean. Rows: common practice. Firing, in
// which six-step runs 561 612 123 234 345 456: Rashid, Power Electronics, 3rd ed., ch. 6; Mohan, Undeland,
// Robbins, Power Electronics, 3rd ed.
func TestNumberings(t *testing.T) {
	for _, tt := range []struct {
		numbering inverter.Numbering
		numbers   string
		want      string
	}{
		{inverter.Rows, "156", "U+ V- W-"}, {inverter.Rows, "126", "U+ V+ W-"}, {inverter.Rows, "246", "U- V+ W-"},
		{inverter.Rows, "234", "U- V+ W+"}, {inverter.Rows, "345", "U- V- W+"}, {inverter.Rows, "135", "U+ V- W+"},
		{inverter.Firing, "612", "U+ V- W-"}, {inverter.Firing, "123", "U+ V+ W-"}, {inverter.Firing, "234", "U- V+ W-"},
		{inverter.Firing, "345", "U- V+ W+"}, {inverter.Firing, "456", "U- V- W+"}, {inverter.Firing, "561", "U+ V- W+"},
		{inverter.Rows, "123", "U+ V+ W+"}, // the classic error: all high here, a field at 60 degrees there
	} {
		var g inverter.Gates
		for _, digit := range tt.numbers {
			s, err := tt.numbering.Switch(int(digit - '0'))
			if err != nil {
				t.Fatal(err)
			}
			g = g.With(s)
		}
		if g.String() != tt.want {
			t.Errorf("%s by %v is %v, want %s", tt.numbers, tt.numbering, g, tt.want)
		}
	}
}

func TestNumbersReadBack(t *testing.T) {
	for _, n := range []inverter.Numbering{inverter.Rows, inverter.Firing} {
		for _, s := range inverter.Switches {
			if back, err := n.Switch(n.Number(s)); err != nil || back != s {
				t.Errorf("%v numbers %v %d, which reads back as %v, %v", n, s, n.Number(s), back, err)
			}
		}
		for _, i := range []int{0, 7, -1} {
			if s, err := n.Switch(i); err == nil {
				t.Errorf("%v numbers %v %d", n, s, i)
			}
		}
	}
	if _, err := inverter.Names.Switch(1); err == nil || inverter.Names.Number(inverter.ULow) != 0 {
		t.Error("names have numbers")
	}
	if got := inverter.Names.Label(inverter.WLow) + inverter.Rows.Label(inverter.WLow) + inverter.Firing.Label(inverter.WLow); got != "W-62" {
		t.Errorf("W- is labelled %s", got)
	}
}

func TestSwitchesOfLegs(t *testing.T) {
	for i, s := range inverter.Switches {
		high := strings.HasSuffix(s.String(), "+")
		leg := s.Leg()
		if int(s) != i || !strings.HasPrefix(s.String(), leg.String()) || s.High() != high {
			t.Errorf("%v: leg %v, high %v", s, leg, s.High())
		}
		if s.Other().Leg() != leg || s.Other().High() == high || s.Other().Other() != s {
			t.Errorf("%v has opposite %v", s, s.Other())
		}
		if high && inverter.High(leg) != s || !high && inverter.Low(leg) != s {
			t.Errorf("%v is not found by its leg", s)
		}
	}
	g := inverter.On(inverter.UHigh, inverter.WLow)
	if g.Has(inverter.ULow) || !g.Has(inverter.WLow) || g.Without(inverter.UHigh) != inverter.On(inverter.WLow) {
		t.Errorf("%v keeps no account of its members", g)
	}
	if got := inverter.Gates(0); got.String() != "none" || got.Names() == nil || len(got.Names()) != 0 {
		t.Errorf("no gates: %v, %v", got, got.Names())
	}
}

// TestEachSwitch: any switch goes on and off by itself, whatever the other five do.
func TestEachSwitch(t *testing.T) {
	for g := range inverter.Gates(1 << 6) {
		for _, s := range inverter.Switches {
			for _, o := range inverter.Switches {
				if on, want := g.With(s).Has(o), o == s || g.Has(o); on != want {
					t.Errorf("%v with %v: %v is on %v", g, s, o, on)
				}
				if on, want := g.Without(s).Has(o), o != s && g.Has(o); on != want {
					t.Errorf("%v without %v: %v is on %v", g, s, o, on)
				}
			}
		}
	}
}

// The phases follow each other U, V, W in time and angle, which turns the shaft clockwise as seen from the
// drive end: IEC 60034-8, from memory.
func TestSequence(t *testing.T) {
	for i, p := range inverter.Phases {
		if p.Next() != inverter.Phases[(i+1)%3] || math.Abs(p.Axis()-float64(i)*2*math.Pi/3) > 1e-15 {
			t.Errorf("%v is followed by %v, its axis at %g rad", p, p.Next(), p.Axis())
		}
	}
	for i, g := range inverter.Active { // the field steps on by the same sense
		angle := g.Vector(1).Angle()
		next := inverter.Active[(i+1)%6].Vector(1).Angle()
		if step := math.Remainder(next-angle, 2*math.Pi); math.Abs(step-math.Pi/3) > 1e-12 {
			t.Errorf("from %v the field steps %g rad", g, step)
		}
	}
}

func TestNamesReadBack(t *testing.T) {
	type name interface {
		encoding.TextMarshaler
		encoding.TextUnmarshaler
	}
	for _, tt := range []struct {
		text string
		into name
	}{
		{"U", new(inverter.Phase)}, {"V", new(inverter.Phase)}, {"W", new(inverter.Phase)},
		{"U+", new(inverter.Switch)}, {"V-", new(inverter.Switch)}, {"W-", new(inverter.Switch)},
		{"names", new(inverter.Numbering)}, {"rows", new(inverter.Numbering)}, {"firing", new(inverter.Numbering)},
	} {
		if err := tt.into.UnmarshalText([]byte(tt.text)); err != nil {
			t.Errorf("%s: %v", tt.text, err)
		}
		if text, err := tt.into.MarshalText(); err != nil || string(text) != tt.text {
			t.Errorf("%s is written as %s, %v", tt.text, text, err)
		}
		for _, bad := range []string{"", "u", "X+", "row", tt.text + " "} {
			if err := tt.into.UnmarshalText([]byte(bad)); err == nil || !strings.Contains(err.Error(), `"`+bad+`"`) {
				t.Errorf("%q is read as %T: %v", bad, tt.into, err)
			}
		}
	}
	// The first behind the last of each has no name.
	for want, got := range map[string]fmt.Stringer{
		"Phase(3)": inverter.Phase(3), "Switch(6)": inverter.Switch(6), "Numbering(3)": inverter.Numbering(3), "Way(5)": inverter.Way(5),
	} {
		if got.String() != want {
			t.Errorf("an unknown value prints as %q, want %q", got, want)
		}
	}
}

func TestWays(t *testing.T) {
	for _, tt := range []struct {
		way                          inverter.Way
		upper, lower, channel, diode bool
	}{
		{inverter.Idle, false, false, false, false},
		{inverter.UpperChannel, true, false, true, false}, {inverter.UpperDiode, true, false, false, true},
		{inverter.LowerChannel, false, true, true, false}, {inverter.LowerDiode, false, true, false, true},
	} {
		w := tt.way
		if w.Upper() != tt.upper || w.Lower() != tt.lower || w.Channel() != tt.channel || w.Diode() != tt.diode {
			t.Errorf("%v: upper %v, lower %v, channel %v, diode %v", w, w.Upper(), w.Lower(), w.Channel(), w.Diode())
		}
		for word, is := range map[string]bool{"upper": tt.upper, "lower": tt.lower, "channel": tt.channel, "diode": tt.diode} {
			if strings.Contains(w.String(), word) != is {
				t.Errorf("%v misnames itself", w)
			}
		}
	}
}
