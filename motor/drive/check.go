package drive

import (
	"errors"
	"fmt"
	"math"

	"sextant/inverter/pattern"
	"sextant/motor"
)

// MostEvents is the largest number of switching events that a run may have.
const MostEvents = 1e9

// A KeyError is what is wrong with one value of a scenario.
type KeyError struct {
	Key string // as files have it, like "gating.carrier"; "fault.2.value" is of the third fault
	Err error  // what is wrong, and what would be right
}

// Error names the key and what is wrong.
func (e *KeyError) Error() string { return e.Key + ": " + e.Err.Error() }

// Unwrap returns what is wrong.
func (e *KeyError) Unwrap() error { return e.Err }

// Validate returns the first of the [Scenario.Problems] of s, or nil.
func (s Scenario) Validate() error {
	if p := s.Problems(); len(p) > 0 {
		return p[0]
	}
	return nil
}

// Problems lists all that is out of range or at odds in s.
func (s *Scenario) Problems() []*KeyError {
	var c checks
	c.atLeast(0, "supply.voltage", s.Supply.Voltage, "V")
	c.atLeast(0, "supply.resistance", s.Supply.Resistance, "ohm")
	c.atLeast(0, "supply.capacitance", s.Supply.Capacitance, "F")
	c.supply(s.Supply)
	c.gating(s)
	c.machine(s.Machine)
	c.shaft(s)
	c.switches(&s.Switches)
	c.faults(s)
	c.run(s)
	return c
}

type checks []*KeyError

func (c *checks) add(key, format string, args ...any) {
	*c = append(*c, &KeyError{key, fmt.Errorf(format, args...)})
}

// finite reports whether x is a number, and says so if not.
func (c *checks) finite(key string, x float64) bool {
	ok := !math.IsNaN(x) && !math.IsInf(x, 0)
	if !ok {
		c.add(key, "not a finite number")
	}
	return ok
}

func (c *checks) atLeast(least float64, key string, x float64, unit string) {
	if c.finite(key, x) && x < least {
		c.add(key, "%g %s is negative; give %g or more", x, unit, least)
	}
}

func (c *checks) positive(key string, x float64, unit string) {
	if c.finite(key, x) && x <= 0 {
		c.add(key, "%g %s is not positive; give more than 0", x, unit)
	}
}

func (c *checks) supply(p Supply) {
	c.atLeast(0, "supply.start_voltage", p.Start, "V")
	c.atLeast(0, "supply.charge_limit", p.ChargeLimit, "A")
	c.atLeast(0, "supply.capacitor_resistance", p.CapacitorResistance, "ohm")
	bare := p.Capacitance == 0 || p.Resistance == 0
	const need = "needs a link that its source does not hold by itself: give supply.capacitance and supply.resistance above 0"
	switch {
	case p.Refuses && bare:
		c.add("supply.accepts", "a supply that takes no charge "+need)
	case p.ChargeLimit > 0 && bare:
		c.add("supply.charge_limit", "a bound on the charge "+need)
	case p.StartSet && bare:
		c.add("supply.start_voltage", "a voltage to start from "+need)
	}
	switch {
	case p.CapacitorResistance > 0 && bare:
		c.add("supply.capacitor_resistance", "a resistance in series with the link's capacitor "+need)
	case p.CapacitorResistance > 0 && p.bounded():
		c.add("supply.capacitor_resistance", seriesBounded)
	}
	if p.Refuses && p.ChargeLimit > 0 {
		c.add("supply.charge_limit", "accepts = false says that there is none; give one or the other")
	}
}

// seriesBounded says why a link cannot have both a bound on what its supply takes back and a resistance at its capacitor.
const seriesBounded = "with a resistance in series with the capacitor a supply with a bound on its charge reaches it and leaves it at each gate edge, which this model leaves out; give one or the other"

// bounded reports whether the supply does not take back all that it is given.
func (p *Supply) bounded() bool { return p.Refuses || p.ChargeLimit > 0 }

