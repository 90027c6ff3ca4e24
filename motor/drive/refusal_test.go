package drive_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"sextant/inverter/device"
	"sextant/inverter/file"
	"sextant/inverter/pattern"
	"sextant/motor/drive"
	"sextant/motor/scenario"
)

// sound is a scenario without a fault, each of whose lines can be put wrong.
const sound = `[supply]
voltage = 350
[gating]
pattern = "space-vector"
frequency = 100
modulation = 0.8
carrier = 8000
[machine]
pole_pairs = 4
resistance = 0.02
inductance_d = 0.0002
inductance_q = 0.0002
flux_linkage = 0.08
[shaft]
speed = "1500 rpm"
[run]
measure = 0.02
`

// TestRefusals puts one thing wrong at a time: what is said names the line, the key and the way out.
func TestRefusals(t *testing.T) {
	if _, err := scenario.Load("x.toml", []byte(sound)); err != nil {
		t.Fatal(err)
	}
	const supply, gating, machine, run = "voltage = 350", "modulation = 0.8", "pole_pairs = 4", "measure = 0.02"
	const command = "pattern = \"space-vector\"\nfrequency = 100\nmodulation = 0.8\n"
	for _, tt := range []struct{ old, new, says string }{
		{supply, supply + "\naccepts = false", "supply.accepts: a supply that takes no charge needs a link that its source does not hold by itself"},
		{supply, supply + "\ncharge_limit = 5", "supply.charge_limit: a bound on the charge needs a link"},
		{supply, supply + "\nstart_voltage = 300", "supply.start_voltage: a voltage to start from needs a link"},
		{supply, supply + "\ncapacitance = 1e-3\nresistance = 0.1\naccepts = false\ncharge_limit = 5", "supply.charge_limit: accepts = false says that there is none"},
		{"modulation = 0.8", "modulation = 2", "gating.modulation: "},
		{"carrier = 8000", "carrier = 8000\ndead_time = 1", "gating.dead_time: "},
		{"pattern = \"space-vector\"", "pattern = \"pulsed-low\"\nduty = 2", "gating.duty: "},
		{gating, gating + "\nspeed_command = \"1000 rpm\"\ncurrent_limit = 100", "gating.speed_command: a speed loop commands iq; give follow = \"current\""},
		{command, command + "follow = \"current\"\nspeed_command = \"1000 rpm\"\ncurrent_limit = 100\n", "gating.speed_command: the shaft is held; give shaft.free = true"},
		{"carrier = 8000", "carrier_ratio = 21\nfollow = \"current\"", "gating.carrier_ratio: a current command sets no frequency to multiply"},
		{"pattern = \"space-vector\"", "pattern = \"six-step-180\"\nfollow = \"current\"", "gating.follow: a current command needs a carrier pattern, like space-vector; six-step-180 is none"},
		{gating, gating + "\nfollow = \"current\"\nbandwidth = 1400", "gating.bandwidth: 1400 Hz is more than a sixth of the carrier, which samples cannot close; give 1333.3333333333333 Hz or less"},
		{"pattern = \"space-vector\"\nfrequency = 100\nmodulation = 0.8\ncarrier = 8000", "pattern = \"six-step-120\"\nfollow = \"rotor\"\nchop = 0.5", "gating.chop: chopping needs a carrier, like carrier = \"8 kHz\""},
		{gating, gating + "\nboost = 0.1", "gating.boost: goes with a ramp"},
		{gating, gating + "\nramp = 25\nfollow = \"current\"", "gating.ramp: only a clock ramps its frequency"},
		{command, "pattern = \"six-step-180\"\nfrequency = 100\nramp = 25\n", "gating.ramp: needs a carrier pattern"},
		{gating, gating + "\nramp = 25\nboost = 1.2", "gating.boost: 1.2 is out of range; give 0 to 1.155"},
		{machine, machine + "\nemf = \"trapezoid\"\nconnection = \"delta\"", "machine.emf: trapezoidal windings in delta drive a current around themselves"},
		{"inductance_q = 0.0002", "inductance_q = 0.0003\nemf = \"trapezoid\"", "machine.emf: a trapezoid goes with equal inductance_d and inductance_q"},
		{run, run + "\ninitial_currents = [1, -1, 0.5]", "run.initial_currents: they sum to 0.5 A; the star point is isolated"},
		{"[run]", "[[fault]]\nkind = \"phase-open\"\nat = \"U\"\ntime = 0.01\nuntil = 0.01\n[run]", "fault.until: 0.01 s is not after the fault's time, 0.01 s"},
	} {
		text := strings.Replace(sound, tt.old, tt.new, 1)
		_, err := scenario.Load("x.toml", []byte(text))
		if wrongs := (file.Findings{}); text == sound || !errors.As(err, &wrongs) || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s\n got %v\nwant %s", tt.new, err, tt.says)
		}
	}
}

