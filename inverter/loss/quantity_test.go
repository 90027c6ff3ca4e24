package loss_test

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"sextant/inverter/loss"
	"sextant/inverter/pattern"
	"sextant/inverter/si"
)

// TestQuantities: each quantity goes by its name both ways, and changes of a point itself and nothing else.
func TestQuantities(t *testing.T) {
	changed := map[loss.Quantity]float64{
		loss.Carrier: 12e3, loss.Current: 250, loss.Modulation: 0.7, loss.PowerFactor: 0.6, loss.Supply: 300, loss.Frequency: 50,
	}
	var names []string
	for q := loss.Carrier; q <= loss.Frequency; q++ {
		names = append(names, q.String())
		text, err := json.Marshal(q)
		var back loss.Quantity
		if err := json.Unmarshal(text, &back); err != nil || back != q {
			t.Errorf("%s reads %v, %v", text, back, err)
		}
		if err != nil || string(text) != `"`+q.String()+`"` {
			t.Errorf("%v is written %s, %v", q, text, err)
		}
		p := worked(pattern.SpaceVector)
		with := p.With(q, changed[q])
		for other := loss.Carrier; other <= loss.Frequency; other++ {
			want := p.Of(other)
			if other == q {
				want = changed[q]
			}
			if x := with.Of(other); math.Abs(x-want) > 1e-12*want {
				t.Errorf("with another %v, %v is %g, want %g", q, other, x, want)
			}
		}
	}
	if got := strings.Join(loss.Quantities(), " "); got != strings.Join(names, " ") {
		t.Errorf("quantities are %s, want %v", got, names)
	}
	var q loss.Quantity
	if err := q.UnmarshalText([]byte("curent")); err == nil || !strings.Contains(err.Error(), `"curent" is not a quantity to vary; quantities are carrier, current,`) {
		t.Errorf("%v", err)
	}
	if s := loss.Quantity(9).String(); s != "Quantity(9)" {
		t.Error(s)
	}
}

// TestUnits: the unit at the end of a quantity's name in JSON and CSV is that of what it is of.
func TestUnits(t *testing.T) {
	of := map[string]si.Dimension{"_hz": si.Frequency, "_a": si.Current, "_v": si.Voltage}
	for q := loss.Carrier; q <= loss.Frequency; q++ {
		want := si.Number
		for unit, d := range of {
			if strings.HasSuffix(q.Key(), unit) {
				want = d
			}
		}
		if name := strings.ReplaceAll(q.String(), "-", "_"); q.Dimension() != want || !strings.HasPrefix(q.Key(), name) || q.Label() == "" {
			t.Errorf("%v is a %v with the key %s and the label %q", q, q.Dimension(), q.Key(), q.Label())
		}
	}
}

// TestLeadStaysLead: another power factor leaves a leading current leading.
func TestLeadStaysLead(t *testing.T) {
	p := worked(pattern.SpaceVector)
	p.Lag = -0.3
	if lag := p.With(loss.PowerFactor, 0.6).Lag; math.Abs(lag+math.Acos(0.6)) > 1e-15 {
		t.Errorf("a lag of %g", lag)
	}
}

// TestNoQuantity: a value behind the last prints as a number.
func TestNoQuantity(t *testing.T) {
	n := len(loss.Quantities())
	if got, want := loss.Quantity(n).String(), fmt.Sprintf("Quantity(%d)", n); got != want {
		t.Errorf("%s, want %s", got, want)
	}
}
