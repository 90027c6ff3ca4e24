package scenario

import (
	"sextant/inverter/pattern"
	"sextant/inverter/si"
	"sextant/motor"
	"sextant/motor/drive"
)

// A section is a table of a scenario file; the one without a name is what stands before all headers.
type section struct {
	name string
	keys []entry
}

// An entry is a key of a section.
type entry struct {
	key   string
	slot  slot
	write writing
}

// writing says when a key is written; all are read.
type writing uint8

const (
	ifSet  writing = iota // when it differs from what a file without it means
	always                // whatever it says
	never                 // another key says it
)

// alwaysIf is always where sure, else never.
func alwaysIf(sure bool) writing {
	if sure {
		return always
	}
	return never
}

// orIfSet is always where sure, else ifSet.
func orIfSet(sure bool) writing {
	if sure {
		return always
	}
	return ifSet
}

// blank is the scenario that an empty file would mean.
func blank() drive.Scenario { return drive.Scenario{Gating: drive.Gating{Chop: 1}} }

// sections lists the keys of a scenario file, but those of its faults, as slots in s. This one table
// is what is read, what is written and what is suggested.
func sections(s *drive.Scenario) []section {
	g, w := &s.Gating, &s.Switches
	stepped, compares := g.Kind.Stepped(), g.Kind.Compares()
	drops := ifSet
	if w.Use != "" {
		drops = never
	}
	return []section{
		{"", []entry{
			{"title", prose{&s.Title}, ifSet},
		}},
		{"supply", []entry{
			{"voltage", quantity{&s.Supply.Voltage, si.Voltage}, always},
			{"resistance", quantity{&s.Supply.Resistance, si.Resistance}, ifSet},
			{"capacitance", quantity{&s.Supply.Capacitance, si.Capacitance}, ifSet},
			{"start_voltage", given{quantity{&s.Supply.Start, si.Voltage}, &s.Supply.StartSet}, orIfSet(s.Supply.StartSet)},
			{"accepts", denial{&s.Supply.Refuses}, ifSet},
			{"charge_limit", quantity{&s.Supply.ChargeLimit, si.Current}, ifSet},
			{"capacitor_resistance", quantity{&s.Supply.CapacitorResistance, si.Resistance}, ifSet},
		}},
		{"gating", []entry{
			{"pattern", choice[pattern.Kind]{&g.Kind, "pattern", pattern.Kinds()}, always},
			{"follow", choice[drive.Follow]{&g.Follow, "thing to follow", []drive.Follow{drive.Clock, drive.Rotor, drive.Current}}, ifSet},
			{"frequency", quantity{&g.Frequency, si.Frequency}, orIfSet(g.Follow == drive.Clock && (stepped || compares))},
			{"modulation", quantity{&g.Modulation, si.Number}, orIfSet(g.Follow == drive.Clock && compares)},
			{"phase", quantity{&g.Phase, si.Angle}, ifSet},
			{"carrier", quantity{&g.Carrier, si.Frequency}, ifSet},
			{"carrier_ratio", quantity{&g.CarrierRatio, si.Number}, ifSet},
			{"sampling", choice[pattern.Sampling]{&g.Sampling, "sampling", []pattern.Sampling{pattern.Default, pattern.Natural, pattern.Regular, pattern.RegularDouble}}, ifSet},
			{"dead_time", quantity{&g.DeadTime, si.Time}, ifSet},
			{"duty", quantity{&g.Duty, si.Number}, orIfSet(g.Kind == pattern.PulsedLow)},
			{"gates", gates{&g.Hand}, orIfSet(g.Kind == pattern.ByHand)},
			{"advance", quantity{&g.Advance, si.Angle}, ifSet},
			{"chop", quantity{&g.Chop, si.Number}, ifSet},
			{"chop_side", choice[drive.ChopSide]{&g.ChopSide, "side to chop", []drive.ChopSide{drive.ChopHigh, drive.ChopLow, drive.ChopBoth}}, ifSet},
			{"id", quantity{&g.ID, si.Current}, ifSet},
			{"iq", quantity{&g.IQ, si.Current}, ifSet},
			{"bandwidth", quantity{&g.Bandwidth, si.Frequency}, ifSet},
			{"speed_command", given{quantity{&g.SpeedCommand, si.Speed}, &g.SpeedLoop}, orIfSet(g.SpeedLoop)},
			{"speed_bandwidth", quantity{&g.SpeedBandwidth, si.Frequency}, ifSet},
			{"current_limit", quantity{&g.CurrentLimit, si.Current}, ifSet},
			{"ramp", quantity{&g.Ramp, si.Ramp}, ifSet},
			{"boost", quantity{&g.Boost, si.Number}, ifSet},
		}},
		{"machine", machineEntries(&s.Machine)},
		{"shaft", []entry{
			{"free", flag{&s.Shaft.Free}, ifSet},
			{"speed", quantity{&s.Shaft.Speed, si.Speed}, alwaysIf(!s.Shaft.Free)},
			{"start_speed", quantity{&s.Shaft.StartSpeed, si.Speed}, ifSet},
			{"start_angle", quantity{&s.Shaft.StartAngle, si.Angle}, ifSet},
			{"inertia", quantity{&s.Shaft.Inertia, si.Inertia}, ifSet},
			{"load_torque", quantity{&s.Shaft.LoadTorque, si.Torque}, ifSet},
			{"friction", quantity{&s.Shaft.Friction, si.Friction}, ifSet},
			{"coulomb_friction", quantity{&s.Shaft.Coulomb, si.Torque}, ifSet},
			{"quadratic_load", quantity{&s.Shaft.Quadratic, si.Drag}, ifSet},
		}},
		{"switches", []entry{
			{"use", prose{&w.Use}, ifSet},
			{"temperature", given{quantity{&w.Junction, si.Temperature}, &w.Fixed}, alwaysIf(w.Fixed)},
			{"sink", quantity{&w.Sink, si.Temperature}, alwaysIf(w.Use != "" && !w.Fixed)},
			{"channel_threshold", quantity{&w.ChannelThreshold, si.Voltage}, drops},
			{"channel_resistance", quantity{&w.ChannelResistance, si.Resistance}, drops},
			{"diode_threshold", quantity{&w.DiodeThreshold, si.Voltage}, drops},
			{"diode_resistance", quantity{&w.DiodeResistance, si.Resistance}, drops},
			{"both_ways", flag{&w.BothWays}, drops},
		}},
		{"run", []entry{
			{"settle", quantity{&s.Run.Settle, si.Time}, ifSet},
			{"measure", quantity{&s.Run.Measure, si.Time}, always},
			{"initial_currents", three{&s.Run.InitialCurrents, si.Current}, ifSet},
		}},
	}
}

