package scenario

import (
	"errors"
	"io/fs"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"pgregory.net/rapid"

	"sextant/inverter"
	"sextant/inverter/file"
	"sextant/inverter/pattern"
	"sextant/motor"
	"sextant/motor/drive"
)

// whole says everything that a scenario can, each value once.
const whole = `title = "Hillside hauler, climbing loaded"
[supply]
voltage = "350 V"
resistance = "10 mohm"
capacitance = "500 uF"
[gating]
pattern = "space-vector"
frequency = "100 Hz"
modulation = 0.8
phase = "90 deg"
carrier = "8 kHz"
sampling = "regular"
dead_time = "2 us"
follow = "clock"
advance = "0.5 rad"
duty = "50 %"
gates = ["U+", "V-"]
chop = 0.9
chop_side = "low"
id = "-10 A"
iq = 120
[machine]
kind = "permanent-magnet"
connection = "delta"
pole_pairs = 4
resistance = "20 mΩ"
inductance_d = "0.2 mH"
inductance_q = "0.5 mH"
flux_linkage = "0.08 Wb"
[shaft]
free = true
start_speed = "3000 rpm"
start_angle = "180 deg"
inertia = "0.05 kg m2"
load_torque = "57.6 N m"
friction = "0.01 N m s/rad"
[switches]
channel_threshold = "0.9 V"
channel_resistance = "1.5 mohm"
diode_threshold = "1 V"
diode_resistance = "1.3 mohm"
both_ways = true
[[fault]]
kind = "switch-open"
at = "V-"
[[fault]]
kind = "phase-resistance"
at = "W"
time = "20 ms"
value = "0.5 ohm"
[run]
settle = "50 ms"
measure = 0.02
initial_currents = ["1 A", 2, "-3 A"]
`

func TestLoadWhole(t *testing.T) {
	want := drive.Scenario{
		Title:  "Hillside hauler, climbing loaded",
		Supply: drive.Supply{Voltage: 350, Resistance: 0.01, Capacitance: 500e-6},
		Gating: drive.Gating{
			Settings: pattern.Settings{
				Kind: pattern.SpaceVector, Frequency: 100, Modulation: 0.8, Phase: math.Pi / 2, Carrier: 8000,
				Sampling: pattern.Regular, DeadTime: 2e-6, Duty: 0.5, Hand: inverter.On(inverter.UHigh, inverter.VLow),
			},
			Follow: drive.Clock, Advance: 0.5, Chop: 0.9, ChopSide: drive.ChopLow, ID: -10, IQ: 120,
		},
		Machine: motor.Machine{
			Kind: motor.PermanentMagnet, Connection: motor.Delta, PolePairs: 4, Resistance: 0.02,
			InductanceD: 0.0002, InductanceQ: 0.0005, FluxLinkage: 0.08,
		},
		Shaft: drive.Shaft{
			Free: true, StartSpeed: 3000 * (math.Pi / 30), StartAngle: math.Pi, Inertia: 0.05, LoadTorque: 57.6, Friction: 0.01,
		},
		Switches: drive.Switches{
			ChannelThreshold: 0.9, ChannelResistance: 0.0015, DiodeThreshold: 1, DiodeResistance: 0.0013, BothWays: true,
		},
		Faults: []drive.Fault{
			{Kind: drive.SwitchOpen, Switch: inverter.VLow},
			{Kind: drive.PhaseResistance, Phase: inverter.W, Time: 0.02, Value: 0.5},
		},
		Run: drive.Window{Settle: 0.05, Measure: 0.02, InitialCurrents: inverter.ABC{1, 2, -3}},
	}
	crlf := strings.ReplaceAll(whole, "\n", "\r\n")
	for _, data := range []string{whole, "\ufeff" + whole, crlf, "\ufeff" + crlf} {
		got, err := Load("whole.toml", []byte(data))
		if err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%+v, %v\nwant %+v", got, err, want)
		}
	}
}

