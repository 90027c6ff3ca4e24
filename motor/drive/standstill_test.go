package drive

import (
	"math"
	"testing"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// TestOperatingAtRest: what stands still is averaged over all of the record, the angle being where the current stands; coils turn
// at their gating's frequency, a record no longer than a turn has none, and one that has no length nothing.
func TestOperatingAtRest(t *testing.T) {
	standing := turning(machineA, pattern.SixStep180, 48, 0, 0, 1)
	coils := passive(pattern.SixStep180, 48, 1, 1e-3, 50, 1)
	record := func(f, step float64, n int) (all []Instant) {
		for k := range n {
			x := Instant{Time: 3 + float64(k)*step, Speed: 2 * math.Pi * f / 4}
			for _, p := range inverter.Phases {
				x.Phase[p] = 20 * math.Cos(2*math.Pi*f*x.Time+1-p.Axis())
				x.Current[p] = 10 * math.Cos(2*math.Pi*f*x.Time+0.7-p.Axis())
			}
			all = append(all, x)
		}
		return all
	}
	for name, tt := range map[string]struct {
		s      *Scenario
		record []Instant
		want   Operating
		ok     bool
	}{
		"standstill":              {&standing, record(0, 1e-3, 5), Operating{Current: 10, Voltage: 20, Lag: 0.3, Angle: 0.7}, true},
		"as good as a standstill": {&standing, record(0.09, 1e-9, 5), Operating{Current: 10, Voltage: 20, Lag: 0.3, Angle: math.Remainder(2*math.Pi*0.09*3+0.7, 2*math.Pi)}, true},
		"slow":                    {&standing, record(0.11, 10/0.99/100, 1001), Operating{Frequency: 0.11, Current: 10, Voltage: 20, Lag: 0.3, Angle: math.Remainder(2*math.Pi*0.11*(3+1000*10/0.99/100)+0.7, 2*math.Pi)}, true},
		"coils":                   {&coils, record(50, 1e-4, 301), Operating{Frequency: 50, Current: 10, Voltage: 20, Lag: 0.3, Angle: math.Remainder(100*math.Pi*3.03+0.7, 2*math.Pi)}, true},
		"a turn":                  {&coils, record(50, 1e-4, 202), Operating{Frequency: 50, Current: 10, Voltage: 20, Lag: 0.3, Angle: math.Remainder(100*math.Pi*3.0201+0.7, 2*math.Pi)}, true},
		"less than a turn":        {&coils, record(50, 1e-4, 200), Operating{}, false},
		"no length":               {&standing, record(0, 0, 5), Operating{}, false},
		"one instant":             {&standing, record(0, 1, 1), Operating{}, false},
	} {
		got, ok := OperatingOf(tt.record, tt.s)
		if ok != tt.ok || math.Abs(got.Frequency-tt.want.Frequency) > 1e-9 || math.Abs(got.Current-tt.want.Current) > 1e-6 ||
			math.Abs(got.Voltage-tt.want.Voltage) > 1e-6 || math.Abs(got.Lag-tt.want.Lag) > 1e-6 ||
			math.Abs(math.Remainder(got.Angle-tt.want.Angle, 2*math.Pi)) > 1e-6 {
			t.Errorf("%s: %+v, %v; want %+v, %v", name, got, ok, tt.want, tt.ok)
		}
	}
}