func (c *checks) gating(s *Scenario) {
	g := s.Gating
	settings := g.Settings
	switch g.Follow {
	case Rotor:
		if !g.Kind.Stepped() {
			c.add("gating.follow", "the rotor's sensors step six-step patterns; %v is none: give pattern six-step-180, six-step-120 or twelve-step-150", g.Kind)
		}
		settings.Frequency = 0 // the rotor's
	case Current:
		if !g.Kind.Compares() {
			c.add("gating.follow", "a current command needs a carrier pattern, like space-vector; %v is none", g.Kind)
		}
		if g.CarrierRatio > 0 {
			c.add("gating.carrier_ratio", "a current command sets no frequency to multiply; give carrier, like \"8 kHz\"")
			settings.CarrierRatio, settings.Carrier = 0, 1
		}
		settings.Frequency, settings.Modulation = 0, 0 // the control's
	}
	if g.Follow != Clock && s.Machine.Kind == motor.Passive {
		c.add("gating.follow", "a passive load has no rotor to follow; leave follow out")
	}
	c.settings(settings)
	c.finite("gating.advance", g.Advance)
	c.atLeast(0, "gating.bandwidth", g.Bandwidth, "Hz")
	c.atLeast(0, "gating.speed_bandwidth", g.SpeedBandwidth, "Hz")
	c.atLeast(0, "gating.ramp", g.Ramp, "Hz/s")
	c.atLeast(0, "gating.boost", g.Boost, "")
	c.finite("gating.speed_command", g.SpeedCommand)
	c.speedLoop(s)
	c.ramp(g)
	if g.Follow == Rotor && g.Chop < 1 && g.Carrier == 0 {
		c.add("gating.chop", "chopping needs a carrier, like carrier = \"8 kHz\"")
	}
	if top := g.Carrier / 6; g.Follow == Current && g.Carrier > 0 && g.Bandwidth > top {
		c.add("gating.bandwidth", "%g Hz is more than a sixth of the carrier, which samples cannot close; give %g Hz or less", g.Bandwidth, top)
	}
	c.finite("gating.id", g.ID)
	c.finite("gating.iq", g.IQ)
	if c.finite("gating.chop", g.Chop) && (g.Chop < 0 || g.Chop > 1) {
		c.add("gating.chop", "%g is out of range; give 0 to 1", g.Chop)
	}
}

// settings lists all that is wrong with s: once a setting has been found wrong, it is put right to see the
// next.
func (c *checks) settings(s pattern.Settings) {
	var wrong *pattern.SettingError
	for range 8 { // as many as there are keys, so that no pair of them goes round for ever
		if !errors.As(s.Validate(), &wrong) {
			return
		}
		c.add("gating."+wrong.Key, "%s", wrong.Problem)
		switch wrong.Key {
		case "frequency":
			s.Frequency = 0
		case "phase":
			s.Phase = 0
		case "modulation":
			s.Modulation = 0
		case "carrier", "carrier_ratio":
			s.Carrier, s.CarrierRatio = 1000*max(1, math.Abs(s.Frequency)), 0
			s.DeadTime = min(s.DeadTime, 0) // what is too long rests on the carrier
		case "dead_time":
			s.DeadTime = 0
		case "duty":
			s.Duty = 0
		case "gates":
			s.Hand = 0
		default:
			return
		}
	}
}

func (c *checks) speedLoop(s *Scenario) {
	g := s.Gating
	if !g.SpeedLoop {
		return
	}
	switch {
	case g.Follow != Current:
		c.add("gating.speed_command", "a speed loop commands iq; give follow = \"current\"")
	case !s.Shaft.Free:
		c.add("gating.speed_command", "the shaft is held; give shaft.free = true")
	case s.Machine.FluxLinkage == 0 && s.Machine.InductanceD == s.Machine.InductanceQ:
		c.add("gating.speed_command", "a machine without magnet and saliency makes no torque to control")
	}
	c.positive("gating.current_limit", g.CurrentLimit, "A")
}

