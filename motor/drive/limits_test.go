package drive

import (
	"errors"
	"math"
	"strings"
	"testing"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor"
)

// bases are sound scenarios, for what each sort of drive may say.
var bases = map[string]Scenario{
	"clock":   limited(pattern.SpaceVector, Clock),
	"stepped": limited(pattern.SixStep180, Clock),
	"rotor":   limited(pattern.SixStep120, Rotor),
	"current": limited(pattern.SpaceVector, Current),
	"coils":   passive(pattern.SixStep180, 350, 5, 23e-3, 60, 1),
}

// limited returns machine B on a link of its own, free to turn.
func limited(kind pattern.Kind, follow Follow) Scenario {
	s := turning(machineB, kind, 350, 0, 0, 0.01)
	s.Supply.Resistance, s.Supply.Capacitance = 0.1, 1e-3
	s.Shaft = Shaft{Free: true, Inertia: 1}
	s.Gating.Follow = follow
	if kind.NeedsCarrier() || follow == Rotor {
		s.Gating.Carrier = 9000
	}
	return s
}

// Each bound is drawn where it is said to be: what lies on its right side is taken, and what lies beyond is refused under its
// key, with a reason. No value that is no number is taken anywhere.
func TestLimits(t *testing.T) {
	const above, below = 1 + 1e-9, 1 - 1e-9
	free := []float64{-1e6, 0, 1e6}
	notNegative, positive := []float64{0, 1e-300, 1e3}, []float64{1e-300, 1e3}
	for _, tt := range []struct {
		base, key      string
		value          func(s *Scenario) *float64
		taken, refused []float64
	}{
		{"clock", "supply.voltage", func(s *Scenario) *float64 { return &s.Supply.Voltage }, notNegative, []float64{-1e-300}},
		{"clock", "supply.resistance", func(s *Scenario) *float64 { return &s.Supply.Resistance }, notNegative, []float64{-1e-300}},
		{"clock", "supply.capacitance", func(s *Scenario) *float64 { return &s.Supply.Capacitance }, notNegative, []float64{-1e-300}},
		{"clock", "supply.start_voltage", func(s *Scenario) *float64 { return &s.Supply.Start }, notNegative, []float64{-1e-300}},
		{"clock", "supply.charge_limit", func(s *Scenario) *float64 { return &s.Supply.ChargeLimit }, notNegative, []float64{-1e-300}},
		{"clock", "supply.capacitor_resistance", func(s *Scenario) *float64 { return &s.Supply.CapacitorResistance }, notNegative, []float64{-1e-300}},
		{"rotor", "gating.advance", func(s *Scenario) *float64 { return &s.Gating.Advance }, free, nil},
		{"rotor", "gating.chop", func(s *Scenario) *float64 { return &s.Gating.Chop }, []float64{0, 1}, []float64{-1e-300, above}},
		{"current", "gating.bandwidth", func(s *Scenario) *float64 { return &s.Gating.Bandwidth }, []float64{0, 1500}, []float64{-1e-300, 1500 * above}},
		{"current", "gating.speed_bandwidth", func(s *Scenario) *float64 { return &s.Gating.SpeedBandwidth }, notNegative, []float64{-1e-300}},
		{"current", "gating.speed_command", func(s *Scenario) *float64 { return &s.Gating.SpeedCommand }, free, nil},
		{"current", "gating.id", func(s *Scenario) *float64 { return &s.Gating.ID }, free, nil},
		{"current", "gating.iq", func(s *Scenario) *float64 { return &s.Gating.IQ }, free, nil},
		{"clock", "gating.ramp", func(s *Scenario) *float64 { return &s.Gating.Ramp }, notNegative, []float64{-1e-300}},
		{"ramp", "gating.boost", func(s *Scenario) *float64 { return &s.Gating.Boost }, []float64{0, 2 / math.Sqrt(3) * below}, []float64{-1e-300, 2 / math.Sqrt(3) * above}},
		{"speed", "gating.current_limit", func(s *Scenario) *float64 { return &s.Gating.CurrentLimit }, positive, []float64{0, -1}},
		{"clock", "machine.resistance", func(s *Scenario) *float64 { return &s.Machine.Resistance }, notNegative, []float64{-1e-300}},
		{"clock", "machine.inductance_d", func(s *Scenario) *float64 { return &s.Machine.InductanceD }, positive, []float64{0, -1}},
		{"clock", "machine.inductance_q", func(s *Scenario) *float64 { return &s.Machine.InductanceQ }, positive, []float64{0, -1}},
		{"clock", "machine.flux_linkage", func(s *Scenario) *float64 { return &s.Machine.FluxLinkage }, notNegative, []float64{-1e-300}},
		{"coils", "machine.flux_linkage", func(s *Scenario) *float64 { return &s.Machine.FluxLinkage }, []float64{0}, []float64{1e-300}},
		{"coils", "machine.inductance", func(s *Scenario) *float64 { return &s.Machine.InductanceD }, []float64{23e-3}, []float64{0, 24e-3}},
		{"clock", "shaft.speed", func(s *Scenario) *float64 { return &s.Shaft.Speed }, free, nil},
		{"clock", "shaft.start_speed", func(s *Scenario) *float64 { return &s.Shaft.StartSpeed }, free, nil},
		{"clock", "shaft.start_angle", func(s *Scenario) *float64 { return &s.Shaft.StartAngle }, free, nil},
		{"clock", "shaft.load_torque", func(s *Scenario) *float64 { return &s.Shaft.LoadTorque }, free, nil},
		{"clock", "shaft.friction", func(s *Scenario) *float64 { return &s.Shaft.Friction }, notNegative, []float64{-1e-300}},
		{"clock", "shaft.coulomb_friction", func(s *Scenario) *float64 { return &s.Shaft.Coulomb }, notNegative, []float64{-1e-300}},
		{"clock", "shaft.quadratic_load", func(s *Scenario) *float64 { return &s.Shaft.Quadratic }, notNegative, []float64{-1e-300}},
		{"clock", "shaft.inertia", func(s *Scenario) *float64 { return &s.Shaft.Inertia }, positive, []float64{0, -1}},
		{"coils", "shaft.inertia", func(s *Scenario) *float64 { return &s.Shaft.Inertia }, notNegative, []float64{-1e-300}},
		{"clock", "switches.channel_threshold", func(s *Scenario) *float64 { return &s.Switches.ChannelThreshold }, notNegative, []float64{-1e-300}},
		{"clock", "switches.channel_resistance", func(s *Scenario) *float64 { return &s.Switches.ChannelResistance }, notNegative, []float64{-1e-300}},
		{"clock", "switches.diode_threshold", func(s *Scenario) *float64 { return &s.Switches.DiodeThreshold }, notNegative, []float64{-1e-300}},
		{"clock", "switches.diode_resistance", func(s *Scenario) *float64 { return &s.Switches.DiodeResistance }, notNegative, []float64{-1e-300}},
		{"device", "switches.temperature", func(s *Scenario) *float64 { return &s.Switches.Junction }, []float64{-273.15, 1000}, []float64{-273.15 * above, 1000 * above}},
		{"device", "switches.sink", func(s *Scenario) *float64 { return &s.Switches.Sink }, []float64{-273.15, 1000}, []float64{-273.15 * above, 1000 * above}},
		{"clock", "run.settle", func(s *Scenario) *float64 { return &s.Run.Settle }, []float64{0, 1}, []float64{-1e-300}},
		{"clock", "run.measure", func(s *Scenario) *float64 { return &s.Run.Measure }, []float64{1e-300, 1}, []float64{0, -1}},
		{"clock", "run.initial_currents", func(s *Scenario) *float64 { return &s.Run.InitialCurrents[2] }, []float64{0}, []float64{1e-10, 1}},
		{"balanced", "run.initial_currents", func(s *Scenario) *float64 { return &s.Run.InitialCurrents[2] }, []float64{-30 * above, -30 * below}, []float64{-30.001, -29.999, 30}},
	} {
		base, ok := bases[tt.base]
		switch tt.base {
		case "ramp":
			base = bases["clock"]
			base.Gating.Ramp = 1
		case "speed":
			base = bases["current"]
			base.Gating.SpeedLoop = true
		case "device":
			base = bases["clock"]
			base.Switches = using(t, "igbt-750")
		case "balanced":
			base = bases["clock"]
			base.Run.InitialCurrents = inverter.ABC{10, 20, 0}
		default:
			if !ok {
				t.Fatalf("no base %q", tt.base)
			}
		}
		try := func(x float64) error {
			s := base
			*tt.value(&s) = x
			return s.Validate()
		}
		for _, x := range tt.taken {
			if err := try(x); err != nil {
				t.Errorf("%s of %g is refused: %v", tt.key, x, err)
			}
		}
		for _, x := range append([]float64{math.NaN(), math.Inf(1), math.Inf(-1)}, tt.refused...) {
			var wrong *KeyError
			if err := try(x); !errors.As(err, &wrong) || wrong.Key != tt.key || !strings.Contains(err.Error(), wrong.Err.Error()) {
				t.Errorf("%s of %g: %v", tt.key, x, err)
			}
		}
	}
}

