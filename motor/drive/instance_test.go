package drive

import (
	"math"
	"math/rand/v2"
	"slices"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor"
)

// A draw makes random scenarios; its seed tells all.
type draw struct{ *rand.Rand }

// scenarioOf returns the scenario of a seed: of any sort that the drive has equations for, with a window of at
// most some hundred events and some thousand time constants.
func scenarioOf(seed uint64) Scenario { return draw{rand.New(rand.NewPCG(seed, 1))}.scenario() }

func (t draw) scenario() Scenario {
	s := Scenario{Machine: t.machine(), Switches: t.switches()}
	s.Supply.Voltage = t.between(5, 800)
	if t.one(2) {
		s.Supply.Resistance = t.between(1e-3, 0.5)
		s.Supply.Capacitance = t.either(t.between(1e-5, 1e-2))
	}
	if s.Machine.Kind == motor.PermanentMagnet {
		s.Shaft = t.shaft()
	}
	s.Gating = t.gating()
	s.Run.Measure = t.length(&s)
	s.Gating.DeadTime = t.deadTime(s.Gating.Settings)
	if t.one(2) {
		s.Run.InitialCurrents = inverter.Vector{Alpha: t.uniform(-300, 300), Beta: t.uniform(-300, 300)}.ABC()
	}
	for range max(0, t.IntN(6)-3) {
		s.Faults = append(s.Faults, Fault{
			Kind: FaultKind(t.IntN(int(PhaseResistance) + 1)), Phase: inverter.Phase(t.IntN(3)), Switch: inverter.Switch(t.IntN(6)),
			Time: t.uniform(0, s.Run.Measure), Value: t.between(1e-3, 2),
		})
	}
	if s.Supply.Capacitance > 0 {
		s.Supply.CapacitorResistance = t.either(t.between(1e-4, 0.5))
	}
	return s
}

// shortedOf returns the scenario of a seed, as followedOf or scenarioOf has it, with turns of a star shorted at a
// time, for good or until another.
func shortedOf(seed uint64) Scenario {
	s := scenarioOf(seed)
	if seed%2 == 0 {
		s = followedOf(seed)
	}
	t := draw{rand.New(rand.NewPCG(seed, 3))}
	return t.shorted(s)
}

func (t draw) shorted(s Scenario) Scenario {
	s.Machine.Connection = motor.Star
	f := Fault{Kind: TurnsShorted, Phase: inverter.Phase(t.IntN(3)), Value: t.between(1e-3, 1)}
	f.Time = t.either(t.uniform(0, s.Run.Measure))
	if t.one(2) {
		f.Until = t.uniform(f.Time, 1.2*s.Run.Measure)
	}
	s.Faults = append(slices.Clone(s.Faults), f)
	return s
}

// followedOf returns the scenario of a seed with a magnet, and of what else the drive has equations for: gating
// that follows sensors or a current, flat-topped EMF, a supply that refuses charge, dry friction, a fan's load.
func followedOf(seed uint64) Scenario {
	return draw{rand.New(rand.NewPCG(seed, 2))}.followed(scenarioOf(seed))
}

func (t draw) followed(s Scenario) Scenario {
	if s.Machine.Kind == motor.Passive {
		s.Machine.Kind, s.Machine.PolePairs = motor.PermanentMagnet, 3
		s.Machine.FluxLinkage = t.between(5e-3, 0.5)
		s.Shaft = t.shaft()
	}
	if t.one(3) {
		s.Machine.EMF, s.Machine.Connection, s.Machine.InductanceQ = motor.Trapezoid, motor.Star, s.Machine.InductanceD
	}
	s.Shaft.Coulomb, s.Shaft.Quadratic = t.either(t.between(1e-2, 10)), t.either(t.between(1e-6, 1e-3))
	if s.Supply.Capacitance > 0 && t.one(2) {
		s.Supply.Refuses, s.Supply.CapacitorResistance = true, 0
	}
	g := &s.Gating
	switch {
	case g.Kind.Stepped():
		g.Follow, g.Advance, g.Carrier, g.CarrierRatio = Rotor, t.uniform(-0.5, 0.5), t.between(500, 20e3), 0
		g.Chop, g.ChopSide, g.DeadTime = 1-t.either(t.Float64()), ChopSide(t.IntN(3)), 0
	case g.Kind.Compares():
		g.Follow, g.Carrier, g.CarrierRatio = Current, t.between(500, 20e3), 0
		g.ID, g.IQ, g.DeadTime = t.uniform(-100, 100), t.uniform(-100, 100), t.either(0.1/(2*g.Carrier))
	}
	s.Run.Measure = t.length(&s)
	for i := range s.Faults {
		s.Faults[i].Time = t.uniform(0, s.Run.Measure)
	}
	return s
}

