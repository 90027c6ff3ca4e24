package scenario_test

import (
	"fmt"

	"sextant/motor/scenario"
)

// All that is wrong with a file is told at once, each mistake with its line.
func ExampleLoad() {
	_, err := scenario.Load("hill.toml", []byte(`title = "Down the hill"
[supply]
voltage = "350 A"
[gating]
pattern = "six-step-180"
freqency = "100 Hz"
[machine]
use = "hauler"
[shaft]
speed = 3000
[run]
measure = "20 ms"
`))
	fmt.Println(err)
	// Output:
	// hill.toml:3: supply.voltage: "350 A" is not a voltage; give volts, like "350 V"
	// hill.toml:6: gating.freqency: no such key; did you mean frequency?; allowed: pattern, follow, frequency, modulation, phase, carrier, carrier_ratio, sampling, dead_time, duty, gates, advance, chop, chop_side, id, iq, bandwidth, speed_command, speed_bandwidth, current_limit, ramp, boost
	// hill.toml:10: shaft.speed: 3000 has no unit; give turns a minute or radians a second, like "3000 rpm" or "314 rad/s"
}

// What the hand has made of a built-in scenario is written as a file, without what goes without saying.
func ExampleTOML() {
	s, err := scenario.Open("trainer-120")
	if err != nil {
		fmt.Println(err)
		return
	}
	s.Gating.Frequency = 10
	fmt.Printf("%s", scenario.TOML(s))
	// Output:
	// title = 'Trainer in six-step: two switches on, 120 degrees each'
	//
	// [supply]
	// voltage = "48 V"
	//
	// [gating]
	// pattern = "six-step-120"
	// frequency = "10 Hz"
	// phase = "99 deg"
	//
	// [machine]
	// kind = "permanent-magnet"
	// pole_pairs = 2
	// resistance = "0.4 ohm"
	// inductance_d = "1.2 mH"
	// inductance_q = "1.2 mH"
	// flux_linkage = "80 mWb"
	//
	// [shaft]
	// speed = "1200 rpm"
	//
	// [run]
	// settle = "75 ms"
	// measure = "25 ms"
}
