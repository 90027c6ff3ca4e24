package drive_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"sextant/inverter/device"
	"sextant/inverter/pattern"
	"sextant/motor/drive"
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
	if _, err := drive.Load("x.toml", []byte(sound)); err != nil {
		t.Fatal(err)
	}
	const supply, gating, machine, shaft, run = "voltage = 350", "modulation = 0.8", "pole_pairs = 4", `speed = "1500 rpm"`, "measure = 0.02"
	const command = "pattern = \"space-vector\"\nfrequency = 100\nmodulation = 0.8\n"
	for _, tt := range []struct{ old, new, says string }{
		{supply, supply + "\naccepts = false", "x.toml:3: supply.accepts: a supply that takes no charge needs a link that its source does not hold by itself"},
		{supply, supply + "\ncharge_limit = 5", "x.toml:3: supply.charge_limit: a bound on the charge needs a link"},
		{supply, supply + "\nstart_voltage = 300", "x.toml:3: supply.start_voltage: a voltage to start from needs a link"},
		{supply, supply + "\ncapacitance = 1e-3\nresistance = 0.1\naccepts = false\ncharge_limit = 5", "x.toml:6: supply.charge_limit: accepts = false says that there is none"},
		{"modulation = 0.8", "modulation = 2", "x.toml:6: gating.modulation: "},
		{"carrier = 8000", "carrier = 8000\ndead_time = 1", "x.toml:8: gating.dead_time: "},
		{"pattern = \"space-vector\"", "pattern = \"pulsed-low\"\nduty = 2", "x.toml:5: gating.duty: "},
		{gating, gating + "\nspeed_command = \"1000 rpm\"\ncurrent_limit = 100", "x.toml:7: gating.speed_command: a speed loop commands iq; give follow = \"current\""},
		{command, command + "follow = \"current\"\nspeed_command = \"1000 rpm\"\ncurrent_limit = 100\n", "gating.speed_command: the shaft is held; give shaft.free = true"},
		{"carrier = 8000", "carrier_ratio = 21\nfollow = \"current\"", "x.toml:7: gating.carrier_ratio: a current command sets no frequency to multiply"},
		{"pattern = \"space-vector\"", "pattern = \"six-step-180\"\nfollow = \"current\"", "x.toml:5: gating.follow: a current command needs a carrier pattern, like space-vector; six-step-180 is none"},
		{gating, gating + "\nfollow = \"current\"\nbandwidth = 1400", "gating.bandwidth: 1400 Hz is more than a sixth of the carrier, which samples cannot close; give 1333.3333333333333 Hz or less"},
		{"pattern = \"space-vector\"\nfrequency = 100\nmodulation = 0.8\ncarrier = 8000", "pattern = \"six-step-120\"\nfollow = \"rotor\"\nchop = 0.5", "gating.chop: chopping needs a carrier, like carrier = \"8 kHz\""},
		{gating, gating + "\nboost = 0.1", "x.toml:7: gating.boost: goes with a ramp"},
		{gating, gating + "\nramp = 25\nfollow = \"current\"", "x.toml:7: gating.ramp: only a clock ramps its frequency"},
		{command, "pattern = \"six-step-180\"\nfrequency = 100\nramp = 25\n", "x.toml:6: gating.ramp: needs a carrier pattern"},
		{gating, gating + "\nramp = 25\nboost = 1.2", "x.toml:8: gating.boost: 1.2 is out of range; give 0 to 1.155"},
		{machine, machine + "\nemf = \"trapezoid\"\nconnection = \"delta\"", "x.toml:10: machine.emf: trapezoidal windings in delta drive a current around themselves"},
		{"inductance_q = 0.0002", "inductance_q = 0.0003\nemf = \"trapezoid\"", "x.toml:13: machine.emf: a trapezoid goes with equal inductance_d and inductance_q"},
		{"inductance_q = 0.0002", "inductance = 0.0002", "machine.inductance"},
		{machine, machine + "\nuse = 3", "x.toml:10: machine.use: 3 is not a machine; give a name or a file, in quotes"},
		{"[run]", "[switches]\nuse = \"\"\n[run]", "x.toml:17: switches.use: is empty; give the name or the file of a device"},
		{run, run + "\ninitial_currents = [1, -1]", "x.toml:18: run.initial_currents: a list of 2 is not a list of three; give one current for each of U, V, W"},
		{run, run + "\ninitial_currents = [1, -1, 0.5]", "x.toml:18: run.initial_currents: they sum to 0.5 A; the star point is isolated"},
		{gating, gating + "\ngates = \"U+\"", "x.toml:7: gating.gates: \"U+\" is not a list of switches; give one like"},
		{gating, gating + "\ngates = [1]", "x.toml:7: gating.gates: 1 is not a switch; switches are U+ U- V+ V- W+ W-"},
		{gating, gating + "\ngates = [\"U+\", \"U+\"]", "x.toml:7: gating.gates: U+ stands twice; name each switch once"},
		{"[run]", "[[fault]]\nkind = \"switch-open\"\nat = 3\n[run]", "x.toml:18: fault.at: 3 is neither a phase, like \"U\", nor a switch, like \"U+\""},
		{"[run]", "[[fault]]\nkind = \"supply-sag\"\nat = \"U\"\nvalue = 300\n[run]", "x.toml:18: fault.at: supply-sag is of the whole drive; leave it out"},
		{"[run]", "[[fault]]\nkind = \"phase-resistance\"\nat = \"U\"\n[run]", "fault.value: is missing; phase-resistance takes one"},
		{"[run]", "[[fault]]\nkind = \"phase-open\"\nat = \"U\"\ntime = 0.01\nuntil = 0.01\n[run]", "x.toml:20: fault.until: 0.01 s is not after the fault's time, 0.01 s"},
	} {
		text := strings.Replace(sound, tt.old, tt.new, 1)
		_, err := drive.Load("x.toml", []byte(text))
		if findings := (drive.Findings{}); text == sound || !errors.As(err, &findings) || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s\n got %v\nwant %s", tt.new, err, tt.says)
		}
	}
}

