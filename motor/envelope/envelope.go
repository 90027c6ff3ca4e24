// Package envelope works out what a machine and its bridge can do at which speed, and how much of the power
// arrives.
package envelope

import (
	"math"

	"sextant/motor"
	"sextant/motor/pair"
)

// An Edge is the limits of torque at one speed.
type Edge struct {
	Motoring, Braking           pair.State
	MotoringBound, BrakingBound motor.Region
}

// Marks are the speeds, mechanical in rad/s, at which something changes.
type Marks struct {
	Corner     float64 // up to which the current alone bounds the motoring torque
	Top        float64 // above which there is no motoring torque, drag aside; +Inf if there always is
	Generating float64 // above which the diodes feed the supply whatever the gates do; +Inf without a magnet
}

// MarksOf returns the marks of p.
func MarksOf(p *pair.Pair) Marks {
	m := p.Machine.Star()
	pairs := float64(m.PolePairs)
	top, ok := m.TopSpeed(p.Limit())
	if !ok {
		top = math.Inf(1)
	}
	return Marks{Corner: m.CornerSpeed(p.Limit()) / pairs, Top: top / pairs, Generating: m.GeneratingSpeed(p.Supply, 0) / pairs}
}

// span is how many corner speeds [Marks.Span] shows where no top speed ends them.
const span = 2.5

// Span returns the speed up to which a picture tells the most.
func (m Marks) Span() float64 { return min(m.Top*(1-1e-6), span*m.Corner) }

// EdgeAt returns the limits of torque of p at a speed (rad/s). Where there is no motoring torque, or no
// braking torque, its state is that of no torque, without a current if even that is not to be had.
func EdgeAt(p *pair.Pair, speed float64) Edge {
	var e Edge
	var ok bool
	if e.Motoring, e.MotoringBound, ok = p.Most(speed); !ok || e.Motoring.Torque < 0 {
		e.Motoring = idle(p, speed)
	}
	if e.Braking, e.BrakingBound, ok = p.Least(speed); !ok || e.Braking.Torque > 0 {
		e.Braking = idle(p, speed)
	}
	return e
}

func idle(p *pair.Pair, speed float64) pair.State {
	s, ok := p.Making(0, speed)
	if !ok {
		return pair.State{Speed: speed}
	}
	return s
}

// Speeds returns n speeds from 0 to a greatest one, in even steps.
func Speeds(to float64, n int) []float64 {
	speeds := make([]float64, n)
	for k := range speeds {
		speeds[k] = to * float64(k) / float64(n-1)
	}
	return speeds
}
