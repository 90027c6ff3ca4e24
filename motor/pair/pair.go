// Package pair joins a machine to the bridge that feeds it and answers, for a speed and a torque in the steady
// state, which current serves, what voltage it takes, and what that asks of the bridge.
//
// What is assumed: the phase currents are sines, of the fundamental alone; the bridge's own drops take nothing
// off the voltage; iron and friction take a torque of the shaft, [Pair.Drag] and [Pair.DragSlope], and no current
// of their own.
package pair

import (
	"math"

	"sextant/inverter/loss"
	"sextant/inverter/pattern"
	"sextant/motor"
)

// A Pair is a machine with a bridge and its supply.
type Pair struct {
	Machine    motor.Machine // a permanent-magnet one
	Supply     float64       // V
	Current    float64       // greatest peak of a phase's current, A
	Modulation float64       // greatest index, up to the pattern's linear limit
	Pattern    pattern.Kind  // one with a carrier
	Carrier    float64       // Hz
	DeadTime   float64       // s

	// What iron and friction take of the torque at any speed, in N m, and more with each rad/s, in N m s/rad.
	// Hysteresis and bearings cost a torque that hardly changes with speed, eddy currents one that grows with
	// it (common practice).
	Drag, DragSlope float64
}

// drag returns the torque against the motion at a speed.
func (p *Pair) drag(speed float64) float64 {
	if speed == 0 {
		return 0
	}
	return math.Copysign(p.Drag, speed) + p.DragSlope*speed
}

// Limit returns what bounds p's machine.
func (p *Pair) Limit() motor.Limit {
	return motor.Limit{Voltage: p.Modulation * p.Supply / 2, Current: p.Current}
}

// A State is a steady state of a pair.
type State struct {
	Speed   float64  // mechanical, rad/s
	Torque  float64  // at the shaft, N m
	Current motor.DQ // A
	Voltage motor.DQ // V
	Copper  float64  // heat, W
	Drag    float64  // heat of iron and friction, W
}

// Shaft returns the power to the shaft in W, negative where the machine brakes.
func (s *State) Shaft() float64 { return s.Torque * s.Speed }

// Terminals returns the power into the machine's terminals in W, negative where it generates.
func (s *State) Terminals() float64 { return s.Shaft() + s.Copper + s.Drag }

// At returns the state of p with a current (A) at a mechanical speed (rad/s).
func (p *Pair) At(i motor.DQ, speed float64) State {
	m := p.Machine.Star()
	drag := p.drag(speed)
	return State{
		Speed: speed, Torque: m.Torque(i) - drag, Drag: drag * speed, Current: i, Voltage: m.Voltage(i, speed*float64(m.PolePairs)),
		Copper: 1.5 * m.Resistance * (i.D*i.D + i.Q*i.Q),
	}
}

// Most returns the state of most torque in the positive sense at a speed, which is negative where that brakes,
// and what bounds it; ok is false where the machine makes none.
func (p *Pair) Most(speed float64) (s State, bound motor.Region, ok bool) {
	m := p.Machine.Star()
	i, bound, ok := m.MostTorque(p.Limit(), speed*float64(m.PolePairs))
	return p.At(i, speed), bound, ok
}

// Least returns the state of most torque in the negative sense, as [Pair.Most].
func (p *Pair) Least(speed float64) (s State, bound motor.Region, ok bool) {
	s, bound, ok = p.Most(-speed)
	return p.At(motor.DQ{D: s.Current.D, Q: -s.Current.Q}, speed), bound, ok
}

// Making returns the state that makes a torque with the least current at a speed; ok is false where it is not
// to be had.
func (p *Pair) Making(torque, speed float64) (s State, ok bool) {
	m := p.Machine.Star()
	i, ok := m.LeastCurrent(p.Limit(), speed*float64(m.PolePairs), torque+p.drag(speed))
	s = p.At(i, speed)
	if ok {
		s.Torque = torque // but for rounding
	}
	return s, ok
}

// Asks returns what s asks of the bridge. Temperatures are left to set.
func (p *Pair) Asks(s *State) loss.Point {
	lag := math.Atan2(s.Voltage.Q, s.Voltage.D) - math.Atan2(s.Current.Q, s.Current.D)
	if s.Speed < 0 {
		lag = -lag // seen in the sense that the field turns
	}
	return loss.Point{
		Pattern: p.Pattern, Supply: p.Supply, Carrier: p.Carrier, DeadTime: p.DeadTime,
		Current:    math.Hypot(s.Current.D, s.Current.Q),
		Modulation: math.Hypot(s.Voltage.D, s.Voltage.Q) / (p.Supply / 2),
		Lag:        math.Remainder(lag, 2*math.Pi),
		Frequency:  math.Abs(s.Speed) * float64(p.Machine.PolePairs) / (2 * math.Pi),
	}
}