// one is true once in n times.
func (t draw) one(n int) bool { return t.IntN(n) == 0 }

func (t draw) uniform(low, high float64) float64 { return low + (high-low)*t.Float64() }

// between draws a number that is as likely in one decade as in another.
func (t draw) between(low, high float64) float64 { return low * math.Pow(high/low, t.Float64()) }

// either gives zero half of the time, else x.
func (t draw) either(x float64) float64 {
	if t.one(2) {
		return 0
	}
	return x
}

func (t draw) machine() motor.Machine {
	m := motor.Machine{Resistance: t.either(t.between(1e-3, 10)), InductanceD: t.between(2e-5, 5e-2)}
	m.InductanceQ = m.InductanceD
	if t.one(4) {
		m.Kind = motor.Passive
		return m
	}
	m.PolePairs = 1 + t.IntN(8)
	m.FluxLinkage = t.either(t.between(5e-3, 0.5))
	if t.one(2) {
		m.InductanceQ *= t.between(0.3, 4)
	}
	if t.one(4) {
		m.Connection = motor.Delta
	}
	return m
}

func (t draw) switches() Switches {
	if t.one(2) {
		return Switches{}
	}
	return Switches{
		ChannelThreshold: t.either(t.between(0.1, 2)), ChannelResistance: t.either(t.between(1e-4, 0.1)),
		DiodeThreshold: t.either(t.between(0.1, 3)), DiodeResistance: t.either(t.between(1e-4, 0.1)),
		BothWays: t.one(2),
	}
}

func (t draw) shaft() Shaft {
	sh := Shaft{StartAngle: t.uniform(-4, 7)}
	speed := t.either(t.uniform(-1500, 1500))
	if t.one(2) {
		sh.Speed = speed
		return sh
	}
	sh.Free, sh.StartSpeed = true, speed/4
	sh.Inertia = t.between(1e-4, 1)
	sh.LoadTorque = t.either(t.uniform(-20, 20))
	sh.Friction = t.either(t.between(1e-5, 0.1))
	return sh
}

func (t draw) gating() Gating {
	g := Gating{Chop: 1}
	g.Kind = pattern.Kind(t.IntN(int(pattern.ByHand) + 1))
	g.Frequency = t.either(t.uniform(-400, 400))
	g.Phase = t.uniform(-4, 7)
	g.Modulation = t.uniform(0, pattern.SixStepModulation)
	if g.Frequency != 0 && t.one(2) {
		g.CarrierRatio = t.uniform(1, 60)
	} else {
		g.Carrier = t.between(200, 20e3)
	}
	g.Sampling = pattern.Sampling(t.IntN(int(pattern.RegularDouble) + 1))
	g.Duty = t.uniform(0, 1)
	for _, p := range inverter.Phases { // none, upper or lower of each leg
		switch t.IntN(3) {
		case 1:
			g.Hand = g.Hand.With(inverter.High(p))
		case 2:
			g.Hand = g.Hand.With(inverter.Low(p))
		}
	}
	return g
}

// drawLength draws a window that no time constant, turn or carrier makes long to work through.
func (t draw) length(s *Scenario) float64 {
	m := s.Machine.Star()
	r := m.Resistance + s.Supply.Resistance + s.Switches.ChannelResistance + s.Switches.DiodeResistance
	fastest := max(s.events(), r/min(m.InductanceD, m.InductanceQ), math.Abs(s.Shaft.Speed)*float64(m.PolePairs), 300)
	if c := s.Supply.Capacitance; c > 0 {
		fastest = max(fastest, 1/(c*s.Supply.Resistance), 1/math.Sqrt(c*min(m.InductanceD, m.InductanceQ)))
	}
	return t.uniform(1, 300) / fastest
}

func (t draw) deadTime(g pattern.Settings) float64 {
	if t.one(2) {
		return 0
	}
	share := t.uniform(1e-3, 0.3)
	switch {
	case g.Kind.NeedsCarrier() && g.CarrierRatio > 0:
		return share / (2 * g.CarrierRatio * math.Abs(g.Frequency))
	case g.Kind.NeedsCarrier():
		return share / (2 * g.Carrier)
	case g.Frequency != 0:
		return share / (6 * math.Abs(g.Frequency))
	}
	return 0
}
