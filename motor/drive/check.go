package drive

import (
	"fmt"
	"math"

	"sextant/motor"
)

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
	c.supply(s.Supply)
	c.gating(s)
	c.machine(s.Machine)
	c.shaft(s)
	c.switches(&s.Switches)
	c.faults(s)
	c.run(s)
	return c
}

// checks gathers what is wrong.
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

func (c *checks) notNegative(key string, x float64, unit string) {
	if c.finite(key, x) && x < 0 {
		c.add(key, "%g %s is negative; give 0 or more", x, unit)
	}
}

func (c *checks) positive(key string, x float64, unit string) {
	if c.finite(key, x) && x <= 0 {
		c.add(key, "%g %s is not positive; give more than 0", x, unit)
	}
}

// known reports whether x is of a closed set that ends with last, and says so if not.
func known[T interface {
	~uint8
	fmt.Stringer
}](c *checks, key string, x, last T) bool {
	if x > last {
		c.add(key, "there is no %v", x)
	}
	return x <= last
}

func (c *checks) supply(p Supply) {
	c.notNegative("supply.voltage", p.Voltage, "V")
	c.notNegative("supply.resistance", p.Resistance, "ohm")
	c.notNegative("supply.capacitance", p.Capacitance, "F")
	c.notNegative("supply.start_voltage", p.Start, "V")
	c.notNegative("supply.charge_limit", p.ChargeLimit, "A")
	c.notNegative("supply.capacitor_resistance", p.CapacitorResistance, "ohm")
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

func (c *checks) machine(m motor.Machine) {
	known(c, "machine.kind", m.Kind, motor.Passive)
	known(c, "machine.connection", m.Connection, motor.Delta)
	known(c, "machine.emf", m.EMF, motor.Trapezoid)
	c.notNegative("machine.resistance", m.Resistance, "ohm")
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
	c.notNegative("machine.flux_linkage", m.FluxLinkage, "Wb")
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
	c.notNegative("shaft.friction", h.Friction, "N m s/rad")
	c.notNegative("shaft.coulomb_friction", h.Coulomb, "N m")
	c.notNegative("shaft.quadratic_load", h.Quadratic, "N m s2/rad2")
	switch {
	case h.Free && s.Machine.Kind == motor.Passive:
		c.add("shaft.free", "a passive load has no shaft; leave it out")
	case h.Free:
		c.positive("shaft.inertia", h.Inertia, "kg m2")
	default:
		c.notNegative("shaft.inertia", h.Inertia, "kg m2")
	}
}

func (c *checks) switches(s *Switches) {
	c.notNegative("switches.channel_threshold", s.ChannelThreshold, "V")
	c.notNegative("switches.channel_resistance", s.ChannelResistance, "ohm")
	c.notNegative("switches.diode_threshold", s.DiodeThreshold, "V")
	c.notNegative("switches.diode_resistance", s.DiodeResistance, "ohm")
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
