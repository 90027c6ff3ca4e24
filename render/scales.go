package render

import (
	"math"

	"sextant/motor/drive"
)

// Scales are the full scales that lanes and arrows are drawn to.
type Scales struct {
	Current float64 // A
	Torque  float64 // N m
	Power   float64 // W
	Voltage float64 // V, between the rails
	Supply  float64 // A, of the source and into the bridge
	EMF     float64 // V, of a winding
	Speed   float64 // rpm
}

// ScalesOf returns full scales for what a record shows: round numbers a little above its largest
// magnitudes, so that they rarely change from one picture to the next.
func ScalesOf(now *drive.Instant, tape []drive.Instant) Scales {
	var s Scales
	s.cover(now)
	for i := range tape {
		s.cover(&tape[i])
	}
	return Scales{
		Current: roundUp(s.Current), Torque: roundUp(s.Torque), Power: roundUp(s.Power),
		Voltage: s.Voltage, Supply: roundUp(s.Supply), EMF: roundUp(s.EMF), Speed: roundUp(s.Speed),
	}
}

// Union returns the larger of each full scale.
func (s Scales) Union(t Scales) Scales {
	return Scales{
		Current: max(s.Current, t.Current), Torque: max(s.Torque, t.Torque), Power: max(s.Power, t.Power),
		Voltage: max(s.Voltage, t.Voltage), Supply: max(s.Supply, t.Supply),
		EMF: max(s.EMF, t.EMF), Speed: max(s.Speed, t.Speed),
	}
}

func (s *Scales) cover(i *drive.Instant) {
	for _, a := range i.Current {
		s.Current = max(s.Current, size(a))
	}
	for _, e := range i.EMF {
		s.EMF = max(s.EMF, size(e))
	}
	s.Speed = max(s.Speed, size(i.RPM()))
	s.Torque = max(s.Torque, size(i.Torque))
	s.Voltage = max(s.Voltage, size(i.Link))
	s.Supply = max(s.Supply, size(i.Supply), size(i.LinkCurrent))
	p := &i.Power
	s.Power = max(s.Power, size(p.Supply), size(p.Bridge), size(p.Copper), size(p.Shaft))
}

func size(x float64) float64 { return math.Abs(finite(x)) }

// roundUp returns the least full scale that is at least x; 0 for 0.
func roundUp(x float64) float64 { return leastOf(x, 1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8) }

// roundStep returns the least step between marks that is at least x.
func roundStep(x float64) float64 { return leastOf(x, 1, 2, 5) }

// leastOf returns the least of the given numbers from 1 to 10 times a power of ten that is at least x.
func leastOf(x float64, of ...float64) float64 {
	if !(x > 0) {
		return 0
	}
	decade := math.Pow(10, math.Floor(math.Log10(x)))
	for _, m := range of {
		if x <= m*decade*(1+1e-9) {
			return m * decade
		}
	}
	return 10 * decade
}

// or returns s with the scales that are 0 chosen from a record.
func (s Scales) or(now *drive.Instant, tape []drive.Instant) Scales {
	if s.Current > 0 && s.Torque > 0 && s.Power > 0 && s.Voltage > 0 && s.Supply > 0 && s.EMF > 0 && s.Speed > 0 {
		return s
	}
	auto := ScalesOf(now, tape)
	for _, f := range []struct {
		to   *float64
		from float64
	}{
		{&s.Current, auto.Current}, {&s.Torque, auto.Torque}, {&s.Power, auto.Power},
		{&s.Voltage, auto.Voltage}, {&s.Supply, auto.Supply}, {&s.EMF, auto.EMF}, {&s.Speed, auto.Speed},
	} {
		if !(*f.to > 0) {
			*f.to = f.from
		}
	}
	return s
}