// What goes together is taken, and what does not is refused under the key that can put it right.
func TestWhatGoesTogether(t *testing.T) {
	for _, tt := range []struct {
		base   string
		change func(s *Scenario)
		key    string // or nothing
	}{
		{"clock", func(s *Scenario) { s.Supply.Refuses = true }, ""},
		{"clock", func(s *Scenario) { s.Supply.Refuses, s.Supply.Resistance = true, 0 }, "supply.accepts"},
		{"clock", func(s *Scenario) { s.Supply.Refuses, s.Supply.Capacitance = true, 0 }, "supply.accepts"},
		{"clock", func(s *Scenario) { s.Supply.Refuses, s.Supply.ChargeLimit = true, 1 }, "supply.charge_limit"},
		{"clock", func(s *Scenario) { s.Supply.ChargeLimit = 1 }, ""},
		{"clock", func(s *Scenario) { s.Supply.ChargeLimit, s.Supply.Resistance = 1, 0 }, "supply.charge_limit"},
		{"clock", func(s *Scenario) { s.Supply.ChargeLimit, s.Supply.CapacitorResistance = 1, 1 }, "supply.capacitor_resistance"},
		{"clock", func(s *Scenario) { s.Supply.StartSet = true }, ""},
		{"clock", func(s *Scenario) { s.Supply.StartSet, s.Supply.Capacitance = true, 0 }, "supply.start_voltage"},
		{"clock", func(s *Scenario) { s.Supply.CapacitorResistance, s.Supply.Resistance = 1, 0 }, "supply.capacitor_resistance"},
		{"clock", func(s *Scenario) { s.Gating.Follow = Rotor }, "gating.follow"},
		{"stepped", func(s *Scenario) { s.Gating.Follow = Rotor }, ""},
		{"stepped", func(s *Scenario) { s.Gating.Follow = Current }, "gating.follow"},
		{"coils", func(s *Scenario) { s.Gating.Follow = Rotor }, "gating.follow"},
		{"current", func(s *Scenario) { s.Gating.CarrierRatio, s.Gating.Carrier = 21, 0 }, "gating.carrier_ratio"},
		{"rotor", func(s *Scenario) { s.Gating.Chop, s.Gating.Carrier = 0.5, 0 }, "gating.chop"},
		{"rotor", func(s *Scenario) { s.Gating.Carrier = 0 }, ""},
		{"rotor", func(s *Scenario) { s.Gating.Chop = 0.5 }, ""},
		{"stepped", func(s *Scenario) { s.Gating.Chop = 0.5 }, ""},
		{"clock", func(s *Scenario) { s.Gating.Bandwidth = 1e6 }, ""},
		{"current", func(s *Scenario) { s.Gating.SpeedLoop, s.Gating.CurrentLimit = true, 1 }, ""},
		{"clock", func(s *Scenario) { s.Gating.SpeedLoop, s.Gating.CurrentLimit = true, 1 }, "gating.speed_command"},
		{"current", func(s *Scenario) { s.Gating.SpeedLoop, s.Gating.CurrentLimit, s.Shaft.Free = true, 1, false }, "gating.speed_command"},
		{"current", func(s *Scenario) {
			s.Gating.SpeedLoop, s.Gating.CurrentLimit, s.Machine.FluxLinkage, s.Gating.ID = true, 1, 0, -1
		}, ""},
		{"current", func(s *Scenario) { s.Gating.SpeedLoop, s.Gating.CurrentLimit, s.Machine.FluxLinkage = true, 1, 0 }, "gating.id"},
		{"current", func(s *Scenario) {
			s.Gating.SpeedLoop, s.Gating.CurrentLimit, s.Machine = true, 1, machineA
			s.Machine.FluxLinkage = 0
		}, "gating.speed_command"},
		{"clock", func(s *Scenario) { s.Gating.Ramp, s.Gating.Boost = 1, 0.1 }, ""},
		{"clock", func(s *Scenario) { s.Gating.Boost = 0.1 }, "gating.boost"},
		{"current", func(s *Scenario) { s.Gating.Ramp = 1 }, "gating.ramp"},
		{"stepped", func(s *Scenario) { s.Gating.Ramp = 1 }, "gating.ramp"},
		{"clock", func(s *Scenario) {
			s.Gating.Ramp, s.Gating.Carrier, s.Gating.CarrierRatio, s.Gating.Frequency = 1, 0, 21, 50
		}, "gating.ramp"},
		{"clock", func(s *Scenario) { s.Machine.EMF = motor.Trapezoid }, "machine.emf"},
		{"clock", func(s *Scenario) { s.Machine.EMF, s.Machine.InductanceQ = motor.Trapezoid, s.Machine.InductanceD }, ""},
		{"clock", func(s *Scenario) {
			s.Machine.EMF, s.Machine.InductanceQ, s.Machine.Connection = motor.Trapezoid, s.Machine.InductanceD, motor.Delta
		}, "machine.emf"},
		{"clock", func(s *Scenario) { s.Machine.Connection = motor.Delta }, ""},
		{"clock", func(s *Scenario) { s.Machine.PolePairs = 0 }, "machine.pole_pairs"},
		{"clock", func(s *Scenario) { s.Machine.PolePairs = 1 }, ""},
		{"clock", func(s *Scenario) { s.Machine.PolePairs = 1000 }, ""},
		{"clock", func(s *Scenario) { s.Machine.PolePairs = 1001 }, "machine.pole_pairs"},
		{"coils", func(s *Scenario) { s.Shaft.Free, s.Shaft.Inertia = true, 1 }, "shaft.free"},
		{"clock", func(s *Scenario) { s.Shaft.Free, s.Shaft.Inertia = false, 0 }, ""},
		{"clock", func(s *Scenario) { s.Switches.Use = "x" }, "switches.use"},
	} {
		s := bases[tt.base]
		tt.change(&s)
		var wrong *KeyError
		switch err := s.Validate(); {
		case tt.key == "" && err != nil:
			t.Errorf("refused: %v", err)
		case tt.key != "" && (!errors.As(err, &wrong) || wrong.Key != tt.key):
			t.Errorf("%v, want a word on %s", err, tt.key)
		}
	}
}

