package drive

import (
	"strings"
	"testing"

	"sextant/inverter/pattern"
)

// What makes the heat of a device doubtful is told, each for itself, and nothing where nothing does.
func TestDoubts(t *testing.T) {
	sc := sinusoidal(pattern.SpaceVector, 0.85)
	sc.Switches = using(t, "sic-750")
	d := sc.Switches.Device
	at := func(temperature float64) Switches { return sc.Switches.at(junction{temperature, temperature}) }
	taken := func(temperature float64) float64 { // A, at which a diode begins to take a part
		x := at(temperature)
		return (x.DiodeThreshold - x.ChannelThreshold) / x.ChannelResistance
	}
	limit := min(d.Heat.Limit, d.Hottest())
	const below, above = 0.999, 1.001
	for _, tt := range []struct {
		supply, peak, junction float64
		says                   []string
	}{
		{d.Voltage, min(d.Current, taken(100)*below), 100, nil},
		{d.Voltage * above, 1, 100, []string{"above the device's rated"}},
		{350, d.Current * above, 25, []string{"the current's peak of"}},
		{350, 1, limit, nil},
		{350, 1, d.Heat.Limit * above, []string{"above its limit"}},
		{350, 1, d.Hottest() * above, []string{"beyond the device's data"}},
		{350, taken(100) * above, 100, []string{"a diode would take a part"}},
		{350, min(taken(150), d.Current) * below, 150, nil},
	} {
		sc.Supply.Voltage = tt.supply
		sum := Summary{To: 3, Phases: make([]PhaseSummary, 3), Device: &DeviceSummary{Junction: tt.junction}}
		sum.Phases[2].CurrentPeak = tt.peak
		sum.doubt(&sc)
		for what, sure := range map[string]bool{
			"V is above the device's rated": tt.supply > d.Voltage,
			"the current's peak of":         tt.peak > d.Current,
			"above its limit":               tt.junction > d.Heat.Limit,
			"beyond the device's data":      tt.junction > d.Hottest(),
			"a diode would take a part":     tt.peak > taken(tt.junction),
		} {
			told := 0
			for _, n := range sum.Notices {
				if strings.Contains(n.Text, what) && n.Time == 3 {
					told++
				}
			}
			if (told == 1) != sure || told > 1 {
				t.Errorf("%g V, %g A, %g C: %q is told %d times: %v", tt.supply, tt.peak, tt.junction, what, told, sum.Notices)
			}
		}
		if (len(sum.Notices) == 0) != (tt.says == nil) {
			t.Errorf("%g V, %g A, %g C: %v, want %v", tt.supply, tt.peak, tt.junction, sum.Notices, tt.says)
		}
	}
	unipolar := sc
	unipolar.Switches = using(t, "igbt-750")
	unipolar.Supply.Voltage = 350
	sum := Summary{Phases: []PhaseSummary{{CurrentPeak: unipolar.Switches.Device.Current}}, Device: &DeviceSummary{Junction: 100}}
	if sum.doubt(&unipolar); sum.Notices != nil {
		t.Errorf("channels that conduct one way are told to share: %v", sum.Notices)
	}
}