// TestScenarioRefused: a scenario that no file made is held to the same, and to what no file can say.
func TestScenarioRefused(t *testing.T) {
	good, err := scenario.Load("x.toml", []byte(sound))
	if err != nil {
		t.Fatal(err)
	}
	nan := math.NaN()
	for key, change := range map[string]func(*drive.Scenario){
		"supply.voltage":           func(s *drive.Scenario) { s.Supply.Voltage = nan },
		"gating.advance":           func(s *drive.Scenario) { s.Gating.Advance = math.Inf(1) },
		"gating.frequency":         func(s *drive.Scenario) { s.Gating.Frequency = nan },
		"gating.phase":             func(s *drive.Scenario) { s.Gating.Phase = math.Inf(1) },
		"machine.flux_linkage":     func(s *drive.Scenario) { s.Machine.FluxLinkage = nan },
		"shaft.speed":              func(s *drive.Scenario) { s.Shaft.Speed = math.Inf(-1) },
		"switches.diode_threshold": func(s *drive.Scenario) { s.Switches.DiodeThreshold = -1 },
		"switches.use":             func(s *drive.Scenario) { s.Switches.Device = &device.Device{} },
		"switches.temperature":     func(s *drive.Scenario) { s.Switches.Fixed = true },
		"switches.sink":            func(s *drive.Scenario) { s.Switches.Sink = 65 },
		"run.initial_currents":     func(s *drive.Scenario) { s.Run.InitialCurrents[1] = nan },
		"run.measure":              func(s *drive.Scenario) { s.Run.Measure = 1e9 },
	} {
		s := good
		change(&s)
		var wrong *drive.KeyError
		if err := s.Validate(); !errors.As(err, &wrong) || wrong.Key != key {
			t.Errorf("%s: %v", key, err)
		}
		if d, err := drive.New(s); err == nil || d != nil {
			t.Errorf("%s: there is a drive all the same", key)
		}
		d, err := drive.New(good)
		if err != nil {
			t.Fatal(err)
		}
		if err := d.Advance(1e-3); err != nil {
			t.Fatal(err)
		}
		if err := d.Change(s); err == nil || d.Scenario().Title != good.Title {
			t.Errorf("%s: a running drive changes to it", key)
		}
	}
}

// TestNoSuchStep: time goes on by a number of seconds, and a hand turns the rotor by a number of radians.
func TestNoSuchStep(t *testing.T) {
	s, err := scenario.Load("x.toml", []byte(sound))
	if err != nil {
		t.Fatal(err)
	}
	d, err := drive.New(s)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range []float64{-1e-9, math.NaN(), math.Inf(1)} {
		if err := d.Advance(x); err == nil || d.Time() != 0 {
			t.Errorf("advances by %g s to %g s", x, d.Time())
		}
	}
	for _, x := range []float64{math.NaN(), math.Inf(-1)} {
		if err := d.Turn(x); err == nil {
			t.Errorf("turns by %g rad", x)
		}
	}
	if err := d.Advance(0); err != nil {
		t.Error(err)
	}
}

// TestMostEvents: a leg switches twice a carrier period, and twelve edges a turn are allowed for steps and clamping; a run
// may have 1e9 of them, settling and measuring together. A rotor drives the diodes and sensors as often as a clock the gates,
// and where nothing happens a stride of 0.1 s counts as an event.
func TestMostEvents(t *testing.T) {
	for _, tt := range []struct {
		name   string
		set    func(*drive.Scenario)
		second float64 // events in one
	}{
		{"carrier", func(*drive.Scenario) {}, 6*8000 + 12*100},
		{"carrier ratio", func(s *drive.Scenario) { s.Gating.Carrier, s.Gating.CarrierRatio = 0, 21 }, (6*21 + 12) * 100},
		{"steps", func(s *drive.Scenario) { s.Gating.Kind = pattern.SixStep180; s.Shaft.Speed = 0 }, 12 * 100},
		{"diodes", func(s *drive.Scenario) { s.Gating = drive.Gating{Settings: pattern.Settings{Kind: pattern.AllOff}} }, 12 * 100},
		{"rest", func(s *drive.Scenario) {
			s.Gating, s.Shaft.Speed = drive.Gating{Settings: pattern.Settings{Kind: pattern.AllLow}}, 0
		}, 10},
	} {
		s, err := scenario.Load("x.toml", []byte(sound))
		if err != nil {
			t.Fatal(err)
		}
		tt.set(&s)
		longest := drive.MostEvents / tt.second
		for share, ok := range map[float64]bool{0.99: true, 1.01: false} {
			s.Run.Settle, s.Run.Measure = 0.7*share*longest, 0.3*share*longest
			if err := s.Validate(); (err == nil) != ok {
				t.Errorf("%s for %g s: %v", tt.name, share*longest, err)
			}
		}
	}
}

// TestStrides: all runs of a simulation take from the strides that are left, the run that finds a free rotor's speed and
// those that warm the junctions among them; with one too few it ends.
func TestStrides(t *testing.T) {
	for _, name := range []string{"trainer-start", "hauler-igbt"} {
		s := open(t, name)
		free, err := drive.Simulate(s)
		if err != nil {
			t.Fatal(err)
		}
		const many = 1 << 40
		left := many
		sum, err := drive.Simulation{Scenario: s, Strides: &left}.Run()
		if err != nil || sum.Events != free.Events || sum.Supply != free.Supply {
			t.Fatalf("%s: %v, %+v, unbounded %+v", name, err, sum, free)
		}
		took := many - left
		if took < 2*sum.Events { // the summary is of the last run
			t.Errorf("%s: %d strides for %d events, and runs before", name, took, sum.Events)
		}
		for short, want := range []error{nil, drive.ErrStrides} {
			left = took - short
			if _, err := (drive.Simulation{Scenario: s, Strides: &left}).Run(); !errors.Is(err, want) {
				t.Errorf("%s with %d of %d strides: %v", name, took-short, took, err)
			}
		}
	}
}
