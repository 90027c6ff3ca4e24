package duty

import (
	"sextant/inverter/loss"
	"sextant/motor/pair"
)

// A Step is an interval as the machine works it, whatever the bridge's devices.
type Step struct {
	Asked Demand
	Done  pair.State
	// Limited says that less torque is done than is asked; a vehicle's friction brake makes up for what a
	// braking machine cannot.
	Limited bool
	// Lost says that the speed is beyond what the voltage can hold, and no current is commanded.
	Lost bool

	point loss.Point
}

// Seconds returns how long s takes.
func (s *Step) Seconds() float64 { return s.Asked.To - s.Asked.From }

// Work is a cycle as the machine works it.
type Work struct {
	Steps []Step

	Motoring, Braking float64 // energy at the shaft either way, J, both positive
	Copper            float64 // J
	Drag              float64 // of iron and friction, J
	Missing           float64 // asked of the shaft and not done, J
	Friction          float64 // braking asked of the shaft and not done, J
}

// WorkOf returns how a pair meets demands: each with the least current that makes its torque.
func WorkOf(p *pair.Pair, demands []Demand) Work {
	w := Work{Steps: make([]Step, len(demands))}
	for k, d := range demands {
		s := stepOf(p, d)
		dt := s.Seconds()
		if shaft := s.Done.Shaft() * dt; shaft > 0 {
			w.Motoring += shaft
		} else {
			w.Braking -= shaft
		}
		if undone := (d.Torque - s.Done.Torque) * d.Speed * dt; s.Limited && undone > 0 {
			w.Missing += undone
		} else if s.Limited {
			w.Friction -= undone
		}
		w.Copper += s.Done.Copper * dt
		w.Drag += s.Done.Drag * dt
		w.Steps[k] = s
	}
	return w
}

func stepOf(p *pair.Pair, d Demand) Step {
	s := Step{Asked: d}
	var ok bool
	if s.Done, ok = p.Making(d.Torque, d.Speed); !ok {
		s.Limited = true
		if d.Torque >= 0 {
			s.Done, _, ok = p.Most(d.Speed)
		} else {
			s.Done, _, ok = p.Least(d.Speed)
		}
		if !ok { // no torque of that sense, but perhaps none at all
			s.Done, ok = p.Making(0, d.Speed)
		}
		if !ok {
			s.Done, s.Lost = pair.State{Speed: d.Speed}, true
		}
	}
	s.point = p.Asks(&s.Done)
	if s.Lost {
		s.point.Modulation = 0
	}
	return s
}