// machineEntries lists the keys of a machine as slots in m.
func machineEntries(m *motor.Machine) []entry {
	passive := m.Kind == motor.Passive
	return []entry{
		{"kind", choice[motor.Kind]{&m.Kind, "kind of machine", []motor.Kind{motor.PermanentMagnet, motor.Passive}}, always},
		{"connection", choice[motor.Connection]{&m.Connection, "connection", []motor.Connection{motor.Star, motor.Delta}}, ifSet},
		{"pole_pairs", count{&m.PolePairs}, alwaysIf(!passive)},
		{"resistance", quantity{&m.Resistance, si.Resistance}, always},
		{"inductance", both{quantity{&m.InductanceD, si.Inductance}, &m.InductanceQ}, alwaysIf(passive)},
		{"inductance_d", quantity{&m.InductanceD, si.Inductance}, alwaysIf(!passive)},
		{"inductance_q", quantity{&m.InductanceQ, si.Inductance}, alwaysIf(!passive)},
		{"flux_linkage", quantity{&m.FluxLinkage, si.Flux}, alwaysIf(!passive)},
		{"emf", choice[motor.EMF]{&m.EMF, "shape of EMF", []motor.EMF{motor.Sine, motor.Trapezoid}}, ifSet},
	}
}

// names lists the keys of entries.
func names(entries []entry) []string {
	keys := make([]string, len(entries))
	for i, e := range entries {
		keys[i] = e.key
	}
	return keys
}