func (c *checks) ramp(g Gating) {
	switch {
	case g.Ramp == 0 && g.Boost != 0:
		c.add("gating.boost", "goes with a ramp; give ramp, like \"25 Hz/s\"")
	case g.Ramp == 0:
	case g.Follow != Clock:
		c.add("gating.ramp", "only a clock ramps its frequency; leave it out, or give follow = \"clock\"")
	case !g.Kind.Compares() || g.Carrier == 0:
		c.add("gating.ramp", "needs a carrier pattern, like space-vector, with carrier in Hz")
	}
	if top := g.Kind.Linear(); g.Boost > top {
		c.add("gating.boost", "%g is out of range; give 0 to %.4g", g.Boost, top)
	}
}

func (c *checks) machine(m motor.Machine) {
	c.atLeast(0, "machine.resistance", m.Resistance, "ohm")
	if m.Kind == motor.Passive {
		c.positive("machine.inductance", m.InductanceD, "H")
		if m.InductanceQ != m.InductanceD {
			c.add("machine.inductance", "a passive load has one inductance; give inductance alone")
		}
		if m.FluxLinkage != 0 {
			c.add("machine.flux_linkage", "a passive load has no magnet; leave it out")
		}
		return
	}
	c.positive("machine.inductance_d", m.InductanceD, "H")
	c.positive("machine.inductance_q", m.InductanceQ, "H")
	c.atLeast(0, "machine.flux_linkage", m.FluxLinkage, "Wb")
	if m.EMF == motor.Trapezoid {
		if m.Connection == motor.Delta {
			c.add("machine.emf", "trapezoidal windings in delta drive a current around themselves, which this model leaves out; give connection = \"star\"")
		}
		if m.InductanceD != m.InductanceQ {
			c.add("machine.emf", "a trapezoid goes with equal inductance_d and inductance_q")
		}
	}
	if m.PolePairs < 1 || m.PolePairs > 1000 {
		c.add("machine.pole_pairs", "%d is out of range; give 1 to 1000", m.PolePairs)
	}
}

func (c *checks) shaft(s *Scenario) {
	h := s.Shaft
	c.finite("shaft.speed", h.Speed)
	c.finite("shaft.start_speed", h.StartSpeed)
	c.finite("shaft.start_angle", h.StartAngle)
	c.finite("shaft.load_torque", h.LoadTorque)
	c.atLeast(0, "shaft.friction", h.Friction, "N m s/rad")
	c.atLeast(0, "shaft.coulomb_friction", h.Coulomb, "N m")
	c.atLeast(0, "shaft.quadratic_load", h.Quadratic, "N m s2/rad2")
	switch {
	case h.Free && s.Machine.Kind == motor.Passive:
		c.add("shaft.free", "a passive load has no shaft; leave it out")
	case h.Free:
		c.positive("shaft.inertia", h.Inertia, "kg m2")
	default:
		c.atLeast(0, "shaft.inertia", h.Inertia, "kg m2")
	}
}

func (c *checks) switches(s *Switches) {
	c.atLeast(0, "switches.channel_threshold", s.ChannelThreshold, "V")
	c.atLeast(0, "switches.channel_resistance", s.ChannelResistance, "ohm")
	c.atLeast(0, "switches.diode_threshold", s.DiodeThreshold, "V")
	c.atLeast(0, "switches.diode_resistance", s.DiodeResistance, "ohm")
	c.celsius("switches.temperature", s.Junction)
	c.celsius("switches.sink", s.Sink)
	const alone = "is of a device's junctions; give use, the name or the file of a device, or leave it out"
	switch {
	case s.Use != "" && s.Device == nil:
		c.add("switches.use", "the data of device %q are missing", s.Use)
	case s.Use != "":
	case s.Device != nil:
		c.add("switches.use", "the device has no name; give the one that a file has for it")
	case s.Fixed:
		c.add("switches.temperature", alone)
	case s.Sink != 0:
		c.add("switches.sink", alone)
	}
}