// TestFindings reads testdata/findings.txtar: bad files, each followed by what is said of it. A file whose
// name ends in .add is the sound file sound.toml with lines added at its end, which are numbered on.
func TestFindings(t *testing.T) {
	archive, err := txtar.ParseFile("testdata/findings.txtar")
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]string{}
	find := func(_, name string) (string, []byte, error) {
		data, ok := files[name]
		if !ok {
			return "", nil, fs.ErrNotExist
		}
		return name, []byte(data), nil
	}
	input := ""
	for _, f := range archive.Files {
		name, isWant := strings.CutSuffix(f.Name, ".says")
		if !isWant {
			files[f.Name] = string(f.Data)
			input = strings.NewReplacer(`\ufeff`, "\ufeff", `\r`, "\r").Replace(string(f.Data))
			continue
		}
		_, err := load(name, []byte(input), find)
		got := ""
		if err != nil {
			got = err.Error() + "\n"
		}
		if want := string(f.Data); got != want {
			t.Errorf("%s\n got:\n%swant:\n%s", name, got, want)
		}
		if findings := (file.Findings{}); err != nil && !errors.As(err, &findings) {
			t.Errorf("%s: the error is a %T", name, err)
		}
	}
}

func TestBuiltIns(t *testing.T) {
	for _, name := range Names() {
		s, err := Open(name)
		if err != nil {
			t.Error(err)
		}
		if s.Title == "" {
			t.Errorf("%s has no title", name)
		}
	}
	for _, name := range Machines() {
		if _, _, err := FindMachine("x.toml", name); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// finite draws numbers of every size that scenarios may hold.
func finite(t *rapid.T, name string, least, most float64) float64 {
	return rapid.Float64Range(least, most).Draw(t, name)
}

// drawn draws a valid scenario.
func drawn(t *rapid.T) drive.Scenario {
	x := func(name string) float64 { return finite(t, name, 0, 1e3) }
	pos := func(name string) float64 { return finite(t, name, 1e-9, 1e3) }
	any := func(name string) float64 { return finite(t, name, -1e3, 1e3) }
	or0 := func(name string, x float64) float64 { // what is said must be told from what is left out
		if rapid.Bool().Draw(t, "no "+name) {
			return 0
		}
		return x
	}
	s := drive.Scenario{
		Title:  rapid.String().Draw(t, "title"),
		Supply: drive.Supply{Voltage: x("voltage"), Resistance: x("source"), Capacitance: x("link")},
		Gating: drive.Gating{
			Settings: pattern.Settings{
				Kind:       rapid.SampledFrom(pattern.Kinds()).Draw(t, "pattern"),
				Sampling:   pattern.Sampling(rapid.IntRange(0, 3).Draw(t, "sampling")),
				Frequency:  or0("frequency", math.Round(any("frequency")*1e3)/1e3),
				Phase:      any("phase"),
				Modulation: or0("modulation", finite(t, "modulation", 0, 1.27)),
				Carrier:    finite(t, "carrier", 2e3, 8e4),
				DeadTime:   finite(t, "dead time", 0, 1e-6),
				Duty:       or0("duty", finite(t, "duty", 0, 1)),
				Hand:       rapid.OneOf(rapid.Just(inverter.Gates(0)), rapid.SampledFrom(inverter.States[:])).Draw(t, "gates"),
			},
			Advance: any("advance"), Chop: finite(t, "chop", 0, 1), ChopSide: drive.ChopSide(rapid.IntRange(0, 2).Draw(t, "side")),
			ID: any("id"), IQ: any("iq"),
		},
		Machine: motor.Machine{Resistance: x("resistance"), InductanceD: pos("ld"), Connection: motor.Connection(rapid.IntRange(0, 1).Draw(t, "connection"))},
		Shaft: drive.Shaft{
			StartSpeed: any("start speed"), StartAngle: any("start angle"), Inertia: pos("inertia"), LoadTorque: any("load"), Friction: x("friction"),
		},
		Switches: drive.Switches{ChannelThreshold: x("vce"), ChannelResistance: x("rce"), DiodeThreshold: x("vf"), DiodeResistance: x("rf"), BothWays: rapid.Bool().Draw(t, "both ways")},
		Run:      drive.Window{Settle: x("settle"), Measure: pos("measure")},
	}
	i := any("current")
	s.Run.InitialCurrents = inverter.ABC{i, 0, -i}
	s.Machine.InductanceQ = s.Machine.InductanceD
	if rapid.Bool().Draw(t, "passive") {
		s.Machine.Kind = motor.Passive
	} else {
		s.Machine.InductanceQ, s.Machine.FluxLinkage, s.Machine.PolePairs = pos("lq"), x("flux"), rapid.IntRange(1, 99).Draw(t, "pole pairs")
		s.Shaft.Free = rapid.Bool().Draw(t, "free")
	}
	if !s.Shaft.Free {
		s.Shaft.Speed = any("speed")
	}
	may := func(change func(*drive.Scenario)) { // unless that is at odds with the rest
		with := s
		if change(&with); len(with.Problems()) == 0 {
			s = with
		}
	}
	switch rapid.IntRange(0, 3).Draw(t, "supply") {
	case 1:
		may(func(s *drive.Scenario) { s.Supply.Refuses = true })
	case 2:
		may(func(s *drive.Scenario) { s.Supply.ChargeLimit = pos("charge limit") })
	case 3:
		may(func(s *drive.Scenario) { s.Supply.CapacitorResistance = pos("capacitor") })
	}
	if rapid.Bool().Draw(t, "start voltage given") {
		may(func(s *drive.Scenario) { s.Supply.Start, s.Supply.StartSet = x("start voltage"), true })
	}
	switch rapid.IntRange(0, 4).Draw(t, "follow") {
	case 1:
		may(func(s *drive.Scenario) { s.Gating.Follow = drive.Rotor })
	case 2:
		may(func(s *drive.Scenario) {
			s.Gating.Follow, s.Gating.Bandwidth = drive.Current, finite(t, "bandwidth", 0, 300)
		})
	case 3:
		may(func(s *drive.Scenario) {
			g := &s.Gating
			g.Follow, g.SpeedLoop, g.SpeedCommand, g.SpeedBandwidth, g.CurrentLimit = drive.Current, true, any("speed command"), x("speed bandwidth"), pos("limit")
		})
	case 4:
		may(func(s *drive.Scenario) { s.Gating.Ramp, s.Gating.Boost = pos("ramp"), finite(t, "boost", 0, 0.5) })
	}
	if rapid.Bool().Draw(t, "flat tops") {
		may(func(s *drive.Scenario) { s.Machine.EMF, s.Machine.InductanceQ = motor.Trapezoid, s.Machine.InductanceD })
	}
	may(func(s *drive.Scenario) { s.Shaft.Coulomb, s.Shaft.Quadratic = x("dry friction"), x("drag") })
	for range rapid.IntRange(0, 3).Draw(t, "faults") {
		f := drive.Fault{Kind: rapid.SampledFrom(drive.FaultKinds()).Draw(t, "fault"), Time: x("time")}
		if f.Kind.OfSwitch() {
			f.Switch = inverter.Switch(rapid.IntRange(0, 5).Draw(t, "switch"))
		}
		if f.Kind.OfPhase() {
			f.Phase = inverter.Phase(rapid.IntRange(0, 2).Draw(t, "phase"))
		}
		if f.Kind.TakesValue() {
			f.Value = rapid.OneOf(rapid.Just(0.0), rapid.Just(1.0), rapid.Float64Range(1e-3, 300)).Draw(t, "value")
		}
		if rapid.Bool().Draw(t, "ends") {
			f.Until = f.Time + pos("duration")
		}
		may(func(s *drive.Scenario) { s.Faults = append(slices.Clip(s.Faults), f) })
	}
	return s
}

func TestWhatIsWrittenLoads(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawn(t)
		s.Title = strings.ToValidUTF8(s.Title, "")
		back, err := Load("x.toml", TOML(s))
		if err != nil || !reflect.DeepEqual(s, back) {
			t.Fatalf("%+v\nwritten as\n%s\nreads\n%+v, %v", s, TOML(s), back, err)
		}
	})
}

func FuzzLoad(f *testing.F) {
	f.Add([]byte(whole))
	archive, err := txtar.ParseFile("testdata/findings.txtar")
	if err != nil {
		f.Fatal(err)
	}
	for _, file := range archive.Files {
		f.Add(file.Data)
	}
	nothing := func(_, _ string) (string, []byte, error) { return "", nil, fs.ErrNotExist }
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := load("x.toml", data, nothing)
		if err != nil {
			for _, line := range strings.Split(err.Error(), "\n") {
				if !strings.HasPrefix(line, "x.toml:") {
					t.Errorf("%q does not say where", line)
				}
			}
			return
		}
		if back, err := Load("x.toml", TOML(s)); err != nil || !reflect.DeepEqual(s, back) {
			t.Errorf("%+v\nwritten as\n%s\nreads\n%+v, %v", s, TOML(s), back, err)
		}
	})
}
