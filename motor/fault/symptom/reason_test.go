package symptom

import (
	"math"
	"testing"

	"sextant/motor/drive"
)

// What the texts on faults of three-phase drives say of the signs, now as rules of the table: a shorted switch reads
// short on the diode test (common practice), an open phase reads nothing on one clamp and open on the ohmmeter, an
// open switch leaves a mean current (Rothenhagen & Fuchs, 2004, from memory) and hums at the electrical frequency.
func TestReasoning(t *testing.T) {
	chart, err := NewChart(builtIn(t, "hauler-climb"))
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		signs []string
		want  []string // any of them, as a meter and an ear cannot tell them apart
	}{
		{[]string{"hums-wont-start", "one-clamp-zero", "leads-open"}, []string{"phase-open"}},
		{[]string{"trips", "diode-short"}, []string{"switch-short"}},
		{[]string{"mean-current", "hums-at-1f", "one-leg-hot", "hums-wont-start"}, []string{"switch-open", "gate-stuck-off"}},
		{[]string{"link-low"}, []string{"supply-sag"}},
		{[]string{"stalls", "never-starts"}, []string{"shaft-blocked"}},
		{[]string{"leads-unequal", "hums-at-2f"}, []string{"phase-resistance"}},
		{[]string{"winding-hot", "clamps-unequal", "hums-at-2f"}, []string{"turns-shorted"}},
	} {
		var seen []Observation
		for _, key := range tt.signs {
			s, err := FindSign(key)
			if err != nil {
				t.Fatal(err)
			}
			seen = append(seen, Observation{s, true})
		}
		ranked := chart.Rank(seen)
		right := false
		for _, w := range tt.want {
			right = right || ranked[0].Fault == w
		}
		if !right {
			t.Errorf("%v: %s at %.2f, want %v", tt.signs, ranked[0].Fault, ranked[0].Probability, tt.want)
		}
		sum := 0.0
		for _, x := range ranked {
			sum += x.Probability
		}
		if math.Abs(sum-1) > 1e-12 {
			t.Errorf("%v: probabilities sum to %g", tt.signs, sum)
		}
		next := chart.Next(seen)
		if len(next) != len(Signs)-len(seen) || next[0].Bits < next[len(next)-1].Bits {
			t.Errorf("%v: further observations are out of order", tt.signs)
		}
		for _, q := range next {
			if h := entropy(ranked); q.Bits > math.Min(1, h)+1e-9 {
				t.Errorf("%s tells %g bits, more than a yes or no can, or than is unknown (%g)", q.Key, q.Bits, h)
			}
		}
	}
	for _, r := range chart.Rows {
		if r.As.Kind == drive.PositionSensorStuck && r.Hidden == "" {
			t.Error("a stuck position sensor shows under current control")
		}
	}
}
