package diagnosis_test

import (
	"math"
	"math/rand/v2"

	"sextant/inverter/pattern"
	"sextant/motor"
	"sextant/motor/drive"
)

// A rig is an invented machine and bridge at their ratings.
type rig struct {
	machine motor.Machine
	voltage float64 // V
	current float64 // A, peak
	speed   float64 // rpm
	carrier float64 // Hz
}

// The rigs: the hillside hauler, the classroom trainer, and a machine with more saliency than either.
var rigs = []rig{
	{motor.Machine{PolePairs: 4, Resistance: 0.02, InductanceD: 0.2e-3, InductanceQ: 0.2e-3, FluxLinkage: 0.08}, 350, 250, 4000, 8000},
	{motor.Machine{PolePairs: 2, Resistance: 0.4, InductanceD: 1.2e-3, InductanceQ: 1.2e-3, FluxLinkage: 0.08}, 48, 12, 2400, 10000},
	{motor.Machine{PolePairs: 3, Resistance: 0.15, InductanceD: 0.9e-3, InductanceQ: 2.1e-3, FluxLinkage: 0.12}, 400, 60, 3000, 6000},
}

// A mode is how a drive on the bench is commanded.
type mode string

const (
	byClock   mode = "clock"         // a carrier pattern at a held speed
	bySixStep mode = "clock, 180"    // six-step-180 at a held speed
	intoCoils mode = "clock, coils"  // resistance and inductance alone
	byCurrent mode = "current"       // field-oriented, held speed
	freely    mode = "current, free" // field-oriented, changing speed
	byRotor   mode = "rotor"         // position sensors, six-step-120, held speed
	runaway   mode = "rotor, free"   // the same, changing speed
)

var modes = []mode{byClock, bySixStep, intoCoils, byCurrent, freely, byRotor, runaway}

func (m mode) controlled() bool { return m == byCurrent || m == freely }
func (m mode) free() bool       { return m == freely || m == runaway }

// An operation is where a rig works: 10 to 100 % of its current and 5 to 100 % of its speed, either way.
type operation struct {
	rig   rig
	mode  mode
	load  float64 // part of the rated current
	share float64 // part of the rated speed
	sense float64 // +1 motoring, -1 generating

	current   float64 // A, peak
	speed     float64 // mechanical, rad/s
	omega     float64 // electrical, rad/s
	voltage   motor.DQ
	impedance float64 // Ω, of a phase
}

func draw(r *rand.Rand, m mode) operation {
	o := operation{rig: rigs[r.IntN(len(rigs))], mode: m, load: 0.1 + 0.9*r.Float64(), share: 0.05 + 0.95*r.Float64(), sense: float64(1 - 2*r.IntN(2))}
	if m == intoCoils {
		o.sense = 1
	}
	x := o.rig.machine
	o.current = o.load * o.rig.current
	o.speed = o.share * o.rig.speed * math.Pi / 30
	o.omega = o.speed * float64(x.PolePairs)
	o.voltage = x.Voltage(motor.DQ{Q: o.sense * o.current}, o.omega)
	o.impedance = math.Hypot(x.Resistance, o.omega*math.Sqrt(x.InductanceD*x.InductanceQ))
	return o
}

func (o *operation) hz() float64 { return o.omega / (2 * math.Pi) }

// scenario returns the healthy drive at o. What o does not say is drawn: pattern, dead time, drops,
// bandwidth, chopping, the shape of the EMF.
func (o *operation) scenario(r *rand.Rand) drive.Scenario {
	kinds := []pattern.Kind{pattern.SineTriangle, pattern.ThirdHarmonic, pattern.SpaceVector, pattern.Clamped60, pattern.Clamped30, pattern.ClampedLow}
	s := drive.Scenario{
		Supply:  drive.Supply{Voltage: o.rig.voltage},
		Machine: o.rig.machine,
		Shaft:   drive.Shaft{Speed: o.speed},
	}
	s.Gating.Kind, s.Gating.Carrier = kinds[r.IntN(len(kinds))], o.rig.carrier
	length := math.Hypot(o.voltage.D, o.voltage.Q)
	switch o.mode {
	case byClock, bySixStep:
		o.clock(r, &s, length)
	case intoCoils:
		o.coils(r, &s)
	case byCurrent, freely:
		g := &s.Gating
		g.Follow, g.IQ = drive.Current, o.sense*o.current
		g.DeadTime = 2e-6 * r.Float64()
		g.Bandwidth = o.rig.carrier / 20 * (0.2 + 0.8*r.Float64())
		s.Supply.Voltage = max(s.Supply.Voltage, 2.1*length)
	case byRotor, runaway:
		o.sensors(r, &s)
	}
	if o.mode != byClock && o.mode != bySixStep && r.IntN(2) == 0 { // there the drops would set the current
		s.Switches = o.drops(r)
	}
	if o.mode.free() {
		o.release(r, &s)
	}
	tau := max(s.Machine.InductanceD, s.Machine.InductanceQ) / s.Machine.Resistance
	s.Run.Settle = max(2/o.hz(), min(5*tau, 20/o.hz()))
	if o.mode.controlled() {
		s.Run.Settle = max(1.2/o.hz(), 5/(2*math.Pi*s.Gating.Bandwidth))
	}
	s.Run.Measure = turnsKept / o.hz()
	return s
}