// A fault's value is taken within its bounds and refused beyond.
func TestFaultValues(t *testing.T) {
	const above = 1 + 1e-9
	most := math.MaxFloat64
	for kind, tt := range map[FaultKind]struct{ taken, refused []float64 }{
		PhaseResistance:      {[]float64{1e-300, most}, []float64{0, -1}},
		PositionSensorStuck:  {[]float64{0, 1}, []float64{-1, 0.5, 2}},
		SupplySag:            {[]float64{0, most}, []float64{-1e-300}},
		CapacitorAged:        {[]float64{1e-6, 1}, []float64{0, 0.99e-6, above}},
		PositionSensorOffset: {[]float64{-most, most}, nil},
		CurrentSensorOffset:  {[]float64{-most, most}, nil},
		CurrentSensorGain:    {[]float64{-10, 10}, []float64{-10 * above, 10 * above}},
		Demagnetised:         {[]float64{0, 1}, []float64{-1e-300, above}},
		TurnsShorted:         {[]float64{1e-6, 1}, []float64{0, 0.99e-6, above}},
		CapacitorResistance:  {[]float64{1e-300, most}, []float64{0, -1}},
	} {
		if !kind.TakesValue() {
			t.Errorf("%v takes no value", kind)
		}
		try := func(f Fault) error {
			s := bases["clock"]
			s.Faults = []Fault{{Kind: SwitchOpen}, f}
			return s.Validate()
		}
		for _, x := range tt.taken {
			if err := try(Fault{Kind: kind, Value: x}); err != nil {
				t.Errorf("%v of %g: %v", kind, x, err)
			}
		}
		for _, x := range append([]float64{math.NaN(), math.Inf(1)}, tt.refused...) {
			var wrong *KeyError
			if err := try(Fault{Kind: kind, Value: x}); !errors.As(err, &wrong) || wrong.Key != "fault.1.value" {
				t.Errorf("%v of %g: %v", kind, x, err)
			}
		}
		for _, tt := range []struct {
			time, until float64
			key         string
		}{
			{0, 0, ""}, {1, 0, ""}, {1, 1 + 1e-9, ""}, {-1e-9, 0, "fault.1.time"}, {1, 1, "fault.1.until"}, {1, 0.5, "fault.1.until"}, {0, math.Inf(1), "fault.1.until"},
		} {
			err := try(Fault{Kind: kind, Value: 1, Time: tt.time, Until: tt.until})
			var wrong *KeyError
			if (err == nil) != (tt.key == "") || err != nil && (!errors.As(err, &wrong) || wrong.Key != tt.key) {
				t.Errorf("%v from %g s to %g s: %v", kind, tt.time, tt.until, err)
			}
		}
	}
	for _, kind := range FaultKinds() {
		if kind.OfPhase() && kind.OfSwitch() {
			t.Errorf("%v is of a phase and of a switch", kind)
		}
	}
}
