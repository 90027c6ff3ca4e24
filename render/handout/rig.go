package handout

import (
	"math"
	"math/rand/v2"
	"strconv"

	"sextant/inverter/pattern"
	"sextant/motor"
	"sextant/motor/drive"
)

// A rig is what values are drawn around: a bridge with its pattern, and what it feeds.
type rig struct {
	kind      pattern.Kind
	supply    float64 // V
	frequency float64 // Hz, of the fundamental
	carrier   float64 // Hz
	current   float64 // A, peak
	speed     float64 // rpm
	machine   motor.Machine
}

// rigOf returns the rig of a scenario whose phase currents are as large as peak, in A.
func rigOf(s *drive.Scenario, peak float64) rig {
	r := rig{
		kind: s.Gating.Kind, supply: s.Supply.Voltage, frequency: math.Abs(s.ElectricalFrequency()), carrier: s.Gating.Carrier,
		current: peak, speed: math.Abs(s.Shaft.Speed) * 30 / math.Pi, machine: s.Machine.Star(),
	}
	if s.Shaft.Free {
		r.speed = math.Abs(s.Shaft.StartSpeed) * 30 / math.Pi
	}
	if r.frequency == 0 {
		r.frequency = 50
	}
	if r.carrier == 0 {
		r.carrier = 8000
		if s.Gating.CarrierRatio > 0 {
			r.carrier = s.Gating.CarrierRatio * r.frequency
		}
	}
	if r.speed == 0 && r.machine.PolePairs > 0 {
		r.speed = 60 * r.frequency / float64(r.machine.PolePairs)
	}
	if r.current < 1e-3 {
		r.current = 10
	}
	return r
}

// turns reports whether there is a magnet that turns.
func (r *rig) turns() bool {
	return r.machine.Kind == motor.PermanentMagnet && r.machine.FluxLinkage > 0 && r.machine.PolePairs > 0
}

// round reports whether the machine has equal inductances.
func (r *rig) round() bool { return r.machine.InductanceD == r.machine.InductanceQ }

// A choice draws a value for a rig.
type choice func(r *rig, rng *rand.Rand) float64

// around draws a value of two figures near one of the rig's.
func around(of func(r *rig) float64) choice {
	return func(r *rig, rng *rand.Rand) float64 { return figures2(of(r) * (0.7 + 0.6*rng.Float64())) }
}

// between draws one of the values from low to high that are a step apart.
func between(low, high, step float64) choice {
	n := int(math.Round((high-low)/step)) + 1
	return func(_ *rig, rng *rand.Rand) float64 {
		return figures4(low + step*float64(rng.IntN(n)))
	}
}

// among draws one of some values.
func among(values ...float64) choice {
	return func(_ *rig, rng *rand.Rand) float64 { return values[rng.IntN(len(values))] }
}

// figures2 and figures4 round to that many significant figures, to the number that their text reads as.
func figures2(x float64) float64 { return parsed(x, 2) }
func figures4(x float64) float64 { return parsed(x, 4) }

func parsed(x float64, n int) float64 {
	y, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'e', n-1, 64), 64)
	return y
}