func (o *operation) clock(r *rand.Rand, s *drive.Scenario, length float64) {
	g := &s.Gating
	g.Frequency, g.Phase = o.hz(), math.Atan2(o.voltage.Q, o.voltage.D)
	g.Modulation = 2 * length / s.Supply.Voltage
	if g.Modulation > 1 || g.Modulation < 0.04 {
		g.Modulation = 0.5 + 0.5*r.Float64()
		s.Supply.Voltage = 2 * length / g.Modulation
	}
	if o.mode == bySixStep {
		g.Kind, g.Carrier = pattern.SixStep180, 0
		s.Supply.Voltage = length * math.Pi / 2
	}
}

// coils makes a passive load that draws the current at a drawn power factor; its leads may be crossed.
func (o *operation) coils(r *rand.Rand, s *drive.Scenario) {
	g := &s.Gating
	factor := 0.15 + 0.8*r.Float64()
	g.Modulation = 0.3 + 0.7*r.Float64()
	g.Frequency, g.Phase, g.DeadTime = o.hz(), 2*math.Pi*r.Float64(), 2e-6*r.Float64()
	o.impedance = g.Modulation * s.Supply.Voltage / 2 / o.current
	l := o.impedance * math.Sqrt(1-factor*factor) / o.omega
	s.Machine = motor.Machine{Kind: motor.Passive, Resistance: o.impedance * factor, InductanceD: l, InductanceQ: l}
	s.Shaft = drive.Shaft{}
	if r.IntN(4) == 0 {
		kinds := []pattern.Kind{pattern.SixStep180, pattern.SixStep120, pattern.TwelveStep150}
		g.Kind, g.Carrier, g.DeadTime = kinds[r.IntN(len(kinds))], 0, 0
	}
	if r.IntN(4) == 0 {
		s.Faults = append(s.Faults, drive.Fault{Kind: drive.PhaseSwap})
	}
}

// sensors commands by position sensors, at a supply that drives the current against the EMF.
func (o *operation) sensors(r *rand.Rand, s *drive.Scenario) {
	g, m := &s.Gating, &s.Machine
	g.Follow, g.Kind, g.Chop, g.Carrier = drive.Rotor, pattern.SixStep120, 1, 0
	if r.IntN(2) == 0 {
		m.EMF, m.InductanceQ = motor.Trapezoid, m.InductanceD
	}
	// The EMF between the two phases that conduct, mean over their 60 degrees.
	flat := math.Sqrt(3) * o.omega * m.FluxLinkage * 3 / math.Pi
	s.Supply.Voltage = max(flat+o.sense*2.2*m.Resistance*o.current, 0.3*flat)
	if o.sense > 0 && r.IntN(2) == 0 {
		g.Chop, g.Carrier = 0.5+0.5*r.Float64(), o.rig.carrier
		s.Supply.Voltage /= g.Chop
		g.ChopSide = []drive.ChopSide{drive.ChopHigh, drive.ChopLow, drive.ChopBoth}[r.IntN(3)]
	}
}

func (o *operation) drops(r *rand.Rand) drive.Switches {
	v, i := o.rig.voltage, o.rig.current
	return drive.Switches{ChannelThreshold: 0.003 * v, DiodeThreshold: 0.004 * v,
		ChannelResistance: 0.004 * v / i, DiodeResistance: 0.003 * v / i, BothWays: r.IntN(2) == 0}
}

// release lets the shaft change its speed by 2 to 25 % over the window, three tenths of the torque being left
// over.
func (o *operation) release(r *rand.Rand, s *drive.Scenario) {
	torque := o.rig.machine.Torque(motor.DQ{Q: o.sense * o.current})
	change, left := 0.02+0.23*r.Float64(), 0.3*(2*r.Float64()-1)
	s.Shaft = drive.Shaft{Free: true, StartSpeed: o.speed, LoadTorque: torque * (1 - left),
		Inertia: 0.3 * math.Abs(torque) * turnsKept / o.hz() / (change * o.speed)}
}
