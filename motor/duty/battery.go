package duty

import "math"

// A Battery is what the link draws from and gives back to. The zero value takes and gives all that is asked.
type Battery struct {
	Capacity    float64 // J; 0 is without end
	Charge      float64 // at the start, of the capacity
	ChargeLimit float64 // greatest power taken in, W; 0 is no limit
}

// A store is a battery at work.
type store struct {
	Battery
	held, drawn, returned, refused float64 // J
	short                          float64 // J, asked for when empty
}

func (b Battery) full() store { return store{Battery: b, held: b.Charge * b.Capacity} }

// pass takes a power of the link (W, negative where it gives back) for a time (s).
func (s *store) pass(power, dt float64) {
	if power >= 0 {
		s.drawn += power * dt
		s.held -= power * dt
		if s.Capacity > 0 && s.held < 0 {
			s.short -= s.held
			s.held = 0
		}
		return
	}
	offered := -power * dt
	taken := offered
	if s.ChargeLimit > 0 {
		taken = min(taken, s.ChargeLimit*dt)
	}
	if s.Capacity > 0 {
		taken = min(taken, math.Max(0, s.Capacity-s.held))
	}
	s.held += taken
	s.returned += taken
	s.refused += offered - taken
}

// charge returns what is held, of the capacity; 0 where that is without end.
func (s *store) charge() float64 {
	if s.Capacity == 0 {
		return 0
	}
	return s.held / s.Capacity
}
