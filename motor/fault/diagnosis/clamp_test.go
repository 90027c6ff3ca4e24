package diagnosis_test

import (
	"math"
	"strings"
	"testing"

	"sextant/inverter"
	"sextant/motor/fault/capture"
	"sextant/motor/fault/diagnosis"
)

func noted(r diagnosis.Report, text string) bool {
	return strings.Contains(strings.Join(r.Notes, "\n"), text)
}

// changed returns c with each sample changed by f.
func changed(c capture.Capture, f func(inverter.ABC) inverter.ABC) capture.Capture {
	out := c
	out.Current = make([]inverter.ABC, c.Len())
	for k, i := range c.Current {
		out.Current[k] = f(i)
	}
	return out
}

// TestBackwardClamp: by Kirchhoff's law three wires' currents sum to none, so that three records tell which one
// has its sign turned, whatever the drive's fault. A record that sums to none is left as it is.
func TestBackwardClamp(t *testing.T) {
	healthy := fromPhasors(4, balanced(false), inverter.ABC{})
	var pair [3]complex128
	pair[1], pair[2] = 10, -10
	lost := fromPhasors(4, pair, inverter.ABC{})
	// One half-wave of U is missing and the others make up for it.
	half := changed(healthy, func(i inverter.ABC) inverter.ABC {
		cut := max(i[0], 0)
		return inverter.ABC{i[0] - cut, i[1] + cut/2, i[2] + cut/2}
	})
	for _, tt := range []struct {
		c     capture.Capture
		fault diagnosis.Fault
		at    string
		who   []inverter.Phase
	}{
		{healthy, diagnosis.Healthy, "", inverter.Phases[:]},
		{half, diagnosis.SwitchOpen, "U+", inverter.Phases[:]},
		{lost, diagnosis.PhaseOpen, "U", []inverter.Phase{inverter.V, inverter.W}},
	} {
		if r := expect(t, tt.c, tt.fault, tt.at); noted(r, "wrong way round") {
			t.Errorf("%s: %q", tt.fault, r.Notes)
		}
		for _, p := range tt.who {
			c := changed(tt.c, func(i inverter.ABC) inverter.ABC { i[p] = -i[p]; return i })
			r := expect(t, c, tt.fault, tt.at)
			if tt.fault != diagnosis.PhaseOpen && !noted(r, "the clamp of phase "+p.String()+" sits the wrong way round") {
				t.Errorf("%s, %v turned: %q", tt.fault, p, r.Notes)
			}
			if !strings.Contains(r.Next[0], "turn the clamp of phase") {
				t.Errorf("%s, %v turned: first %q", tt.fault, p, r.Next[0])
			}
		}
	}
}

// TestBackwardOfTwo: two records do not tell a turned clamp from a fault, so that neither is claimed.
func TestBackwardOfTwo(t *testing.T) {
	c := changed(fromPhasors(4, balanced(false), inverter.ABC{}), func(i inverter.ABC) inverter.ABC {
		i[1] = -i[1]
		i[2] = -i[0] - i[1]
		return i
	})
	c.Derived, c.Third = true, inverter.W
	if r := expect(t, c, diagnosis.Unclear, ""); !strings.Contains(r.Because, "the sign of U or V turned") {
		t.Error(r.Because)
	}
}

// TestMisplaced: records that three wires cannot make are said to be none, whatever they resemble.
func TestMisplaced(t *testing.T) {
	healthy := fromPhasors(4, balanced(false), inverter.ABC{})
	twice := changed(healthy, func(i inverter.ABC) inverter.ABC { i[2] = 1.01 * i[1]; return i })
	if r := expect(t, twice, diagnosis.Unclear, ""); !strings.Contains(r.Because, "V and W show one and the same current") {
		t.Error(r.Because)
	}
	rectified := changed(healthy, func(i inverter.ABC) inverter.ABC {
		return inverter.ABC{math.Abs(i[0]), math.Abs(i[1]), math.Abs(i[2])}
	})
	if r := expect(t, rectified, diagnosis.Unclear, ""); !strings.Contains(r.Because, "ever below zero") {
		t.Error(r.Because)
	}
}