func (c *checks) celsius(key string, x float64) {
	if c.finite(key, x) && (x < coldest || x > hottest) {
		c.add(key, "%g C is out of range; give %g to %g C", x, coldest, hottest)
	}
}

// faultKey is a key of the fault of that index.
func faultKey(index int, key string) string { return fmt.Sprintf("fault.%d.%s", index, key) }

func (c *checks) faults(s *Scenario) {
	for i, f := range s.Faults {
		c.atLeast(0, faultKey(i, "time"), f.Time, "s")
		if c.finite(faultKey(i, "until"), f.Until) && f.Until != 0 && f.Until <= f.Time {
			c.add(faultKey(i, "until"), "%g s is not after the fault's time, %g s", f.Until, f.Time)
		}
		c.faultValue(faultKey(i, "value"), f)
		switch {
		case f.Kind == TurnsShorted:
			c.turns(s, i)
		case f.Kind == CapacitorResistance && s.Supply.bounded():
			c.add(faultKey(i, "kind"), seriesBounded)
		}
	}
}

// turns checks shorted turns, the fault of that index.
func (c *checks) turns(s *Scenario, i int) {
	f := &s.Faults[i]
	if s.Machine.Connection == motor.Delta {
		c.add(faultKey(i, "kind"), "shorted turns drive a current round a delta's three windings, which this model leaves out; give connection = \"star\"")
	}
	for j := range s.Faults[:i] {
		o := &s.Faults[j]
		if o.Kind == TurnsShorted && (o.On(f.Time) || f.On(o.Time)) {
			c.add(faultKey(i, "kind"), "turns are shorted already from %g s on, and one group at a time is modelled; end that one with until, or leave one out", o.Time)
			return
		}
	}
}

func (c *checks) faultValue(key string, f Fault) {
	r := &faultRules[f.Kind]
	switch {
	case !c.finite(key, f.Value):
	case f.Kind == PositionSensorStuck && f.Value != 0 && f.Value != 1:
		c.add(key, "%g is neither 0, stuck low, nor 1, stuck high", f.Value)
	case (f.Kind == PhaseResistance || f.Kind == CapacitorResistance) && f.Value <= 0:
		c.add(key, "%g ohm is not positive; give more than 0", f.Value)
	case r.takes && f.Value < r.least && r.most == math.MaxFloat64:
		c.add(key, "%g is out of range; give %g or more", f.Value, r.least)
	case r.takes && (f.Value < r.least || f.Value > r.most):
		c.add(key, "%g is out of range; give %g to %g", f.Value, r.least, r.most)
	}
}

func (c *checks) run(s *Scenario) {
	w := s.Run
	c.atLeast(0, "run.settle", w.Settle, "s")
	c.positive("run.measure", w.Measure, "s")
	sum, size := 0.0, 0.0
	for _, i := range w.InitialCurrents {
		if !c.finite("run.initial_currents", i) {
			return
		}
		sum += i
		size = max(size, math.Abs(i))
	}
	// Decimal fractions such as 0.1, 0.2, -0.3 miss zero by their rounding.
	if math.Abs(sum) > 1e-9*size {
		c.add("run.initial_currents", "they sum to %g A; the star point is isolated, so give three that sum to 0", sum)
	}
	if n := s.events() * (w.Settle + w.Measure); n > MostEvents {
		c.add("run.measure", "the run would have %.2g switching events; settle and measure less, at most %g events in all", n, MostEvents)
	}
}

// events estimates the number of switching events in a second, those of a rotor that steps the gates or drives the
// diodes among them. Where little happens, the longest strides count as events.
func (s *Scenario) events() float64 {
	g := s.Gating
	turns := max(math.Abs(g.Frequency), math.Abs(s.startSpeed())*float64(s.Machine.PolePairs)/(2*math.Pi))
	switch {
	case g.Kind.NeedsCarrier() && g.Carrier > 0:
		return 6*g.Carrier + 12*turns
	case g.Kind.NeedsCarrier():
		return (6*g.CarrierRatio + 12) * turns
	}
	return max(12*turns, 1/longest)
}