// TestMissing leaves out one thing at a time: that is missed, and nothing else.
func TestMissing(t *testing.T) {
	const coils = "[supply]\nvoltage = 350\n[gating]\npattern = \"six-step-180\"\nfrequency = 100\n[machine]\nkind = \"passive\"\nresistance = 5\ninductance = 0.02\n[run]\nmeasure = 0.02\n"
	for _, tt := range []struct{ text, without, says string }{
		{sound, "voltage = 350\n", "x.toml:1: supply.voltage: is missing; give volts"},
		{sound, "pattern = \"space-vector\"\n", "x.toml:3: gating.pattern: is missing; give one of"},
		{sound, "frequency = 100\n", "x.toml:3: gating.frequency: is missing; give hertz"},
		{sound, "modulation = 0.8\n", "x.toml:3: gating.modulation: is missing; give 0 to 4/pi"},
		{sound, "pole_pairs = 4\n", "x.toml:8: machine.pole_pairs: is missing; give a whole number"},
		{sound, "resistance = 0.02\n", "x.toml:8: machine.resistance: is missing; give ohms"},
		{sound, "inductance_d = 0.0002\n", "x.toml:8: machine.inductance_d: is missing; give henries"},
		{sound, "inductance_q = 0.0002\n", "x.toml:8: machine.inductance_q: is missing; give henries"},
		{sound, "flux_linkage = 0.08\n", "x.toml:8: machine.flux_linkage: is missing; give webers"},
		{sound, "speed = \"1500 rpm\"\n", "x.toml:14: shaft.speed: is missing; give the speed that the shaft is held at"},
		{sound, "measure = 0.02\n", "x.toml:16: run.measure: is missing; give seconds"},
		{coils, "inductance = 0.02\n", "x.toml:6: machine.inductance: is missing; give henries"},
		{coils, "resistance = 5\n", "x.toml:6: machine.resistance: is missing; give ohms"},
	} {
		text := strings.Replace(tt.text, tt.without, "", 1)
		_, err := drive.Load("x.toml", []byte(text))
		if findings := (drive.Findings{}); text == tt.text || !errors.As(err, &findings) || len(findings) != 1 || !strings.HasPrefix(err.Error(), tt.says) {
			t.Errorf("without %s\n got %v\nwant %s", tt.without, err, tt.says)
		}
	}
	if _, err := drive.Load("x.toml", []byte(coils)); err != nil {
		t.Error(err)
	}
}

// TestRefusalsTogether: of one section's mistakes none hides another.
func TestRefusalsTogether(t *testing.T) {
	text := strings.NewReplacer("modulation = 0.8", "modulation = 2", "carrier = 8000", "carrier = -1\ndead_time = \"-1 us\"").Replace(sound)
	_, err := drive.Load("x.toml", []byte(text))
	var findings drive.Findings
	if !errors.As(err, &findings) {
		t.Fatal(err)
	}
	var keys []string
	for _, f := range findings {
		keys = append(keys, f.Key)
	}
	if got := strings.Join(keys, " "); got != "gating.modulation gating.carrier gating.dead_time" {
		t.Errorf("found are %s: %v", got, err)
	}
}

// TestScenarioRefused: a scenario that no file made is held to the same, and to what no file can say.
func TestScenarioRefused(t *testing.T) {
	good, err := drive.Load("x.toml", []byte(sound))
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
		var finding *drive.Finding
		if err := s.Validate(); !errors.As(err, &finding) || finding.Key != key || finding.File != "" {
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
	s, err := drive.Load("x.toml", []byte(sound))
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

// TestFaultWritten: a fault that ends is written with its end.
func TestFaultWritten(t *testing.T) {
	text := strings.Replace(sound, "[run]", "[[fault]]\nkind = \"phase-open\"\nat = \"V\"\ntime = \"1 ms\"\nuntil = \"4 ms\"\n[run]", 1)
	s, err := drive.Load("x.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	back, err := drive.Load("y.toml", s.TOML())
	if err != nil || len(back.Faults) != 1 || back.Faults[0] != s.Faults[0] || back.Faults[0].Until != 4e-3 {
		t.Errorf("%+v, %v, from\n%s", back.Faults, err, s.TOML())
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
		s, err := drive.Load("x.toml", []byte(sound))
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
		s, err := drive.Open(name)
		if err != nil {
			t.Fatal(err)
		}
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
		if took < sum.Events {
			t.Errorf("%s: %d strides for %d events", name, took, sum.Events)
		}
		for short, want := range []error{nil, drive.ErrStrides} {
			left = took - short
			if _, err := (drive.Simulation{Scenario: s, Strides: &left}).Run(); !errors.Is(err, want) {
				t.Errorf("%s with %d of %d strides: %v", name, took-short, took, err)
			}
		}
	}
}
