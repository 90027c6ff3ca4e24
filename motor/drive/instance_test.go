package drive

import (
	"math"

	"pgregory.net/rapid"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor"
)

// between draws a number that is as likely in one decade as in another.
func between(low, high float64) *rapid.Generator[float64] {
	return rapid.Map(rapid.Float64Range(math.Log(low), math.Log(high)), math.Exp)
}

// either draws zero half of the time, else from g.
func either(g *rapid.Generator[float64]) *rapid.Generator[float64] {
	return rapid.OneOf(rapid.Just(0.), g)
}

// anyScenario draws a scenario of any sort that the drive has equations for, with a window of at most some
// hundred events and some thousand time constants.
func anyScenario() *rapid.Generator[Scenario] { return rapid.Custom(drawScenario) }

func drawScenario(t *rapid.T) Scenario {
	s := Scenario{Machine: drawMachine(t), Switches: drawSwitches(t)}
	s.Supply.Voltage = between(5, 800).Draw(t, "V")
	if rapid.Bool().Draw(t, "source") {
		s.Supply.Resistance = between(1e-3, 0.5).Draw(t, "Rs")
		s.Supply.Capacitance = either(between(1e-5, 1e-2)).Draw(t, "C")
	}
	if s.Machine.Kind == motor.PermanentMagnet {
		s.Shaft = drawShaft(t)
	}
	s.Gating = drawGating(t)
	s.Run.Measure = drawLength(t, &s)
	s.Gating.DeadTime = drawDeadTime(t, s.Gating.Settings)
	if rapid.Bool().Draw(t, "started") {
		i := inverter.Vector{Alpha: rapid.Float64Range(-300, 300).Draw(t, "alpha"), Beta: rapid.Float64Range(-300, 300).Draw(t, "beta")}
		s.Run.InitialCurrents = i.ABC()
	}
	for range max(0, rapid.IntRange(-3, 2).Draw(t, "faults")) {
		s.Faults = append(s.Faults, Fault{
			Kind:   FaultKind(rapid.IntRange(int(PhaseOpen), int(PhaseResistance)).Draw(t, "fault")),
			Phase:  inverter.Phase(rapid.IntRange(0, 2).Draw(t, "phase")),
			Switch: inverter.Switch(rapid.IntRange(0, 5).Draw(t, "switch")),
			Time:   rapid.Float64Range(0, s.Run.Measure).Draw(t, "time"),
			Value:  between(1e-3, 2).Draw(t, "value"),
		})
	}
	return s
}

func drawMachine(t *rapid.T) motor.Machine {
	m := motor.Machine{Resistance: either(between(1e-3, 10)).Draw(t, "R"), InductanceD: between(2e-5, 5e-2).Draw(t, "L")}
	m.InductanceQ = m.InductanceD
	if rapid.IntRange(0, 3).Draw(t, "load") == 0 {
		m.Kind = motor.Passive
		return m
	}
	m.PolePairs = rapid.IntRange(1, 8).Draw(t, "p")
	m.FluxLinkage = either(between(5e-3, 0.5)).Draw(t, "psi")
	if rapid.Bool().Draw(t, "salient") {
		m.InductanceQ *= between(0.3, 4).Draw(t, "ratio")
	}
	if rapid.IntRange(0, 3).Draw(t, "connection") == 0 {
		m.Connection = motor.Delta
	}
	return m
}

func drawSwitches(t *rapid.T) Switches {
	if rapid.Bool().Draw(t, "ideal") {
		return Switches{}
	}
	return Switches{
		ChannelThreshold: either(between(0.1, 2)).Draw(t, "Vf"), ChannelResistance: either(between(1e-4, 0.1)).Draw(t, "Rf"),
		DiodeThreshold: either(between(0.1, 3)).Draw(t, "Vd"), DiodeResistance: either(between(1e-4, 0.1)).Draw(t, "Rd"),
		BothWays: rapid.Bool().Draw(t, "both ways"),
	}
}

func drawShaft(t *rapid.T) Shaft {
	sh := Shaft{StartAngle: rapid.Float64Range(-4, 7).Draw(t, "theta")}
	speed := either(rapid.Float64Range(-1500, 1500)).Draw(t, "speed")
	if rapid.Bool().Draw(t, "held") {
		sh.Speed = speed
		return sh
	}
	sh.Free, sh.StartSpeed = true, speed/4
	sh.Inertia = between(1e-4, 1).Draw(t, "J")
	sh.LoadTorque = either(rapid.Float64Range(-20, 20)).Draw(t, "load torque")
	sh.Friction = either(between(1e-5, 0.1)).Draw(t, "friction")
	return sh
}

func drawGating(t *rapid.T) Gating {
	g := Gating{Chop: 1}
	g.Kind = pattern.Kind(rapid.IntRange(int(pattern.SixStep180), int(pattern.ByHand)).Draw(t, "pattern"))
	g.Frequency = either(rapid.Float64Range(-400, 400)).Draw(t, "f")
	g.Phase = rapid.Float64Range(-4, 7).Draw(t, "phase angle")
	g.Modulation = rapid.Float64Range(0, pattern.SixStepModulation).Draw(t, "M")
	if g.Frequency != 0 && rapid.Bool().Draw(t, "synchronous") {
		g.CarrierRatio = rapid.Float64Range(1, 60).Draw(t, "ratio")
	} else {
		g.Carrier = between(200, 20e3).Draw(t, "fc")
	}
	g.Sampling = pattern.Sampling(rapid.IntRange(int(pattern.Default), int(pattern.RegularDouble)).Draw(t, "sampling"))
	g.Duty = rapid.Float64Range(0, 1).Draw(t, "duty")
	for _, p := range inverter.Phases { // none, upper or lower of each leg
		switch rapid.IntRange(0, 2).Draw(t, "leg") {
		case 1:
			g.Hand = g.Hand.With(inverter.High(p))
		case 2:
			g.Hand = g.Hand.With(inverter.Low(p))
		}
	}
	return g
}

// drawLength draws a window that no time constant, turn or carrier makes long to work through.
func drawLength(t *rapid.T, s *Scenario) float64 {
	m := s.Machine.Star()
	r := m.Resistance + s.Supply.Resistance + s.Switches.ChannelResistance + s.Switches.DiodeResistance
	fastest := max(s.events(), r/min(m.InductanceD, m.InductanceQ), math.Abs(s.Shaft.Speed)*float64(m.PolePairs), 10)
	if c := s.Supply.Capacitance; c > 0 {
		fastest = max(fastest, 1/(c*s.Supply.Resistance), 1/math.Sqrt(c*min(m.InductanceD, m.InductanceQ)))
	}
	return rapid.Float64Range(1, 300).Draw(t, "length") / fastest
}

func drawDeadTime(t *rapid.T, g pattern.Settings) float64 {
	if rapid.Bool().Draw(t, "no dead time") {
		return 0
	}
	share := rapid.Float64Range(1e-3, 0.3).Draw(t, "dead time")
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
