package picture

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor/drive"
)

func TestMomentsRead(t *testing.T) {
	for text, want := range map[string]string{
		"12ms": "12 ms", "settled": "settled", "start": "0 s", "end": "end", "event 12": "event 12", "event": "event",
		"event 1": "event", "commutation": "commutation", "fault": "fault", "fault 2 +2ms": "fault 2 +2 ms", "fault+2ms": "fault +2 ms",
		"trip": "trip", "U+ on": "U+ on", "U- off 3": "U- off 3", "W+ on +1us": "W+ on +1 us", "diode V-": "diode V-",
		"zero U 2": "zero U 2", " settled ": "settled", "settled + 5 ms": "settled +5 ms",
	} {
		var m, again Moment
		if err := m.UnmarshalText([]byte(text)); err != nil || strings.ReplaceAll(m.String(), "µ", "u") != want {
			t.Errorf("%q reads as %v, %v; want %s", text, m, err, want)
		}
		if err := again.UnmarshalText([]byte(m.String())); err != nil || again != m {
			t.Errorf("%v reads back as %v, %v", m, again, err)
		}
	}
	for _, bad := range []string{"", "soon", "event x", "event 0", "event -1", "X+ on", "U on", "diode", "diode U", "zero", "zero U+", "fault 1 2", "settled 2", "trip 2", "fault +2V", "+2ms +"} {
		m := Moment{what: trip}
		if err := m.UnmarshalText([]byte(bad)); err == nil || m.what != trip {
			t.Errorf("%q reads as %v", bad, m)
		}
	}
}

func moment(t *testing.T, s drive.Scenario, text string) (float64, error) {
	t.Helper()
	var m Moment
	if err := m.UnmarshalText([]byte(text)); err != nil {
		t.Fatal(err)
	}
	return m.Time(&s)
}

// Six-step of 50 Hz at phase 0 switches every sixth of 20 ms, first a twelfth of it after t = 0, where V+ V- change
// over; U follows a quarter after 0 and three quarters after.
func TestMomentsOfSixStep(t *testing.T) {
	s := coils()
	s.Run = drive.Window{Settle: 0.02, Measure: 0.02}
	for text, want := range map[string]float64{
		"start": 0, "settled": 0.02, "end": 0.04, "settled +1ms": 0.021,
		"U+ off": 0.02 + 0.02/4, "U- on": 0.02 + 0.02/4, "U+ on": 0.02 + 0.02*3/4, "U+ on 2": 0.02 + 0.02*7/4,
		"U+ off +3ms": 0.02 + 0.02/4 + 0.003,
	} {
		got, err := moment(t, s, text)
		if err != nil || !scalar.EqualWithinAbs(got, want, 1e-12) {
			t.Errorf("%s is at %.9g s, %v; want %.9g", text, got, err, want)
		}
	}
	gates := map[string]bool{}
	for text, has := range map[string]bool{"U+ on": true, "U+ off": false} {
		at, err := moment(t, s, text)
		if err != nil {
			t.Fatal(err)
		}
		v, err := At(s, at)
		if err != nil {
			t.Fatal(err)
		}
		gates[text] = v.Now.Gates.Has(inverter.UHigh)
		if gates[text] != has {
			t.Errorf("at %s %v are on", text, v.Now.Gates)
		}
	}
	// Into coils the current of the leg that has changed goes on by the diode of the switch now on, until it turns round.
	s.Switches.DiodeThreshold = 0.7
	s.Switches.ChannelThreshold = 0.7
	change, err := moment(t, s, "U+ off")
	if err != nil {
		t.Fatal(err)
	}
	diode, err := moment(t, s, "diode U-")
	if err != nil || !scalar.EqualWithinAbs(diode, change, 1e-9) {
		t.Errorf("the diode takes over at %g s, %v; want %g", diode, err, change)
	}
	turns, err := moment(t, s, "zero U")
	if err != nil || turns <= change {
		t.Fatalf("the current turns round at %g s, %v", turns, err)
	}
	v, err := At(s, turns)
	if err != nil || math.Abs(v.Now.Current[inverter.U]) > 1e-6 {
		t.Errorf("there it is %g A, %v", v.Now.Current[inverter.U], err)
	}
}

func TestMomentsOfFaults(t *testing.T) {
	s := coils()
	s.Faults = []drive.Fault{
		{Kind: drive.PhaseOpen, Phase: inverter.V, Time: 0.004},
		{Kind: drive.SwitchShort, Switch: inverter.UHigh, Time: 0.011},
	}
	for text, want := range map[string]float64{"fault": 0.004, "fault 2": 0.011, "fault +1ms": 0.005} {
		if got, err := moment(t, s, text); err != nil || !scalar.EqualWithinAbs(got, want, 1e-12) {
			t.Errorf("%s is at %g s, %v; want %g", text, got, err, want)
		}
	}
	v, err := At(s, 0.0040001)
	if err != nil || v.Now.Current[inverter.V] != 0 {
		t.Errorf("V carries %g A after its lead has broken, %v", v.Now.Current[inverter.V], err)
	}
	// U- comes on a quarter of 20 ms and then each 20 ms after: the next after 11 ms is at 25 ms, while U+ is shorted; but
	// U- is on already at 11 ms, so that the short trips at once.
	if got, err := moment(t, s, "trip"); err != nil || !scalar.EqualWithinAbs(got, 0.011, 1e-9) {
		t.Errorf("trips at %g s, %v", got, err)
	}
	for text, says := range map[string]string{"fault 3": "there is no fault 3: the scenario has 2 faults", "event 100000": "there is no event 100000 up to"} {
		if _, err := moment(t, s, text); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v", text, err)
		}
	}
	whole := coils()
	if _, err := moment(t, whole, "trip"); err == nil || !strings.Contains(err.Error(), "there is no trip up to") {
		t.Errorf("%v", err)
	}
	bad := coils()
	bad.Gating.Kind = pattern.ByHand
	bad.Gating.Hand = inverter.On(inverter.UHigh, inverter.ULow)
	if _, err := moment(t, bad, "event"); err == nil {
		t.Error("a drive that cannot run has moments")
	}
}