// TestSlowRecorder: a sine sampled less than twice a period looks like a slower one, so that few samples a turn
// are no ground for a verdict.
func TestSlowRecorder(t *testing.T) {
	const hz = 50.0
	c := capture.Capture{}
	for k := range 200 {
		at := 0.8 / hz * float64(k) // 1.25 samples a turn: a false frequency of 12.5 Hz, five samples a turn of it
		var x inverter.ABC
		for p := range x {
			x[p] = 10 * math.Cos(2*math.Pi*hz*at-inverter.Phase(p).Axis())
		}
		c.Time, c.Current = append(c.Time, at), append(c.Current, x)
	}
	if r := expect(t, c, diagnosis.Unclear, ""); !strings.Contains(r.Because, "5 samples a turn") {
		t.Error(r.Because)
	}
}

// TestClipped: peaks cut off at 80 % are held for arccos(0.8)/π of a turn, 20.5 %. Coarse steps hold a sine's top,
// too, and a leg without one half-wave its zero; neither is a range's end.
func TestClipped(t *testing.T) {
	healthy := fromPhasors(4, balanced(false), inverter.ABC{})
	cut := changed(healthy, func(i inverter.ABC) inverter.ABC {
		for p := range i {
			i[p] = max(-8, min(8, i[p]))
		}
		return i
	})
	r := diagnosis.Diagnose(&cut, nil)
	for _, p := range inverter.Phases {
		// A hundred samples a turn tell the time to one in a hundred.
		if !noted(r, "phase "+p.String()+" stands at 8 A for 20 %") && !noted(r, "phase "+p.String()+" stands at 8 A for 21 %") {
			t.Errorf("%v: %q", p, r.Notes)
		}
	}
	coarse := changed(healthy, func(i inverter.ABC) inverter.ABC {
		for p := range i {
			i[p] = 2 * math.Round(i[p]/2)
		}
		return i
	})
	half := changed(healthy, func(i inverter.ABC) inverter.ABC {
		lost := max(i[0], 0)
		return inverter.ABC{i[0] - lost, i[1] + lost/2, i[2] + lost/2}
	})
	for _, c := range []capture.Capture{healthy, coarse, half} {
		if r := diagnosis.Diagnose(&c, nil); noted(r, "range ends") {
			t.Errorf("%q", r.Notes)
		}
	}
}

// TestCoupled: an open switch recorded without its direct part is not named, but the reason is.
func TestCoupled(t *testing.T) {
	half := changed(fromPhasors(4, balanced(false), inverter.ABC{}), func(i inverter.ABC) inverter.ABC {
		lost := max(i[0], 0)
		return inverter.ABC{i[0] - lost, i[1] + lost/2, i[2] + lost/2}
	})
	mean := 10 / math.Pi // of a half-wave
	coupled := changed(half, func(i inverter.ABC) inverter.ABC {
		return inverter.ABC{i[0] + mean, i[1] - mean/2, i[2] - mean/2}
	})
	expect(t, half, diagnosis.SwitchOpen, "U+")
	if r := expect(t, coupled, diagnosis.Unclear, ""); !strings.Contains(r.Because, "alternating current only") {
		t.Error(r.Because)
	}
}

// TestChopped: a second harmonic turning with the field, in currents otherwise alike, is what chopping by one side
// leaves; it is no reason to blame a clamp for it.
func TestChopped(t *testing.T) {
	second := fromPhasors(8, balanced(false), inverter.ABC{})
	c := fromPhasors(4, balanced(false), inverter.ABC{})
	for k := range c.Current {
		for p := range c.Current[k] {
			c.Current[k][p] += 0.15 * second.Current[2*k][p] // 2k is twice the angle
		}
	}
	if r := expect(t, c, diagnosis.Unclear, ""); !strings.Contains(r.Because, "chops only its upper or only its lower switches") {
		t.Error(r.Because)
	}
}

// TestSwingingField: with a phase open the field swings along a line, so that there is no sense of turning to
// speak of.
func TestSwingingField(t *testing.T) {
	var pair [3]complex128
	pair[0], pair[1] = 10, -10
	if r := expect(t, fromPhasors(4, pair, inverter.ABC{}), diagnosis.PhaseOpen, "W"); noted(r, "turns backwards") {
		t.Errorf("%q", r.Notes)
	}
	if r := expect(t, fromPhasors(4, balanced(true), inverter.ABC{}), diagnosis.Healthy, ""); !noted(r, "turns backwards") {
		t.Errorf("%q", r.Notes)
	}
}
